"""Toile corrections, with the mouse and with keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from core.geometry.polyline import point_at
from core.steps.move_edge import MoveEdge
from core.steps.slash import SlashAndSpread
from core.steps.take_in import Level, TakeIn
from tests.app.at_table import AtTable
from tests.demo_designs import concert

HALF = 6.35


def fitting() -> AtTable:
    """The finished demo on the table, after a fitting."""
    return AtTable(concert(), tool="toile")


def write(at: AtTable, name: str, text: str) -> None:
    """Type into a field of the slip, Enter at the end."""
    field = next(field for field in at.table.findChildren(QLineEdit) if field.accessibleName() == name)
    field.setText("")
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.settle()


def click_on(at: AtTable, piece: str, edge: str, distance: float) -> None:
    """Click at a distance along an edge of a committed piece."""
    at.click(at.on(piece, point_at(at.piece(piece).edge(edge).points, distance)))


def test_what_was_pinned_along_a_seam_is_taken_in() -> None:
    """A click near the under-bust line on the side seam, 1/2 in typed: a quarter off each side, with what was said."""
    at = fitting()
    click_on(at, "side front", "side", 100.0)
    write(at, "Pinned out", "1/2")
    assert at.session.shown is not at.session.replay
    assert at.acts() == 0
    write(at, "What was said", "loose below the bust")
    at.push("Make the corrections")
    assert at.acts() == 1
    step = at.session.design.steps[-1]
    assert isinstance(step, TakeIn)
    assert Level("under_bust_line", HALF, HALF) in step.levels
    assert step.fitting == "loose below the bust"
    assert at.session.history.undo_label == "Correct by the toile"
    assert at.finished == 1


def test_several_pins_are_listed_and_are_one_act() -> None:
    """A seam, a fold from the neck and a whole edge: three steps, and one undo takes all of them back."""
    at = fitting()
    click_on(at, "side front", "side", 100.0)
    write(at, "Pinned out", "1/4")
    at.push("Next pin")
    yoke = at.piece("front yoke")
    click_on(at, "front yoke", "neck", yoke.edge("neck").length / 2)
    click_on(at, "front yoke", "armhole", yoke.edge("armhole").length / 2)
    write(at, "Pinned out", "1/4")
    click_on(at, "centre back", "neck", 30.0)
    at.push("Along the whole edge")
    write(at, "Pinned out", "-1/4")
    at.push("Make the corrections")
    kinds = [type(step) for step in at.session.design.steps[-3:]]
    assert kinds == [TakeIn, SlashAndSpread, MoveEdge]
    assert at.session.replay.refused is None
    last = at.session.design.steps[-1]
    assert isinstance(last, MoveEdge)
    assert last.amount == pytest.approx(6.35)
    at.session.undo()
    assert len(at.session.design.steps) == len(concert().steps)


def test_by_keys_alone() -> None:
    """Enter pins at a level; digits are the amount; N goes on; Delete takes a pin out; Enter keeps the rest."""
    at = fitting()
    at.table.focus_handle(at.handle("Pin the side at the waist").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_1)
    write(at, "Pinned out", "1/2")
    at.press_key(Qt.Key.Key_N)
    at.table.focus_handle(at.handle("Pin at the middle of the neck of centre back").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_W)
    write(at, "Pinned out", "1/8")
    assert len(at.session.shown.design.steps) == len(concert().steps) + 2
    at.press_key(Qt.Key.Key_Delete)
    assert len(at.session.shown.design.steps) == len(concert().steps) + 1
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 1
    step = at.session.design.steps[-1]
    assert isinstance(step, TakeIn)
    assert step.levels[0] == Level("waist", HALF, HALF)


def test_an_arrow_key_slides_the_pin_along_its_edge() -> None:
    """10 mm up the side seam from the waist the pin is no longer at the waist."""
    at = fitting()
    at.table.focus_handle(at.handle("Pin the side at the waist").key)
    at.press_key(Qt.Key.Key_Return)
    write(at, "Pinned out", "1/2")
    at.press_key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    at.press_key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    at.push("Make the corrections")
    step = at.session.design.steps[-1]
    assert isinstance(step, TakeIn)
    pinned = next(level for level in step.levels if level.offset)
    assert (pinned.at, pinned.a) == ("waist", HALF)
    assert 10.0 < pinned.offset < 22.0


def test_a_listed_pin_is_taken_in_hand_again() -> None:
    """Enter on it; what is typed then is its amount."""
    at = fitting()
    click_on(at, "side front", "side", 100.0)
    write(at, "Pinned out", "1/2")
    at.press_key(Qt.Key.Key_N)
    at.table.focus_handle("pin 0")
    at.press_key(Qt.Key.Key_Return)
    write(at, "Pinned out", "1/4")
    at.push("Make the corrections")
    step = at.session.design.steps[-1]
    assert isinstance(step, TakeIn)
    assert Level("under_bust_line", HALF / 2, HALF / 2) in step.levels


def test_esc_drops_the_pin_in_hand_then_the_list_then_the_tool() -> None:
    """Nothing is changed, and nothing stays in view."""
    at = fitting()
    click_on(at, "side front", "side", 100.0)
    write(at, "Pinned out", "1/2")
    at.press_key(Qt.Key.Key_N)
    click_on(at, "centre back", "neck", 30.0)
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert len(at.session.shown.design.steps) == len(concert().steps) + 1
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.finished == 1
    assert at.acts() == 0


def test_what_cannot_be_done_is_said_and_not_kept() -> None:
    """A metre is refused by name; the amount can be mended."""
    at = fitting()
    click_on(at, "side front", "side", 100.0)
    write(at, "Pinned out", "1000 mm")
    at.push("Make the corrections")
    assert at.acts() == 0
    assert "give less" in at.said[-1] or "over 150 mm" in at.said[-1]
    write(at, "Pinned out", "1/4")
    at.push("Make the corrections")
    assert at.acts() == 1
