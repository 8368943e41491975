"""`python -m tests`: every check of the project, the quick ones first, stopping at the first that fails."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PYTEST = (sys.executable, "-m", "pytest")


@dataclass(frozen=True, slots=True)
class Check:
    """A heading and the command that is run under it."""

    heading: str
    command: tuple[str, ...]


CHECKS = (
    Check("Style", (sys.executable, "-m", "ruff", "check", ".")),
    Check("Layout of the code", (sys.executable, "-m", "ruff", "format", "--check", ".")),
    Check("Types", (sys.executable, "-m", "mypy", "--strict")),
    Check("Layers", (str(Path(sys.executable).with_name("lint-imports")), "--no-logo")),
    Check("Core, where Qt cannot be imported", (*PYTEST, "-p", "no:pytest-qt", "-p", "tests.without_qt")),
    Check("Window", (*PYTEST, "tests/app")),
)
"""The core's tests are all that `tests.without_qt` leaves: those outside tests/app."""

JOURNEYS = ("tests/app/test_journeys.py", "tests/app/test_journey_by_keys.py")
ON_A_SCREEN = Check(
    "Journeys, on a screen",
    ("xvfb-run", "-a", "-s", "-screen 0 1920x1080x24", "env", "QT_QPA_PLATFORM=xcb", *PYTEST, "-q", *JOURNEYS),
)
"""Once more where there is a screen that can be had for nothing."""


def run(check: Check) -> int:
    """Run one check in a process of its own, without a screen; its exit status."""
    print(f"\n== {check.heading} ==", flush=True)
    screenless = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    return subprocess.run(check.command, cwd=ROOT, env=screenless, check=False).returncode


def main() -> int:
    """0 when every check passed, else the exit status of the one that did not."""
    on_a_screen = (ON_A_SCREEN,) if shutil.which("xvfb-run") else ()
    return next((status for check in (*CHECKS, *on_a_screen) if (status := run(check))), 0)


if __name__ == "__main__":
    sys.exit(main())
