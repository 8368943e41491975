"""A pytest plugin under which Qt cannot be imported: `pytest -p no:pytest-qt -p tests.without_qt`.

Importing this module is enough to shut Qt out of a process.
"""

from __future__ import annotations

import sys
from importlib.abc import MetaPathFinder
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from importlib.machinery import ModuleSpec
    from types import ModuleType

    import pytest

QT = ("PySide6", "shiboken6")
"""The packages that are Qt to Python."""


class NoQt(MetaPathFinder):
    """Asked before every other finder; refuses Qt as if it were not installed and leaves the rest to them."""

    def find_spec(self, fullname: str, *_: Sequence[str] | ModuleType | None) -> ModuleSpec | None:
        """ModuleNotFoundError for Qt's packages and all that lies in them, else None."""
        if fullname.partition(".")[0] in QT:
            raise ModuleNotFoundError(f"{fullname} is shut out of this process", name=fullname)
        return None


def imported_qt() -> list[str]:
    """The Qt packages that this process has imported."""
    return [name for name in QT if name in sys.modules]


def pytest_addoption(parser: pytest.Parser) -> None:
    """Know pytest-qt's settings, which stand in the one configuration, though the plugin itself is left out."""
    for name in ("qt_api", "qt_log_level_fail", "qt_log_ignore"):
        parser.addini(name, "a setting of pytest-qt; without effect here", type="linelist")


def pytest_ignore_collect(collection_path: Path) -> bool | None:
    """Leave out the window's tests."""
    return True if collection_path == Path(__file__).parent / "app" else None


if early := imported_qt():
    raise RuntimeError(f"{', '.join(early)} was imported before it could be shut out")
sys.meta_path.insert(0, NoQt())
