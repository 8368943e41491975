"""Pairs of pieces that lie together: which turns, what comes with it, and that they never lie in a ring."""

from __future__ import annotations

import pytest

from app.canvas.pairs import Pair, Pairs, darts_in, laid_by, pieces_of
from core.checks.walk import contact
from core.geometry.placement import Placement
from core.geometry.polyline import point_at
from core.pieces.records import Garment
from tests.core.checks.test_drawn_across import garment as rectangles
from tests.paper_block import back, front, garment
from tests.samples import replayed

RING = ("front.princess", "side", "shoulder", "front.sheer_line")
"""Centre front, side front, side back, front yoke and round to centre front again."""


def panels() -> Garment:
    """The demo cut into its panels."""
    return replayed("concert").garment


def lying(whole: Garment, pairs: Pairs) -> dict[str, Placement]:
    """How all pieces lie, each by itself where it was cut."""
    return laid_by(pairs.contacts(whole), dict.fromkeys(whole.pieces, Placement()))


def test_the_second_side_comes_to_the_first() -> None:
    """Two rectangles of 100 mm: the right one goes over by as much, or the left one back."""
    whole = rectangles()
    places = lying(whole, Pairs().with_pair(whole, Pair("middle")))
    assert places["a"] == Placement()
    assert (places["b"].angle, places["b"].x, places["b"].y) == pytest.approx((0.0, 100.0, 0.0))
    places = lying(whole, Pairs().with_pair(whole, Pair("middle", turns_first=True)))
    assert places["b"] == Placement()
    assert (places["a"].angle, places["a"].x, places["a"].y) == pytest.approx((0.0, -100.0, 0.0))


def test_sides_of_unequal_length_meet_at_the_end_that_was_chosen() -> None:
    """The right one is 6 mm taller: feet level at the first end, tops level at the last, and so 6 mm lower."""
    whole = rectangles(longer=6.0)
    for end, y in ((0, 0.0), (1, -6.0)):
        places = lying(whole, Pairs().with_pair(whole, Pair("middle", end)))
        assert (places["b"].x, places["b"].y) == pytest.approx((100.0, y))


def test_a_loose_piece_comes_to_those_that_lie_together() -> None:
    """The centre front lies at the side front; the yoke, whose side is the first of its seam, comes to them."""
    whole = panels()
    pairs = Pairs().with_pair(whole, Pair("front.princess")).with_pair(whole, Pair("front.sheer_line"))
    assert pairs.pairs[1].turns_first
    assert pairs.root(whole, "front yoke") == pairs.root(whole, "centre front") == "side front"


def test_pieces_never_lie_in_a_ring() -> None:
    """A fourth seam that would close the ring takes the place of one: every pair that is left holds exactly."""
    whole, pairs = panels(), Pairs()
    for seam in RING:
        pairs = pairs.with_pair(whole, Pair(seam))
    held, places = pairs.contacts(whole), lying(whole, pairs)
    assert len(held) == 3
    assert held[-1][0].seam == RING[-1]
    assert len(pieces_of(held)) == 4
    for pair, met in held:
        told = pair.told(whole)
        assert told is not None
        again = contact(told, pair.along)
        still, moving = places[met.still.piece.name], places[met.moving.piece.name]
        back_there = moving.inverse().point(still.point(met.at))
        link = again.moving
        ends = (point_at(link.points, 0.0), point_at(link.points, 1e9))
        assert min(abs(x - back_there[0]) + abs(y - back_there[1]) for x, y in ends) < 1e-6


def test_without_its_seam_a_pair_is_none() -> None:
    """A pair whose seam is not there yet lays nothing, and neither asks nor fails."""
    whole = garment()
    assert Pairs((Pair("front.princess"),)).contacts(whole) == []
    assert Pairs().with_pair(whole, Pair("front.princess")).pairs == ()


def test_darts_that_are_sewn_before_the_seam_are_known() -> None:
    """The shoulder dart lies between the two parts of the shoulder, the waist dart does not; the back has none."""
    names = ["shoulder.1", "shoulder.2"]
    assert darts_in(front(), names) == ("front.shoulder_dart",)
    assert darts_in(back(), ["shoulder"]) == ()
