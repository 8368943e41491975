"""Choosing: pieces are laid apart or together on the table, and the design stays as it is."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from core.geometry.polyline import Point
from tests.app.at_table import AtTable
from tests.demo_designs import concert

PIECE = "side front"


def lies(at: AtTable) -> Point:
    """Where the piece lies on the table."""
    item = at.table.scene.piece(PIECE)
    assert item is not None
    return (item.place.x, item.place.y)


def moved(at: AtTable, before: Point) -> Point:
    """How far the piece lies from where it did, in mm."""
    x, y = lies(at)
    return (x - before[0], y - before[1])


def test_a_piece_goes_with_the_hand_and_the_design_stays() -> None:
    """Dragged 60 mm right and 25 up it lies there, to a pixel; nothing is there to undo, and its shape is the same."""
    at = AtTable(concert())
    before, design, shape = lies(at), at.session.design, at.piece(PIECE)
    x, y = at.label_of(PIECE)
    at.drag((x, y), (x + 30, y + 10), (x + 60, y + 25))
    pixel = 1.5 / at.table.view.scale
    assert moved(at, before) == pytest.approx((60.0, 25.0), abs=pixel)
    assert at.session.design is design
    assert at.piece(PIECE) is shape
    assert at.acts() == 0


def test_escape_in_the_middle_lays_it_back() -> None:
    """Esc while the button is down puts the piece exactly where it was."""
    at = AtTable(concert())
    before = lies(at)
    x, y = at.label_of(PIECE)
    at.press((x, y))
    at.hover((x + 50, y))
    at.press_key(Qt.Key.Key_Escape)
    assert lies(at) == before
    at.release((x + 50, y))
    assert lies(at) == before


def test_arrow_keys_lay_a_piece_farther() -> None:
    """With the keyboard on a piece an arrow key moves it by 1 mm, with Shift by 10."""
    at = AtTable(concert())
    before = lies(at)
    at.table.focus_handle(f"piece {PIECE}")
    at.press_key(Qt.Key.Key_Right)
    at.press_key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert moved(at, before) == pytest.approx((1.0, 10.0), abs=1e-9)


def test_pieces_are_laid_in_order_again() -> None:
    """All go back where they belong; till then a piece stays aside, whatever else is done to the design."""
    at = AtTable(concert())
    before = lies(at)
    x, y = at.label_of(PIECE)
    at.drag((x, y), (x + 40, y), (x + 80, y))
    aside = lies(at)
    at.session.do("Rename", at.session.design.with_step(at.session.design.steps[-1]))
    assert lies(at) == aside
    at.table.lay_out_anew()
    assert lies(at) == before


def test_a_click_still_takes_up_the_piece() -> None:
    """A click that does not travel moves nothing and selects."""
    at = AtTable(concert())
    before = lies(at)
    at.click(at.label_of(PIECE))
    assert at.table.selection == PIECE
    assert lies(at) == before
