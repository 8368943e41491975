"""The sheet of her own block: what is measured off paper with a set square, typed, and becomes a block."""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, degrees, hypot

import pytest
from msgspec.structs import replace

from core.blocks.ease import Ease
from core.blocks.own_block import own_garment
from core.blocks.own_sheet import (
    Row,
    Sheet,
    blank_sheet,
    own_block,
    read_off,
    sheet_of,
    with_dart,
    with_number,
    with_point,
    without_row,
)
from core.errors import Refusal
from core.geometry.placement import gap
from tests.core.blocks.drafted_bodies import client
from tests.core.blocks.handbooks import by_handbook
from tests.core.blocks.test_own_block import every

# A block of round numbers, invented; what is read with the set square, row after row of a blank sheet.
FRONT = [
    *[(0, 330), (0, 0), (75, 0), None, (220, 0), (230, 210), (200, 240), (185, 290), (182, 330), (190, 380)],
    *[(150, 395), None, (65, 410), (50, 360), (25, 336)],
    *[(90, 180), (38, None), (20, None), (90, 180), (38, None), (20, None)],
    *[(None, 240), (None, 180), (None, 100), (90, 180), (76, None)],
]
BACK = [
    *[(0, 0), (0, 400), (45, 404), (60, 411), (65, 420), (120, 408), None, (175, 395)],
    *[(168, 340), (172, 270), (195, 225), (230, 210), (220, 0), (130, 0), None],
    *[(110, 170), (25, None), (0, None), (125, 300), (12, None), (0, None)],
    *[(None, 240), (None, 180), (None, 100)],
]


def filled(piece: str, numbers: Sequence[tuple[float | None, float | None] | None]) -> Sheet:
    """A blank sheet with its rows filled in order; None leaves a row blank."""
    sheet = blank_sheet(piece)
    assert len(sheet) == len(numbers)
    return tuple(
        row if pair is None else replace(row, x=pair[0], y=pair[1]) for row, pair in zip(sheet, numbers, strict=True)
    )


def test_a_block_measured_off_paper_becomes_a_garment() -> None:
    """Edges end where they were measured; each dart opens by 2 asin(width / (2 leg)), the chord of a circle."""
    garment = own_garment(own_block(filled("front", FRONT), filled("back", BACK)), Ease())
    front = garment.piece("front")
    assert front.landmarks["underarm"] == (230.0, 210.0)
    assert front.landmarks["side_neck"] == (65.0, 410.0)
    leg = hypot(15.0, 180.0)
    assert degrees(front.dart("front.waist_dart").angle) == pytest.approx(degrees(2 * asin(38.0 / (2 * leg))), abs=1e-6)
    assert garment.piece("back").landmarks["nape"] == (0.0, 400.0)
    assert gap(*garment.piece("back").dart("back.shoulder_dart").legs) == pytest.approx(12.0, abs=1e-9)


@every
def test_a_block_on_a_sheet_is_the_block_that_was_put_there(method: str) -> None:
    """Read off, laid on the sheet, and taken from it again: every point, whichever way it was drafted."""
    block = read_off(client().garment if method == "tape" else by_handbook(method).garment)
    again = own_block(sheet_of("front", block), sheet_of("back", block))
    once_more = own_block(sheet_of("front", again), sheet_of("back", again))
    for piece in ("front", "back"):
        before, after = getattr(block, piece), getattr(again, piece)
        assert [edge.name for edge in after.edges] == [edge.name for edge in before.edges]
        for old, new in zip(before.edges, after.edges, strict=True):
            # Legs are given one length, so ends at darts may move within the tenth that was read.
            assert max(gap(a, b) for a, b in zip(old.points, new.points, strict=True)) <= 0.15
    assert [edge.name for edge in once_more.front.edges] == [edge.name for edge in again.front.edges]
    assert own_garment(again, Ease()).pieces


def place_of(sheet: Sheet, words: str) -> int:
    """The number of a row by its words."""
    return next(index for index, row in enumerate(sheet) if row.words == words)


def test_what_is_not_typed_is_named() -> None:
    """Piece, row, and which of its two numbers."""
    front = filled("front", FRONT)
    missing = with_number(front, place_of(front, "underarm"), part="y", number=None)
    with pytest.raises(Refusal, match="Front, pit of the neck: the distance from the centre line is missing"):
        own_block(blank_sheet("front"), blank_sheet("back"))
    with pytest.raises(Refusal, match="Front, underarm: the height over the waist line is missing"):
        own_block(missing, filled("back", BACK))


def test_legs_of_two_lengths_are_refused_with_the_way_out() -> None:
    """Over 3 mm apart; within, both get their mean, as at the table."""
    front = filled("front", FRONT)
    second = place_of(front, "waist dart: second leg ends")
    typed = with_number(with_number(front, second, part="x", number=113.0), second, part="y", number=0.0)
    legs = own_block(typed, filled("back", BACK)).front.darts[0].legs
    assert gap((90.0, 180.0), legs[0]) == pytest.approx(gap((90.0, 180.0), legs[1]), abs=1e-9)
    far = with_number(typed, second, part="y", number=-15.0)
    with pytest.raises(Refusal, match=r"legs of the waist dart of the front are .* or leave the second leg empty"):
        own_block(far, filled("back", BACK))


def test_rows_come_and_go() -> None:
    """A point more on an edge, a dart more with all its rows, and both gone again; a corner stays."""
    front = blank_sheet("front")
    more = with_point(front, place_of(front, "on the armhole"))
    assert without_row(more, place_of(more, "on the armhole")) == front
    darted = with_dart(front, "waist")
    assert sum(row.dart == "waist_dart_2" for row in darted) == 5
    assert without_row(darted, next(i for i, row in enumerate(darted) if row.dart == "waist_dart_2")) == front
    with pytest.raises(Refusal, match="The underarm belongs to every block"):
        without_row(front, place_of(front, "underarm"))
    assert Row("between", "on the neck", "neck").is_blank
