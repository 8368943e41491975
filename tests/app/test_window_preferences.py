"""Preferences: each is taken at once and remembered; none of them is part of the design."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QWidget
from pytestqt.qtbot import QtBot

from app import settings
from app.__main__ import make_window
from app.window.main_window import MainWindow
from core.outputs.papers import PAPERS


@pytest.fixture
def window(qtbot: QtBot) -> MainWindow:
    """A window with its preferences open."""
    made = make_window(demo=True)
    qtbot.addWidget(made)
    made.show()
    made.bars.actions["preferences"].trigger()
    return made


def dialog() -> QWidget:
    """The open preferences."""
    return next(w for w in QApplication.topLevelWidgets() if w.accessibleName() == "Preferences" and w.isVisible())


def choose(name: str, words: str) -> None:
    """Choose a row of a box by the keyboard."""
    box = next(found for found in dialog().findChildren(QComboBox) if found.accessibleName() == name)
    box.setFocus()
    for _ in range(box.count()):
        QTest.keyClick(box, Qt.Key.Key_Up)
    for _ in range(box.findText(words)):
        QTest.keyClick(box, Qt.Key.Key_Down)
    assert box.currentText() == words


def tick(words: str) -> None:
    """Turn a box with the space bar."""
    box = next(found for found in dialog().findChildren(QCheckBox) if found.accessibleName() == words)
    QTest.keyClick(box, Qt.Key.Key_Space)


def test_what_new_designs_begin_with_is_remembered(window: MainWindow) -> None:
    """Unit and paper are for the next design; the one in hand keeps its own."""
    before = window.session.design
    choose("New designs in", "millimetres")
    choose("New designs on", PAPERS["letter"].words)
    assert (settings.unit(), settings.paper()) == ("mm", "letter")
    assert window.session.design is before


def test_colours_and_lines_are_taken_at_once(window: MainWindow) -> None:
    """The table is dark, and has no lines, while the dialog is still open."""
    choose("Colours", "dark")
    assert window.table.theme.name == "dark"
    tick("Lines on the table at round numbers")
    assert not window.table.has_grid
    assert not settings.grid()


def test_keys_of_one_letter_are_turned_off(window: MainWindow) -> None:
    """A letter struck on the table takes up no tool any more."""
    tick("Keys of one letter take up tools")
    assert not window.desk.letters
    dialog().close()
    window.table.setFocus()
    QTest.keyClick(window.table, Qt.Key.Key_N)
    assert window.desk.tool_id == "choose"
