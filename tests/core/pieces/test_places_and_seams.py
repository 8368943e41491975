"""Places and seams name origins, so they hold through cuts and turns."""

from __future__ import annotations

from math import sin

import pytest

from core.errors import Refusal
from core.geometry.polyline import signed_area
from core.pieces.outline import cloth_area, is_centre
from core.pieces.places import Place, along_origin, place_at, place_words, resolved_point
from core.pieces.seams import match, matches, seams_of
from core.steps.pivot import Pivot
from tests.paper_block import front, garment


def test_a_distance_is_counted_from_the_named_end() -> None:
    """The side runs from (220, 0) to (230, 210): 52.56 mm is a quarter of it from the waist."""
    start = garment()
    quarter = Place("front.side", "waist", distance=start.origins["front.side"].length / 4)
    assert resolved_point(start, start.piece("front"), quarter) == pytest.approx((222.5, 52.5))
    from_top = Place("front.side", "armhole", share=0.75)
    assert resolved_point(start, start.piece("front"), from_top) == pytest.approx((222.5, 52.5))


def test_a_place_survives_an_edge_divided_by_a_dart() -> None:
    """After a dart opens in the armhole, a place beyond it lies on the edge that holds it now."""
    start = garment()
    turn = Pivot("p", "front", "front.shoulder_dart", place=Place("front.armhole", "side", share=0.3))
    after = turn.apply(start).garment
    place = Place("front.armhole", "shoulder", distance=20.0)
    piece = after.piece("front")
    x, y = resolved_point(after, piece, place)
    tip = piece.edge("armhole.2").points[-1]
    assert ((x - tip[0]) ** 2 + (y - tip[1]) ** 2) ** 0.5 == pytest.approx(20.0, abs=1e-6)


def test_place_at_names_the_nearer_end() -> None:
    """A tenth along the side is told from the waist, nine tenths from the armhole."""
    start = garment()
    side = start.piece("front").edge("side")
    assert place_at(start, side, side.length * 0.1).end == "waist"
    assert place_at(start, side, side.length * 0.9).end == "armhole"
    assert place_words(Place("front.side", "waist", share=0.5), "") == "50% along the side from the waist"


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (Place("front.hem", "waist", share=0.5), "There is no front hem to measure along"),
        (Place("front.side", "neck", share=0.5), "ends at"),
        (Place("front.side", "waist"), "either"),
        (Place("front.side", "waist", distance=300.0), "only"),
    ],
)
def test_a_place_that_makes_no_sense_is_refused(place: Place, words: str) -> None:
    """In one sentence."""
    with pytest.raises(Refusal, match=words):
        along_origin(garment(), place)


def test_seams_are_measured_with_darts_closed() -> None:
    """The front shoulder measures its two parts, 42.72 + 28.14, and not the dart between them."""
    start = garment()
    found = match(start, start.seam("shoulder"))
    assert found.length_b == pytest.approx(42.72 + 28.14, abs=0.01)
    assert found.difference == pytest.approx(found.length_a - found.length_b)
    assert len(matches(start)) == 2
    assert [seam.name for seam in seams_of(start, start.piece("front").edge("side"))] == ["side"]


def test_cloth_is_the_loop_without_its_wedges() -> None:
    """The paper front's two wedges are triangles of its darts' legs: half r squared sine of the angle each."""
    piece = front()
    wedges = sum(0.5 * dart.leg_length**2 * sin(dart.angle) for dart in piece.darts)
    assert cloth_area(piece) == pytest.approx(signed_area(piece.loop) - wedges)
    assert is_centre(piece.edge("centre_front"))
