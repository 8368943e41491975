"""A line drawn over two pieces that lie together: where it passes the seam, and how it runs on."""

from __future__ import annotations

from math import cos, degrees, radians, remainder, sin, tau

import numpy as np
import pytest
from msgspec.structs import replace

from core.checks.drawn_across import Crossing, Part, drawn_across, refuse_step
from core.checks.walk import contact, from_end
from core.errors import Refusal
from core.geometry.curve import fair_curve
from core.geometry.placement import Placement
from core.geometry.polyline import Point, end_direction
from core.pieces.outline import named
from core.pieces.places import resolved_point
from core.pieces.records import Garment, Piece, Seam, Span
from core.pieces.seams import Match, match
from core.steps.step import LinePoint
from tests.paper_block import edge, origins

TALL = 200.0


def rectangle(name: str, tall: float, *, at_left: bool) -> Piece:
    """A rectangle 100 mm wide from the origin up, its seam edge on the right (as the left piece) or on the left."""
    right, left = ("seam", "out") if at_left else ("out", "seam")
    edges = (
        edge(f"{name}.foot", "seam", 0.0, (0.0, 0.0), (100.0, 0.0)),
        edge(f"{name}.{right}", "seam", 0.0, (100.0, 0.0), (100.0, tall)),
        edge(f"{name}.top", "seam", 0.0, (100.0, tall), (0.0, tall)),
        edge(f"{name}.{left}", "seam", 0.0, (0.0, tall), (0.0, 0.0)),
    )
    return Piece(name, "front", named(edges))


def garment(longer: float = 0.0) -> Garment:
    """Two rectangles sewn along their sides from the foot up; the right one is taller by `longer`."""
    pieces = (rectangle("a", TALL, at_left=True), rectangle("b", TALL + longer, at_left=False))
    seam = Seam("middle", (Span("a.seam"),), (Span("b.seam", backwards=True),), ("foot", "top"))
    by_name = {piece.name: piece for piece in pieces}
    return Garment(by_name, {"middle": seam}, origins(*pieces), {}, by_name)


def drawn(whole: Garment, *points: Point, end: int = 0) -> tuple[Match, tuple[Part, ...], Crossing]:
    """A line through places on the table, the pieces together at an end; those right of x = 100 lie on the second."""
    found = from_end(match(whole, whole.seam("middle")), end)
    lies = contact(found, 0.0).placement
    turned = lies.inverse()
    first = tuple(LinePoint(*p) for p in points if p[0] <= 100.0)
    second = tuple(LinePoint(*turned.point(p)) for p in points if p[0] > 100.0)
    parts = (Part(whole.pieces["a"], Placement(), first), Part(whole.pieces["b"], lies, second))
    held, (crossing,) = drawn_across(whole, parts, [found], "mm")
    return found, held, crossing


def test_a_straight_line_passes_the_seam_where_geometry_says() -> None:
    """From (20, 50) to (180, 130) it crosses x = 100 at y = 90, 90 mm from the foot on both pieces."""
    whole = garment()
    _, parts, crossing = drawn(whole, (20.0, 50.0), (180.0, 130.0))
    assert crossing.along == pytest.approx(90.0, abs=0.01)
    assert crossing.apart == pytest.approx(0.0, abs=1e-6)
    for part, point in ((parts[0], parts[0].points[-1]), (parts[1], parts[1].points[0])):
        assert point.place is not None
        assert point.place.end == "foot"
        assert point.place.distance == pytest.approx(90.0, abs=0.01)
        assert resolved_point(whole, part.piece, point.place) == pytest.approx((point.x, point.y), abs=1e-6)
    slopes = [(y - 50.0) / (x - 20.0) for part in parts for x, y in part.on_table if x != 20.0]
    assert slopes == pytest.approx([0.5] * len(slopes))


def test_a_circle_goes_on_over_the_seam_as_one_curve() -> None:
    """Through four points of a circle of 120 mm it crosses at the top of the circle, level on both sides."""
    ring = [(100.0 + 120.0 * cos(radians(t)), 120.0 * sin(radians(t))) for t in (140.0, 110.0, 70.0, 40.0)]
    _, parts, crossing = drawn(garment(), *ring)
    assert crossing.at == pytest.approx((100.0, 120.0), abs=0.3)
    leaves, comes = (fair_curve([(p.x, p.y) for p in part.points]) for part in parts)
    before = end_direction(leaves, at_end=True, chord=5.0)
    after = end_direction(comes, at_end=False, chord=5.0) + parts[1].place.angle
    assert abs(degrees(remainder(after - before, tau))) < 2.0 + degrees(5.0 / 120.0)
    for path in (leaves, parts[1].place.points(comes)):
        off = np.hypot(path[:, 0] - 100.0, path[:, 1]) - 120.0
        assert np.abs(off).max() < 0.5


def test_a_point_on_the_seam_is_where_it_is_passed() -> None:
    """A point that was placed on the first edge is the line's place there, and is kept once."""
    _, parts, crossing = drawn(garment(), (20.0, 50.0), (100.0, 70.0), (180.0, 130.0))
    assert crossing.along == pytest.approx(70.0)
    ends = [point for point in parts[0].points if abs(point.x - 100.0) < 0.01]
    assert len(ends) == 1


@pytest.mark.parametrize(("height", "end", "step"), [(50.0, 0, 0.0), (150.0, 0, 6.0), (150.0, 1, 0.0), (50.0, 1, 6.0)])
def test_edges_of_unequal_length_step_by_their_difference(height: float, end: int, step: float) -> None:
    """Side b is 6 mm longer: a line near the end where they meet is whole; near the other it steps by 6 mm."""
    whole = garment(longer=6.0)
    _, _, crossing = drawn(whole, (20.0, height), (180.0, height), end=end)
    assert crossing.along == pytest.approx(50.0)
    assert crossing.apart == pytest.approx(step, abs=1e-6)
    if step == 0.0:
        refuse_step(crossing, "sheer line", "mm")
        return
    with pytest.raises(Refusal, match=r"would step by 6 mm at the middle: 50 mm from the .* longer"):
        refuse_step(crossing, "sheer line", "mm")


def test_a_line_round_the_end_of_the_seam_is_refused() -> None:
    """Two points above both tops are not joined through the seam: the sentence says what to do."""
    with pytest.raises(Refusal, match="does not pass through the middle between the a and the b: place a point nearer"):
        drawn(garment(), (50.0, 260.0), (150.0, 260.0))


def test_a_seam_told_from_its_other_end_is_the_same_seam() -> None:
    """Told twice from the other end it is as it was; once, chains and ends change about."""
    found = match(garment(), garment().seam("middle"))
    told = from_end(found, 1)
    assert told.seam.ends == ("top", "foot")
    assert told.a[0].points[0].tolist() == [100.0, TALL]
    again = from_end(told, 1)
    assert again.seam.ends == found.seam.ends
    assert [link.reversed for link in again.a] == [link.reversed for link in found.a]


def test_what_is_given_is_left_as_it_was() -> None:
    """Parts are records: the ones that were given hold what they held."""
    whole = garment()
    found = match(whole, whole.seam("middle"))
    lies = contact(found, 0.0).placement
    parts = (
        Part(whole.pieces["a"], Placement(), (LinePoint(20.0, 50.0),)),
        Part(whole.pieces["b"], lies, (LinePoint(80.0, 120.0),)),
    )
    before = [replace(part) for part in parts]
    drawn_across(whole, parts, [found], "mm")
    assert [part.points for part in parts] == [part.points for part in before]


def test_in_the_middle_a_line_keeps_to_the_end_where_the_pieces_meet() -> None:
    """At 120 of 200 mm, side b 6 mm longer, it is counted from the foot where they meet, and does not step."""
    _, _, crossing = drawn(garment(longer=6.0), (20.0, 120.0), (180.0, 120.0))
    assert crossing.seam.seam.ends[0] == "foot"
    assert crossing.along == pytest.approx(120.0)
    assert crossing.apart == pytest.approx(0.0, abs=1e-6)
