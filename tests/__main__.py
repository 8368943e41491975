"""`python -m tests`: every check of the project, the quick ones first, stopping at the first that fails."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.covered import CORE_TESTS, ROOT, WINDOW_TESTS, listed

PYTEST = (sys.executable, "-m", "pytest")
COUNTED = (sys.executable, "-m", "coverage", "run", f"--include={','.join(listed())}")
WITHOUT_QT = ("-p", "no:pytest-qt", "-p", "tests.without_qt")


def without(tests: Sequence[str]) -> list[str]:
    """What keeps pytest from running tests that were run already."""
    return [f"--ignore={path}" for path in tests]


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
    Check("File and geometry, branches counted", (*COUNTED, "-m", "pytest", *WITHOUT_QT, *CORE_TESTS)),
    Check("Keeping of work, branches counted", (*COUNTED, "--append", "-m", "pytest", *WINDOW_TESTS)),
    Check("Every branch of tests/fully_covered.txt", (sys.executable, "-m", "tests.covered")),
    Check("Core, where Qt cannot be imported", (*PYTEST, *WITHOUT_QT, *without(CORE_TESTS))),
    Check("Window", (*PYTEST, "tests/app", *without(WINDOW_TESTS))),
)
"""The core's tests are all that `tests.without_qt` leaves: those outside tests/app. Each test is run once."""

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
