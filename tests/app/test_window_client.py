"""Another client, her own block, and how close: with real mouse and keys in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QLabel, QLineEdit, QPushButton, QTableWidget

from app.actions.files import demo_design
from app.dialogs.typed_table import TypedTable
from core.blocks.ease import EASE_PRESETS
from core.file.writer import save_design
from core.steps.move_edge import MoveEdge
from core.units import parse_length
from tests.app.at_window import W, dialog, found, opened, press
from tests.core.blocks.test_own_sheet import BACK, FRONT

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

ENTER = Qt.Key.Key_Return


def active(qtbot: QtBot, box: W) -> W:
    """The window or dialog, once keys go to it."""
    box.activateWindow()
    qtbot.waitUntil(box.isActiveWindow)
    return box


def type_on(table: QTableWidget, text: str) -> None:
    """Type into the current cell, and Enter; nothing but Enter for an empty text."""
    if not text:
        QTest.keyClick(table, ENTER)
        return
    QTest.keyClicks(table, text[0])
    editor = QApplication.focusWidget()
    assert isinstance(editor, QLineEdit)
    QTest.keyClicks(editor, text[1:])
    QTest.keyClick(editor, ENTER)
    # The cell takes its text from the event loop.
    QApplication.processEvents()


def type_sheet(table: TypedTable, numbers: Sequence[tuple[float | None, float | None] | None]) -> None:
    """Type a whole sheet from its first cell on, with nothing but numbers and Enter."""
    table.setFocus()
    table.setCurrentCell(0, 1)
    for row, pair in enumerate(numbers):
        for column, number in enumerate(pair or (None, None), start=1):
            item = table.item(row, column)
            assert item is not None
            if item.flags() & Qt.ItemFlag.ItemIsEditable:
                assert (table.currentRow(), table.currentColumn()) == (row, column)
                type_on(table, "" if number is None else f"{number:g}mm")


def own_block_dialog(qtbot: QtBot, window: MainWindow) -> QDialog:
    """The dialog, opened from the Measurements."""
    press("Her own block…", window)
    return active(qtbot, dialog(qtbot, "Her own block"))


def test_a_block_is_typed_from_paper_and_used(qtbot: QtBot) -> None:
    """Row after row with Enter; what is missing is named, then the block closes; one undo gives the drafted one."""
    window = opened(qtbot)
    before = window.session.design
    box = own_block_dialog(qtbot, window)
    words = found(QLabel, "What the block is like", box)
    assert words.text().startswith("Begin with the pit of the neck")
    type_sheet(found(TypedTable, "Front", box), FRONT)
    assert words.text().startswith("≠ Back, waist at the centre back")
    QTest.keyClick(box, Qt.Key.Key_B, Qt.KeyboardModifier.AltModifier)
    type_sheet(found(TypedTable, "Back", box), BACK)
    assert words.text().startswith("The block closes. Shoulder seam:")
    press("Use this block", box)
    front = window.session.replay.block.piece("front")
    assert front.landmarks["underarm"] == (230.0, 210.0)
    assert found(QComboBox, "drafting method", window).currentText() == "her own block"
    assert window.session.history.undo_label == "Her own block"
    QTest.keyClick(active(qtbot, window).table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.session.design is before


def test_a_typed_block_is_looked_at_again(qtbot: QtBot) -> None:
    """What was typed stands in its cells; a slip is named in its row and stays to be corrected."""
    window = opened(qtbot)
    box = own_block_dialog(qtbot, window)
    press("Begin with the drafted block", box)
    press("Use this block", box)
    kept = window.session.design.own_block
    box = own_block_dialog(qtbot, window)
    table = found(TypedTable, "Front", box)
    item = table.item(0, 2)
    assert item is not None
    pit = window.session.replay.block.piece("front").landmarks["neck_pit"][1]
    assert parse_length(item.text(), "in") == pytest.approx(pit, abs=0.4)
    table.setCurrentCell(0, 2)
    type_on(table, "thirteen")
    words = found(QLabel, "What the block is like", box)
    assert words.text().startswith("≠ pit of the neck: ")
    press("Use this block", box)
    assert box.isVisible()
    press("Cancel", box)
    assert window.session.design.own_block is kept


def test_points_and_darts_come_and_go(qtbot: QtBot) -> None:
    """A row under the one in hand, a dart on its edge, and away with both."""
    window = opened(qtbot)
    box = own_block_dialog(qtbot, window)
    table = found(TypedTable, "Front", box)
    rows = table.rowCount()
    at = next(row for row in range(rows) if cell(table, row, 0) == "On the armhole")
    table.setCurrentCell(at, 1)
    press("Another point", box)
    assert table.rowCount() == rows + 1
    press("Take the row away", box)
    press("Another dart", box)
    assert table.rowCount() == rows + 5
    dart = next(row for row in range(table.rowCount()) if cell(table, row, 0).startswith("Armhole dart"))
    table.setCurrentCell(dart, 1)
    press("Take the row away", box)
    assert table.rowCount() == rows
    press("Cancel", box)


def cell(table: QTableWidget, row: int, column: int) -> str:
    """The text of a cell."""
    item = table.item(row, column)
    assert item is not None
    return item.text()


def another_client(qtbot: QtBot, window: MainWindow) -> QDialog:
    """The dialog, opened by its key."""
    active(qtbot, window)
    QTest.keyClick(window.table, Qt.Key.Key_B, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    return active(qtbot, dialog(qtbot, "Another client"))


def test_the_demo_goes_onto_another_client_and_back(qtbot: QtBot, tmp_path: Path) -> None:
    """Compared while she types; one act; the first client, from her file, has her pieces again bit for bit."""
    window = opened(qtbot, demo=True)
    save_design(tmp_path / "first.sheer", window.session.design)
    before, loops = window.session.design, {n: p.loop for n, p in window.session.replay.garment.pieces.items()}
    box = another_client(qtbot, window)
    QTest.keyClicks(found(QLineEdit, "Client", box), "Mrs Thornapple")
    table = found(TypedTable, "Both bodies", box)
    waist = next(row for row in range(table.rowCount()) if cell(table, row, 0) == "Waist")
    table.setFocus()
    table.setCurrentCell(waist, 2)
    type_on(table, "29 1/2")
    assert (cell(table, waist, 1), cell(table, waist, 3)) == ("28 1/2 in", "+ 1 in")
    assert found(QLabel, "What follows", box).text() == f"All {len(before.done_steps)} steps follow."
    press("Put the design on her", box)
    assert window.session.design.body.name == "Mrs Thornapple"
    assert window.session.history.undo_label == "Put on Mrs Thornapple"
    box = another_client(qtbot, window)
    press("Open a body or design…", box)
    chooser = dialog(qtbot, "Open a body")
    field = chooser.findChild(QLineEdit, "fileNameEdit")
    assert field is not None
    field.setText(str(tmp_path / "first.sheer"))
    QTest.keyClick(field, ENTER)
    active(qtbot, box)
    qtbot.waitUntil(lambda: found(QLineEdit, "Client", box).text() == before.body.name)
    press("Put the design on her", box)
    assert window.session.design.body == before.body
    for name, piece in window.session.replay.garment.pieces.items():
        assert np.array_equal(piece.loop, loops[name]), name
    active(qtbot, window)
    for _ in range(2):
        QTest.keyClick(window.table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.session.design is before


def test_the_same_style_for_another_client_leaves_the_first_ones_file(qtbot: QtBot, tmp_path: Path) -> None:
    """A party in one style: hers is a design without a file, the first one's file holds what it held.

    What was pinned on the first one's toile is named; notes of her fitting stay with her.
    """
    first = tmp_path / "first.sheer"
    pinned = MoveEdge("move-1", "side front", "waist", 4.0, fitting="too long")
    demo = demo_design().with_step(pinned)
    save_design(first, replace(demo, sheets=replace(demo.sheets, fitting="stands on one hip")))
    window = opened(qtbot)
    window.session.open(first)
    kept = first.read_bytes()
    window.bars.actions["same-style"].trigger()
    box = active(qtbot, dialog(qtbot, "The same style for another client"))
    QTest.keyClicks(found(QLineEdit, "Client", box), "Miss Pimpernel")
    words = found(QLabel, "What follows", box).text()
    assert words.startswith("All ")
    assert words.endswith(f"Pinned on the toile of {demo.body.name}, switch off what is not hers: move-1.")
    press("Begin her design", box)
    made = window.session.design
    assert (made.body.name, made.sheets.fitting, window.session.path) == ("Miss Pimpernel", "", None)
    assert made.steps == (*demo.steps,)
    assert window.session.is_dirty
    assert first.read_bytes() == kept


def test_the_size_table_fills_every_row_it_has_and_says_so(qtbot: QtBot) -> None:
    """By the bust; a row that is typed over is hers; a bust outside the table is refused and nothing changes."""
    window = opened(qtbot, demo=True)
    box = another_client(qtbot, window)
    bust = found(QLineEdit, "Bust for the size table", box)
    QTest.keyClicks(bust, "88cm")
    press("From the size table", box)
    table = found(TypedTable, "Both bodies", box)
    waist = next(row for row in range(table.rowCount()) if cell(table, row, 0) == "Waist")
    # 699 mm: the survey's mean of the class of 880 mm (trade.md A6).
    assert parse_length(cell(table, waist, 2), "in") == pytest.approx(699.0, abs=0.4)
    assert cell(table, waist, 3).endswith("size table")
    table.setFocus()
    table.setCurrentCell(waist, 2)
    type_on(table, "28")
    assert not cell(table, waist, 3).endswith("size table")
    bust.selectAll()
    QTest.keyClicks(bust, "60")
    press("From the size table", box)
    assert found(QLabel, "What follows", box).text().startswith("≠ The size table goes from a bust of ")
    table.setCurrentCell(waist, 2)
    type_on(table, "wide")
    assert not found(QPushButton, "Put the design on her", box).isEnabled()
    press("Cancel", box)


def test_how_close_is_one_act(qtbot: QtBot) -> None:
    """A preset sets all six eases; its source stands under it; undo takes them back together."""
    window = opened(qtbot)
    before = window.session.design
    box = found(QComboBox, "how close", window)
    box.setFocus()
    assert box.currentText() == "close"
    QTest.keyClick(box, Qt.Key.Key_Up)
    preset = EASE_PRESETS[0]
    assert window.session.design.ease == preset.ease
    assert preset.source in window.measurements.block.preset_words.text()
    window.session.undo()
    assert window.session.design is before
