"""The seam table beside the table: a pair that is out is made equal by one press."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.panels.seams import COLUMNS
from core.pieces.seams import match
from core.steps.take_in import Level, TakeIn
from tests.app.at_window import opened

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

CONTROL = Qt.KeyboardModifier.ControlModifier


def test_one_press_beside_the_seam_table_makes_a_pair_equal(qtbot: QtBot) -> None:
    """A princess seam taken in on one side is out; Trim to match is one act, and undo brings the difference back."""
    window = opened(qtbot, demo=True)
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", 14.0, 0.0))
    design = window.session.design.with_step(TakeIn("take-in-1", "front.princess", levels))
    window.session.do("Take in", design)
    out = difference(window, "front.princess")
    assert abs(out) > 0.2
    window.desk.trim_seam("front.princess")
    assert difference(window, "front.princess") == pytest.approx(0.0, abs=0.01)
    assert window.bars.actions["undo"].text().startswith("&Undo trim the ")
    assert "princess" in window.bars.actions["undo"].text()
    window.desk.trim_seam("front.princess")
    assert window.status.words.text() == "Both sides of this seam are equal already."
    QTest.keyClick(window.table, Qt.Key.Key_Z, CONTROL)
    assert difference(window, "front.princess") == pytest.approx(out)


def test_the_button_trims_a_side_seam_that_was_taken_in_on_one_side(qtbot: QtBot) -> None:
    """A click on the row and one on Trim to match: the row reads exact, both sides alike; Ctrl+Z brings it back."""
    window = opened(qtbot, demo=True)
    levels = (Level("underarm", 0.0, 0.0), Level("waist", 25.4, 0.0))
    window.session.do("Take in", window.session.design.with_step(TakeIn("take-in-1", "side", levels)))
    table = window.seams.table
    before = cells(window, "side")
    assert before["Verdict"] != "= exact"
    (item,) = table.findItems("side", Qt.MatchFlag.MatchExactly)
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=table.visualItemRect(item).center())
    QTest.mouseClick(window.seams.trim_button, Qt.MouseButton.LeftButton)
    after = cells(window, "side")
    assert (after["Verdict"], after["Difference"]) == ("= exact", "0 in")
    assert after["1st side"] == after["2nd side"]
    assert not window.seams.trim_button.isEnabled()
    QTest.keyClick(table, Qt.Key.Key_Z, CONTROL)
    assert cells(window, "side") == before


def cells(window: MainWindow, seam: str) -> dict[str, str]:
    """A row of the seam table, by its columns."""
    table = window.seams.table
    (found,) = table.findItems(seam, Qt.MatchFlag.MatchExactly)
    items = [table.item(found.row(), column) for column in range(len(COLUMNS))]
    return {name: item.text() for name, item in zip(COLUMNS, items, strict=True) if item is not None}


def difference(window: MainWindow, seam: str) -> float:
    """By how much the sides of a seam differ, in mm."""
    garment = window.session.replay.garment
    return match(garment, garment.seam(seam)).difference
