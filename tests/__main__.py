"""`python -m tests`: every check of the project, the quick ones first, stopping at the first that fails."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.covered import CORE_TESTS, WINDOW_TESTS, listed
from tests.side_by_side import Check, run

PYTEST = (sys.executable, "-m", "pytest")
COUNTED = (sys.executable, "-m", "coverage", "run", f"--include={','.join(listed())}")
WITHOUT_QT = ("-p", "no:pytest-qt", "-p", "tests.without_qt")


def without(tests: Sequence[str]) -> list[str]:
    """What keeps pytest from running tests that were run already."""
    return [f"--ignore={path}" for path in tests]


COUNTING = (
    Check("File and geometry, branches counted", (*COUNTED, "-m", "pytest", *WITHOUT_QT, *CORE_TESTS)),
    Check("Keeping of work, branches counted", (*COUNTED, "--append", "-m", "pytest", *WINDOW_TESTS)),
)
"""One after the other, as the second adds to the count of the first."""
QUICK = (
    Check("Style", (sys.executable, "-m", "ruff", "check", ".")),
    Check("Layout of the code", (sys.executable, "-m", "ruff", "format", "--check", ".")),
    Check("Types", (sys.executable, "-m", "mypy", "--strict")),
    Check("Layers", (str(Path(sys.executable).with_name("lint-imports")), "--no-logo")),
    *COUNTING,
    Check("Every branch of tests/fully_covered.txt", (sys.executable, "-m", "tests.covered")),
)
LONG = (
    Check("Core, where Qt cannot be imported", (*PYTEST, *WITHOUT_QT, *without(CORE_TESTS))),
    Check("Window", (*PYTEST, "tests/app", *without(WINDOW_TESTS))),
)
"""The core's tests are all that `tests.without_qt` leaves: those outside tests/app. Each test is run once."""

JOURNEYS = tuple(f"tests/app/test_{name}.py" for name in ("journeys", "journey_new_client", "journey_by_keys"))
ON_A_SCREEN = Check(
    "Journeys, on a screen",
    ("xvfb-run", "-a", "-s", "-screen 0 1920x1080x24", "env", "QT_QPA_PLATFORM=xcb", *PYTEST, "-q", *JOURNEYS),
)
"""Once more where there is a screen that can be had for nothing."""

INTERRUPTED = 130
"""The exit status by which a shell knows a Ctrl-C."""


def main() -> int:
    """0 when every check passed, else the exit status of the one that did not."""
    on_a_screen = [(ON_A_SCREEN,)] if shutil.which("xvfb-run") else []
    together = [*((check,) for check in QUICK), LONG, *on_a_screen]
    try:
        return next((status for checks in together if (status := run(*checks))), 0)
    except KeyboardInterrupt:
        return INTERRUPTED


if __name__ == "__main__":
    sys.exit(main())
