"""The fixture that watches over every other test of the window is itself shown to see what it must see."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest_plugins = ["pytester"]

ROOT = Path(__file__).resolve().parents[2]

WATCHED = "from tests.app.conftest import nothing_left, own_settings"

CARELESS = """
import os, sys, threading, types
from PySide6.QtCore import QThread, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QMainWindow, QWidget

kept = []

def test_tidy():
    window = QMainWindow()
    QTimer(window).start(10)
    window.show()

def test_window():
    kept.append(QWidget())
    kept[-1].destroyed.connect(lambda: kept.append(QDialog()))
    kept[-1].show()

def test_timer():
    kept.append(QTimer())
    kept[-1].start(10)

def test_thread():
    kept.append(threading.Event())
    threading.Thread(target=kept[-1].wait, name="waiting", daemon=True).start()

def test_qt_thread():
    kept[-1].set()
    kept.append(QThread(objectName="spinning"))
    kept[-1].start()

def test_error():
    kept[-1].quit()
    kept[-1].wait()
    sys.modules["app.messages"] = types.SimpleNamespace(unhandled=["a slot stumbled"])

def test_starts_clean():
    assert not QApplication.topLevelWidgets()
    assert sys.modules["app.messages"].unhandled == []
    assert "pytest" in os.environ["XDG_CONFIG_HOME"]
"""


def test_what_a_test_leaves_behind_fails_it_by_name(pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> None:
    """A window, timer, thread or swallowed error left by a test is an error of that test, and not of the next one."""
    monkeypatch.setenv("PYTHONPATH", str(ROOT))
    pytester.makeconftest(WATCHED)
    pytester.makepyfile(CARELESS)
    result = pytester.runpytest_subprocess("-p", "no:randomly", "-p", "no:cacheprovider")
    result.assert_outcomes(passed=7, errors=5)
    result.stdout.fnmatch_lines([
        "*AssertionError: left behind: *QDialog*",
        "*AssertionError: left behind: *QTimer*",
        "*AssertionError: left behind: *waiting*",
        "*AssertionError: left behind: *QThread*spinning*",
        "*AssertionError: left behind: a slot stumbled*",
    ])  # fmt: skip
