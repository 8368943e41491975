"""The modules of which every branch is reached by their own tests: `python -m tests.covered` names what is not.

Which they are stands in `tests/fully_covered.txt`, a list that only grows. `python -m tests` runs their tests under
coverage.py, with nothing left out of the count: no line of the program may ask for that.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Final

from coverage import Coverage

ROOT: Final = Path(__file__).resolve().parent.parent
LIST: Final = ROOT / "tests" / "fully_covered.txt"
CORE_TESTS: Final = ("tests/core/file", "tests/core/geometry")
WINDOW_TESTS: Final = (
    "tests/app/test_autosave.py",
    "tests/app/test_document_lock.py",
    "tests/app/test_window_background.py",
)


def listed() -> list[str]:
    """The paths of the modules, from the root."""
    return LIST.read_text(encoding="utf-8").split()


def main() -> int:
    """0 when every branch of every module was reached by the tests before, else 1, and the lines are printed."""
    counted = Coverage()
    counted.load()
    measured = counted.get_data().measured_files()
    unseen = [name for name in listed() if str(ROOT / name) not in measured]
    if unseen:
        sys.stdout.write(f"Never imported by the tests of tests/covered.py: {', '.join(unseen)}\n")
        return 1
    share = counted.report(include=[str(ROOT / name) for name in listed()], show_missing=True, skip_covered=True)
    if share < 100.0:
        sys.stdout.write("Write the tests that reach these lines, or delete the lines that nothing can reach.\n")
    return int(share < 100.0)


if __name__ == "__main__":
    sys.exit(main())
