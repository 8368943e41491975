"""The keyboard: the desktop's own keys, none that gets in the way, Tab through everything, and the title."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from app.actions.catalogue import MENUS
from tests.app.at_window import alter, opened

Standard = QKeySequence.StandardKey
OWN = {
    "undo": Standard.Undo,
    "redo": Standard.Redo,
    "save": Standard.Save,
    "open": Standard.Open,
    "new": Standard.New,
    "print": Standard.Print,
    "quit": Standard.Quit,
}


@pytest.mark.usefixtures("qapp")
def test_the_desktops_own_keys_are_taken() -> None:
    """Whatever keys the desktop binds to undo, save and the like, all of them do it here."""
    keys = {info.id: info.shortcuts() for menu in MENUS for info in menu.actions()}
    for id_, standard in OWN.items():
        assert [key for key in QKeySequence.keyBindings(standard) if key not in keys[id_]] == [], id_


@pytest.mark.usefixtures("qapp")
def test_no_key_takes_an_access_key() -> None:
    """Alt and a letter opens menus, and Super is the desktop's (GNOME HIG, keyboard)."""
    keys = [key for menu in MENUS for info in menu.actions() for key in info.shortcuts()]
    assert keys
    names = [key.toString(QKeySequence.SequenceFormat.PortableText) for key in keys]
    assert [name for name in names if re.fullmatch(r"Alt\+[A-Z]", name) or "Meta" in name] == []


def test_tab_goes_through_the_whole_window_and_comes_back(qtbot: QtBot) -> None:
    """From the table through handles, seams, steps and fields, and round to the table again (WCAG 2.2, 2.1.2)."""
    window = opened(qtbot, demo=True)
    window.table.setFocus()
    seen: list[QWidget] = []
    for _ in range(400):
        QTest.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Tab)
        widget = QApplication.focusWidget()
        assert widget is not None
        if widget is window.table:
            break
        seen.append(widget)
    else:
        pytest.fail("Tab did not come back to the table")
    assert window.seams.table in seen
    assert window.steps.list in seen
    assert {w.accessibleName() for w in window.measurements.findChildren(QLineEdit)} <= {
        w.accessibleName() for w in seen
    }
    stations = list(window.order.findChildren(QPushButton))
    assert set(stations) <= set(seen)
    assert any(window.table.isAncestorOf(widget) for widget in seen)


def test_the_title_names_the_design_and_marks_it_changed(qtbot: QtBot) -> None:
    """An untouched design is not marked; a typed measurement marks it, undo takes the mark away."""
    window = opened(qtbot, demo=True)
    assert window.desk.files.name in window.windowTitle()
    assert "[*]" in window.windowTitle()
    assert not window.isWindowModified()
    alter(window, "waist", "29")
    assert window.isWindowModified()
    QTest.keyClick(window.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert not window.isWindowModified()
