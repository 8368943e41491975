"""Walking a seam: an edge rolled along its mate."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from core.checks.walk import walk
from core.errors import Refusal
from core.geometry.placement import about
from core.geometry.polyline import Points, as_points, length
from core.pieces.outline import placed_piece
from core.pieces.records import Edge, Origin, Piece, Seam, Span
from core.pieces.seams import Link, Match, chain_points, match
from tests.samples import replayed

RADIUS = 100.0


def arc(angle: float, radius: float = RADIUS) -> Points:
    """A circle from its lowest point on, counter-clockwise, through the origin at first."""
    turns = np.linspace(0.0, angle, 4001)
    return as_points(np.column_stack((radius * np.sin(turns), radius - radius * np.cos(turns))))


def side(name: str, points: Points) -> Link:
    """A side of one edge on a piece of its own."""
    edge = Edge(name, "seam", points, Origin(name, 0.0, length(points)))
    return Link(Piece(name, "front", (edge,)), edge, False)


def seam(a: Points, b: Points) -> Match:
    """A seam of two single edges."""
    record = Seam("s", (Span("a"),), (Span("b"),), ("top", "foot"))
    return Match(record, (side("a", a),), (side("b", b),), length(a), length(b))


LINE = as_points(((0.0, 0.0), (400.0, 0.0)))


@pytest.mark.parametrize("distance", [0.5, 60.0, 157.0, 310.0])
def test_a_circle_rolls_along_a_line_as_a_wheel_does(distance: float) -> None:
    """A cycloid: rolled by s the centre stands over the contact, and the rim's first point has turned back by s / R."""
    rolled = walk(seam(LINE, arc(pi)), distance)
    assert rolled.placement.point((0.0, RADIUS)) == pytest.approx((distance, RADIUS), abs=0.02)
    turned = distance / RADIUS
    rim = (distance - RADIUS * sin(turned), RADIUS - RADIUS * cos(turned))
    assert rolled.placement.point((0.0, 0.0)) == pytest.approx(rim, abs=0.02)
    assert rolled.at == pytest.approx((distance, 0.0))


@pytest.mark.parametrize("distance", [1.0, 100.0, 250.0])
def test_a_circle_parts_from_its_tangent_where_geometry_says(distance: float) -> None:
    """At arc d past the contact the rim is hypot(d - R sin(d/R), R - R cos(d/R)) away: 0.5 mm near d = 10 mm."""
    parts = walk(seam(LINE, arc(pi)), distance).parts
    assert parts is not None
    ahead = parts - distance
    gap = hypot(ahead - RADIUS * sin(ahead / RADIUS), RADIUS - RADIUS * cos(ahead / RADIUS))
    assert gap == pytest.approx(0.5, abs=0.01)


@given(st.floats(0.0, 1.0), st.floats(-pi, pi))
def test_identical_edges_never_part(share: float, turn: float) -> None:
    """Wherever they are walked to, and however the mate was turned before."""
    curve = arc(2.0)
    other = about((30.0, -20.0), turn).points(curve)
    rolled = walk(seam(curve, other), share * length(curve))
    assert rolled.parts is None
    assert np.abs(rolled.placement.points(other) - curve).max() < 1e-6


def test_an_edge_that_ends_sooner_parts_at_its_end() -> None:
    """Two straight edges of 400 and 380 mm lie together up to 380 mm; within half a millimetre nothing is said."""
    assert walk(seam(LINE, as_points(((0.0, 0.0), (380.0, 0.0)))), 10.0).parts == pytest.approx(380.0)
    assert walk(seam(LINE, as_points(((0.0, 0.0), (399.6, 0.0)))), 10.0).parts is None


def test_walking_past_an_end_stays_at_the_end() -> None:
    """Nobody walks off the edge."""
    found = seam(LINE, arc(pi))
    assert walk(found, 1e6).at == pytest.approx((length(arc(pi)), 0.0), abs=1e-6)
    assert walk(found, -5.0).at == (0.0, 0.0)


def test_panels_cut_apart_lie_together_again_along_their_line() -> None:
    """The two sides of a cut are one line: the sheer line's never part on the piece that is walked."""
    garment = replayed("concert").garment
    found = match(garment, garment.seam("front.sheer_line"))
    for distance in (0.0, 40.0, found.length_a - 1.0):
        rolled = walk(found, distance)
        assert rolled.parts is None
        laid = placed_piece(rolled.moving.piece, rolled.placement).edge(rolled.moving.edge.name)
        assert max(np.hypot(*(chain_points(found.a) - p).T).min() for p in laid.points) < 0.1


def test_a_side_of_two_pieces_hands_over_from_one_to_the_next() -> None:
    """Past the princess seam it is the next panel that is laid to the yoke."""
    garment = replayed("concert").garment
    found = match(garment, garment.seam("front.sheer_line"))
    first = found.b[0].edge.length
    assert walk(found, first - 1.0).moving is found.b[0]
    assert walk(found, first + 1.0).moving is found.b[1]


def test_a_seam_that_lost_a_side_cannot_be_walked() -> None:
    """It is refused by name."""
    garment = replayed("concert").garment
    found = match(garment, garment.seam("side"))
    with pytest.raises(Refusal, match="The seam side has lost a side"):
        walk(replace(found, b=()), 0.0)
