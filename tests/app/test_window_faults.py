"""The program's own faults reach the user once, in a sentence, and never as a trace on the screen."""

from __future__ import annotations

import importlib
import pkgutil
import traceback
from types import FunctionType
from typing import TYPE_CHECKING, NoReturn

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QMessageBox, QWidget

import app
from app import messages
from app.panels.entry_row import EntryField
from tests.app.at_window import dialog, found, opened, press

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

CONTROL = Qt.KeyboardModifier.ControlModifier


def fail(*_args: object) -> NoReturn:
    """A fault in the program."""
    raise ZeroDivisionError("a fault for the test")


def boxes() -> int:
    """How many boxes tell of a fault."""
    return sum(w.accessibleName() == "Fault" and w.isVisible() for w in QApplication.topLevelWidgets())


def test_a_fault_is_said_once_and_its_details_are_copied(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault behind every key gives one box: a sentence without a trace, and a button that copies the trace."""
    window = opened(qtbot)
    field = found(QLineEdit, "bust", window)
    monkeypatch.setattr(EntryField, "_is_history", fail)
    for _ in range(3):
        QTest.keyClick(field, Qt.Key.Key_Z, CONTROL)
    box = dialog(qtbot, "Fault")
    assert isinstance(box, QMessageBox)
    assert boxes() == 1
    words = box.text() + box.informativeText() + box.detailedText()
    assert "save your design" in words
    assert "Traceback" not in words
    assert "ZeroDivisionError" not in words
    press("Copy details", box)
    assert "ZeroDivisionError: a fault for the test" in QGuiApplication.clipboard().text()
    qtbot.waitUntil(lambda: boxes() == 0)
    QTest.keyClick(field, Qt.Key.Key_Z, CONTROL)
    QApplication.processEvents()
    assert boxes() == 0
    assert messages.unhandled
    messages.unhandled.clear()


def test_the_log_holds_neither_measurements_nor_names(caplog: pytest.LogCaptureFixture) -> None:
    """It says where the program failed and by what kind of error; the message, the folders and her names stay out."""
    try:
        float("Marguerite has a bust of 965.2 mm\nWaist: 700 mm")
    except ValueError as error:
        message = f"{error} {error.args}\nWaist: 700 mm"
        messages.record(traceback.format_exc().replace("tests/app", "home/marguerite") + message)
    messages.unhandled.clear()
    (entry,) = caplog.records
    words = entry.getMessage()
    assert "test_window_faults.py:" in words
    assert words.endswith("test_the_log_holds_neither_measurements_nor_names\nValueError")
    assert not any(word in words.casefold() for word in ("marguerite", "965", "700", "home"))
    assert messages.without_values("") == ""


def test_a_fault_while_a_dialog_is_open_is_said_over_it(qtbot: QtBot) -> None:
    """The box can be answered though another dialog holds the keyboard."""
    window = opened(qtbot)
    window.desk.files.new()
    first = dialog(qtbot, "New client")
    messages.record("ZeroDivisionError")
    box = dialog(qtbot, "Fault")
    assert box.parent() is first
    press("Close", box)
    qtbot.waitUntil(lambda: boxes() == 0)
    messages.unhandled.clear()


NOT_CALLED_BY_QT = {"setText", "clear"}
"""No virtual functions (Qt's headers of QLineEdit): a fault in them reaches the program's own caller."""


def unguarded(cls: type) -> list[str]:
    """The methods of a class that stand in the place of one of Qt's and would let an exception through to it."""
    bases = [base for base in cls.__mro__ if base.__module__.startswith("PySide6")]
    methods = {name: held for name, held in vars(cls).items() if isinstance(held, FunctionType)}
    overrides = [name for name in methods if name[0] != "_" and any(name in vars(base) for base in bases)]
    return [name for name in overrides if not hasattr(methods[name], "__wrapped__") and name not in NOT_CALLED_BY_QT]


def test_every_override_is_guarded() -> None:
    """Whatever class of the program Qt calls into: what goes wrong there is recorded, and Qt gets an answer."""
    names = [module.name for module in pkgutil.walk_packages(app.__path__, "app.")]
    classes = [
        held
        for name in names
        for held in vars(importlib.import_module(name)).values()
        if isinstance(held, type) and held.__module__ == name
    ]
    assert len(classes) > 150
    assert {cls.__name__: found for cls in classes if (found := unguarded(cls))} == {}


def test_the_search_finds_an_override() -> None:
    """One that is not guarded, beside one that is."""

    class Bare(QWidget):
        def event(self, event: QEvent) -> bool:
            return bool(event)

        @messages.guard(None)
        def update(self) -> None: ...  # type: ignore[override] # narrower than Qt's, and never called

    assert unguarded(Bare) == ["event"]
