"""Chains of several edges: trimmed, joined and walked along, on rectangles where the answer is worked out by hand."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.geometry.polyline import Point
from core.pieces.outline import named
from core.pieces.records import Edge, Garment, Piece, Seam, Span
from core.pieces.seams import match
from core.steps.trim import Trim
from tests.paper_block import edge, origins

BOTTOM, TOP = 0.0, 400.0


def sides(*heights: float, x: float = 100.0) -> list[Edge]:
    """The right side of the left piece from the bottom up: an edge to every height, straight."""
    rows = zip((BOTTOM, *heights), heights, strict=False)
    return [edge(f"left.side_{i}", "seam", 0.0, (x, low), (x, high)) for i, (low, high) in enumerate(rows, 1)]


def left(edges: list[Edge]) -> Piece:
    """A piece to the left of the seam, its right side made of several edges."""
    first, last = edges[0].points[0], edges[-1].points[-1]
    low, high = (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))
    return Piece(
        "left",
        "front",
        named(
            (
                edge("left.bottom", "hem", 0.0, (0.0, BOTTOM), low),
                *edges,
                edge("left.top", "opening", 0.0, high, (0.0, TOP)),
                edge("left.centre_front", "fold", 0.0, (0.0, TOP), (0.0, BOTTOM)),
            )
        ),
    )


def right(*corners: Point) -> Piece:
    """A piece to the right of the seam, its left side one edge through the corners from the top down."""
    (top_x, top_y), (low_x, low_y) = corners[0], corners[-1]
    return Piece(
        "right",
        "front",
        named(
            (
                edge("right.bottom", "hem", 0.0, (low_x, low_y), (300.0, low_y)),
                edge("right.outer", "hem", 0.0, (300.0, low_y), (300.0, top_y)),
                edge("right.top", "opening", 0.0, (300.0, top_y), (top_x, top_y)),
                edge("right.side", "seam", 0.0, *corners),
            )
        ),
    )


def sewn(here: Piece, there: Piece) -> Garment:
    """Both pieces, the left's chain sewn to the right's edge, from the waist up."""
    chain = tuple(Span(e.origin.edge) for e in here.edges if e.kind == "seam")
    seam = Seam("side", chain, (Span("right.side", backwards=True),), ("waist", "armhole"))
    pieces = {piece.name: piece for piece in (here, there)}
    return Garment(pieces, {"side": seam}, origins(here, there), {}, pieces)


def test_a_trim_runs_on_into_the_next_edge_of_a_smooth_chain() -> None:
    """5 mm too long at the bottom, where the last edge has 4: it goes, and the next loses 1 mm; 395 to 395 then."""
    start = sewn(left(sides(4.0, 400.0)), right((100.0, 400.0), (100.0, 5.0)))
    after = Trim("t", "side", "waist").apply(start).garment
    found = match(after, after.seam("side"))
    assert found.difference == pytest.approx(0.0, abs=0.01)
    assert [link.edge.origin.edge for link in found.a] == ["left.side_2"]
    assert tuple(after.piece("left").edge("side_2").points[0]) == pytest.approx((100.0, 5.0))
    assert tuple(after.piece("left").edge("bottom").points[-1]) == pytest.approx((100.0, 5.0))
    assert tuple(after.piece("left").edge("bottom").points[0]) == pytest.approx((0.0, 0.0))


def test_it_runs_on_through_several_edges() -> None:
    """Edges of 2 and 1.5 mm at the top, 5 mm too long: both go, the third loses 1.5 mm."""
    start = sewn(left(sides(396.5, 398.0, 400.0)), right((100.0, 395.0), (100.0, 0.0)))
    after = Trim("t", "side", "armhole").apply(start).garment
    assert match(after, after.seam("side")).length_a == pytest.approx(395.0, abs=0.01)
    assert tuple(after.piece("left").edge("top").points[0]) == pytest.approx((100.0, 395.0))


def test_over_a_corner_it_is_refused_with_what_else_can_be_done() -> None:
    """The last 3 mm run out at 45 degrees: they are no part of one line with the rest."""
    low = edge("left.side_1", "seam", 0.0, (103.0, BOTTOM), (100.0, 3.0))
    start = sewn(
        left([low, edge("left.side_2", "seam", 0.0, (100.0, 3.0), (100.0, 401.0))]), right((100.0, 400.0), (100.0, 3.0))
    )
    with pytest.raises(Refusal, match=r"side 2 does not run on from it; trim at the other end, or .*fold a wedge"):
        Trim("t", "side", "waist").apply(start)
