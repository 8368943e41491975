"""Chains of several edges and real seams: trimmed, joined and walked along; rectangles are worked out by hand."""

from __future__ import annotations

from math import atan, sin

import msgspec
import pytest

from core.checks.walk import walk
from core.design.replay import replay
from core.errors import Refusal
from core.finishing.notches import seam_notches
from core.geometry.planar import farthest_apart
from core.geometry.polyline import Point
from core.pieces.outline import cloth_area, named
from core.pieces.records import Edge, Garment, Piece, Seam, Span
from core.pieces.seams import match
from core.steps.join import Join
from core.steps.trim import Trim
from tests.core.steps.test_cut_roads import ACROSS, cut
from tests.demo_designs import ice
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
        "mate",
        "front",
        named(
            (
                edge("mate.bottom", "hem", 0.0, (low_x, low_y), (300.0, low_y)),
                edge("mate.outer", "hem", 0.0, (300.0, low_y), (300.0, top_y)),
                edge("mate.top", "opening", 0.0, (300.0, top_y), (top_x, top_y)),
                edge("mate.side", "seam", 0.0, *corners),
            )
        ),
    )


def sewn(here: Piece, there: Piece) -> Garment:
    """Both pieces, the left's chain sewn to the right's edge, from the waist up."""
    chain = tuple(Span(e.origin.edge) for e in here.edges if e.kind == "seam")
    seam = Seam("side", chain, (Span("mate.side", backwards=True),), ("waist", "armhole"))
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


def skater(shoulder: float) -> Garment:
    """The skater's bodice, both yokes flat, its back shoulder drafted so much (mm) longer than the front's."""
    whole = ice()
    return replay(msgspec.structs.replace(whole, ease=msgspec.structs.replace(whole.ease, shoulder=shoulder))).garment


@pytest.mark.parametrize("end", ["neck", "armhole"])
def test_real_shoulders_are_joined_to_a_yoke_without_shoulder_seam(end: str) -> None:
    """Both are straight and of one length, so nothing parts: the area is the sum, necks and armholes run on."""
    start = skater(0.0)
    after = Join("j", "shoulder", end, "yoke").apply(start).garment
    yoke = after.piece("yoke")
    both = cloth_area(start.piece("front yoke")) + cloth_area(start.piece("back yoke"))
    assert cloth_area(yoke) == pytest.approx(both, abs=0.5)
    assert "shoulder" not in after.seams
    assert not any(edge.origin.edge.endswith("shoulder") for edge in yoke.edges)
    held = {edge.name: edge for edge in yoke.edges}
    assert tuple(held["neck.1"].points[-1]) == tuple(held["neck.2"].points[0])
    assert match(after, after.seam("front.sheer_line")).difference == pytest.approx(0.0, abs=0.01)


def test_shoulders_that_are_eased_are_not_laid_shut() -> None:
    """The sentence names the ease and where it is taken out."""
    with pytest.raises(Refusal, match=r"seam shoulder is to be 6\.0 mm longer.*draft the block without that ease"):
        Join("j", "shoulder", "neck", "yoke").apply(skater(6.0))


@pytest.mark.parametrize("end", ["across", "shoulder"])
def test_the_ends_of_a_dart_left_apart_are_joined_to_the_panel_that_is_closed_at_once(end: str) -> None:
    """Leg to leg from either end: the outline is that of the panel whose dart end was closed by the cut."""
    apart = cut(ACROSS, apart=("front.shoulder_dart",))
    joined = Join("j", "front.shoulder_dart_end", end, "upper").apply(apart).garment.piece("upper")
    closed = cut(ACROSS).piece("upper centre front")
    assert cloth_area(joined) == pytest.approx(cloth_area(closed), abs=0.01)
    for edge_ in closed.edges:
        assert joined.edge(edge_.name).length == pytest.approx(edge_.length, abs=0.01)
        assert farthest_apart(joined.edge(edge_.name).points, edge_.points) <= 0.01


def test_walking_along_a_chain_tells_where_it_first_parts() -> None:
    """The left is straight in two edges, 150 and 250 mm; the right bends away at 210 mm by 0.1 to 1.

    They part by 0.5 mm where the bend has gone 0.5 / (2 sin(a / 2)) = 5.01 mm, a = atan(0.1): 215.01 mm from the waist,
    on the second edge of the chain; walked from beyond the bend on, the right laid along it, they part no more.
    """
    there = right((119.0, 400.0), (100.0, 210.0), (100.0, 0.0))
    found = match(*_seam(sewn(left(sides(150.0, 400.0)), there)))
    done = walk(found, 0.0)
    bend = atan(0.1)
    assert done.parts == pytest.approx(210.0 + 0.5 / (2 * sin(bend / 2)), abs=0.05)
    assert walk(found, 200.0).still.edge.name == "side_2"
    assert walk(found, 100.0).still.edge.name == "side_1"
    assert walk(found, 100.0).at == pytest.approx((100.0, 100.0))


def _seam(garment: Garment) -> tuple[Garment, Seam]:
    return garment, garment.seam("side")


def test_notches_of_a_chain_lie_opposite_each_other() -> None:
    """Rolled to any notch of the one edge, the walk touches a notch of the chain: the joint of the two edges at most.

    The right side's notches are measured from its first point, at the top, the left's from the foot of each edge.
    """
    start = sewn(left(sides(150.0, 400.0)), right((100.0, 400.0), (100.0, 0.0)))
    found, notches = match(*_seam(start)), seam_notches(start)
    starts = {"side_1": 0.0, "side_2": 150.0}
    there = sorted(400.0 - notch.at for notch in notches["mate"] if notch.edge == "side")
    here = sorted(starts[notch.edge] + notch.at for notch in notches["left"])
    assert here
    assert here == pytest.approx(there)
    for distance in here:
        assert walk(found, distance).at == pytest.approx((100.0, distance))
