"""How property tests are run, and that what every step makes is measured once more (`core/pieces/proof.py`)."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, Phase, settings

# Before anything of the program is imported, which looks once.
os.environ["SHEERWRIGHT_PROOF"] = "on"

# No deadline, nor a limit to how long drawing may take: a busy machine would fail a test that is right. In CI the
# examples are the same at every run, so that a change is never blamed for an example that was drawn by chance; at the
# desk new ones are drawn each time.
settings.register_profile("desk", deadline=None, suppress_health_check=[HealthCheck.too_slow], max_examples=50)
settings.register_profile("ci", settings.get_profile("desk"), derandomize=True, database=None)
# Under a mutated program few examples must do, and the first that fails: finding the smallest takes most of the time.
settings.register_profile(
    "mutants", settings.get_profile("ci"), max_examples=20, phases=[Phase.explicit, Phase.generate]
)
settings.load_profile("ci" if os.environ.get("CI") else "desk")
