from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

IMPORT_ALL = """
from tests import without_qt
import importlib, pkgutil, core
for module in pkgutil.walk_packages(core.__path__, "core."):
    importlib.import_module(module.name)
    print(module.name)
assert not without_qt.imported_qt()
"""


def test_every_module_of_the_core_is_imported_where_qt_cannot_be() -> None:
    """Nothing in the core needs Qt, not even a module that no test imports."""
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL], cwd=ROOT, capture_output=True, text=True, check=False, encoding="utf-8"
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert {"core.errors", "core.geometry.planar"} <= set(done.stdout.split())


def test_qt_is_really_shut_out() -> None:
    """The check above would mean nothing if Qt could be imported all the same."""
    importing = "from tests import without_qt\nfrom PySide6 import QtCore"
    done = subprocess.run(
        [sys.executable, "-c", importing], cwd=ROOT, capture_output=True, text=True, check=False, encoding="utf-8"
    )
    assert done.returncode == 1
    assert "PySide6 is shut out of this process" in done.stderr
