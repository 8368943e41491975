"""Laying pieces together from the seam table and apart from the menu, in the whole window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from tests.app.at_window import LEFT, found, opened

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_a_row_of_the_seam_table_lays_its_pieces_together_and_the_menu_apart(qtbot: QtBot) -> None:
    """Its button turns one piece to the other; Lay apart is offered then, and parts them; no act is made."""
    window = opened(qtbot, demo=True)
    before = {item.name: item.place for item in window.table.scene.laid}
    assert not window.bars.actions["lay-apart"].isEnabled()
    rows = [window.seams.table.item(row, 0) for row in range(window.seams.table.rowCount())]
    row = next(index for index, item in enumerate(rows) if item is not None and item.text() == "side")
    window.seams.table.selectRow(row)
    QTest.mouseClick(found(QPushButton, "Lay together", window.seams), LEFT)
    assert window.table.scene.together == {"side front", "side back"}
    QTest.mouseClick(found(QPushButton, "Done", window.table), LEFT)
    assert window.status.words.text().startswith("They lie together along the side:")
    assert window.bars.actions["lay-apart"].isEnabled()
    QTest.keyClick(window.table, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert window.status.words.text() == "The pieces lie apart again."
    assert {item.name: item.place for item in window.table.scene.laid} == before
    assert not window.session.is_dirty


def test_another_design_begins_with_its_pieces_apart(qtbot: QtBot) -> None:
    """What lay together or aside belongs to the design that was on the table."""
    window = opened(qtbot, demo=True)
    window.desk.lay_seam_together("side")
    assert window.table.scene.together
    window.table.lay_piece("front yoke", (50.0, 20.0))
    window.session.begin(window.session.design)
    assert window.table.scene.together == frozenset()
    assert window.table.scene.shift("front yoke") == (0.0, 0.0)
