"""Dart caps: folded, cut along the seam, unfolded."""

from __future__ import annotations

from math import pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint

from core.finishing.caps import cap_of
from core.finishing.finish import cutting_line
from core.geometry.polyline import Point, Points, as_points, joined
from core.pieces.outline import bridge, named
from core.pieces.records import Dart, Edge, EdgeKind, Origin, Piece
from core.pieces.truing import base_trued

TIP = (100.0, 100.0)


def edge(name: str, kind: EdgeKind, *points: Point) -> Edge:
    """An edge of straight lines."""
    row = as_points(points)
    return Edge(name, kind, row, Origin(f"block.{name}", 0.0, float(np.hypot(*np.diff(row, axis=0).T).sum())))


def skirt(angle: float, *, slope: float = 0.0, before: float = 0.0, point: Point = TIP) -> Piece:
    """A piece with a fold at x = 0 and a dart upright at x = 100 in its lower edge.

    The edge falls towards the dart by `slope` on both sides; it begins at x = `before`.
    """
    half = 100.0 * tan(angle / 2)
    first, last = (100.0 - half, 0.0), (100.0 + half, 0.0)
    rise = slope * (100.0 - half - before)
    edges = named(
        (
            edge("fold", "fold", (before, 200.0), (before, rise)),
            edge("hem_a", "seam", (before, rise), first),
            bridge("block.dart", first, last),
            edge("hem_b", "seam", last, (200.0, slope * (100.0 - half))),
            edge("side", "seam", (200.0, slope * (100.0 - half)), (200.0, 200.0)),
            edge("top", "seam", (200.0, 200.0), (before, 200.0)),
        )
    )
    return Piece("skirt", "block", edges, (Dart("block.dart", TIP, (first, last), "dart", point),))


def folded(points: Points, start: Point, towards: Point) -> Points:
    """The points reflected in a line: cloth folded over it."""
    way = np.subtract(towards, start) / np.hypot(*np.subtract(towards, start))
    off = points - np.array(start)
    return as_points(np.array(start) + 2 * (off @ way)[:, None] * way - off)


def test_the_cap_of_a_straight_edge_is_two_mirrored_slopes() -> None:
    """With legs of half angle 15 degrees and a straight edge, the cap falls by half the intake times tan 30 degrees."""
    piece = skirt(radians(30.0))
    half = 100.0 * tan(radians(15.0))
    kind, lines = cap_of(piece, piece.darts[0], 12.7)
    assert kind == "cap"
    assert joined(lines) == pytest.approx(
        np.array([(100.0 - half, 0.0), (100.0, -half * tan(radians(30.0))), (100.0 + half, 0.0)]), abs=1e-9
    )


@given(st.floats(2.0, 50.0), st.floats(-0.15, 0.4), st.floats(3.0, 25.0), st.floats(0.0, 40.0))
def test_folded_the_dart_is_cut_along_the_seam(degrees: float, slope: float, wide: float, set_back: float) -> None:
    """Fold the paper over the sewn leg: the cutting line in the wedge lies on that of the edge it is pressed against.

    Folded once more at the dart's middle, its other half does too. The sewn point may stand back from the pivot.
    """
    piece = skirt(radians(degrees), slope=slope, point=(100.0, 100.0 - set_back))
    dart = piece.darts[0]
    line, caps = cutting_line(piece, dict.fromkeys((e.name for e in piece.edges), wide) | {"fold": 0.0})
    if caps[dart.name] != "cap":
        return
    away = np.array((1.0, -slope)) / np.hypot(1.0, slope)
    outside = dart.legs[0] + wide * np.array((away[1], -away[0]))
    hem = LineString([outside - 400.0 * away, outside + 400.0 * away])
    inside = [p for p in line.tolist() if _in_wedge(dart, p) and p[1] < 20.0]
    assert inside
    for place in inside:
        half = as_points([place, place])
        if place[0] > 100.0:
            half = folded(half, dart.point, (100.0, -50.0))
        onto = folded(half, dart.point, dart.legs[0])[0]
        assert hem.distance(PlanePoint(onto)) == pytest.approx(0.0, abs=0.05)


def _in_wedge(dart: Dart, place: Point) -> bool:
    """Whether a place lies between the sewn legs, run on."""
    turns = [np.arctan2(p[1] - dart.point[1], p[0] - dart.point[0]) for p in (dart.legs[0], place, dart.legs[1])]
    return bool(turns[0] <= turns[1] <= turns[2])


def test_a_cap_that_would_lie_inside_the_base_is_left_straight() -> None:
    """Where the edge falls steeply to the dart, the straight base is the larger and is kept."""
    piece = skirt(radians(20.0), slope=0.5)
    kind, lines = cap_of(piece, piece.darts[0], 12.7)
    assert kind == "straight"
    assert (lines[0] == piece.edge("dart").points).all()


def test_a_dart_wider_than_the_edge_beside_it_is_cut_open() -> None:
    """Half an intake of 58 mm finds only 30 mm of edge: the dart is cut open, with allowances on both legs."""
    piece = skirt(radians(60.0), before=12.0)
    kind, lines = cap_of(piece, piece.darts[0], 12.7)
    assert kind == "cut open"
    assert joined(lines)[1].tolist() == [100.0, 100.0]
    line, _ = cutting_line(piece, dict.fromkeys((e.name for e in piece.edges), 12.7) | {"fold": 0.0})
    # Inside the wedge the cutting line runs 12.7 mm from the legs: they meet 12.7 / sin 30 degrees below the point.
    deepest = line[np.abs(line[:, 0] - 100.0) < 1e-6][:, 1]
    assert min(deepest) == pytest.approx(100.0 - 12.7 / sin(pi / 6), abs=1e-6)


def test_a_narrow_dart_beside_a_short_edge_keeps_its_straight_base() -> None:
    """There is no room in it for allowances on the legs."""
    piece = skirt(radians(10.0), before=88.0)
    assert cap_of(piece, piece.darts[0], 12.7)[0] == "straight"


def test_pressed_the_other_way_the_cap_is_the_mirror_image() -> None:
    """On the back the centre lies on the other side; the cap continues the edge there."""
    piece = skirt(radians(30.0), slope=0.1)
    flipped = named(
        Edge(e.name, e.kind, as_points(e.points[::-1] * (-1.0, 1.0)), e.origin) for e in reversed(piece.edges)
    )
    dart = piece.darts[0]
    tip, legs = (-100.0, 100.0), tuple((-x, y) for x, y in reversed(dart.legs))
    other = Piece("back", "block", flipped, (Dart(dart.name, tip, (legs[0], legs[1]), "dart", tip),))
    here, there = joined(cap_of(piece, dart, 12.7)[1]), joined(cap_of(other, other.darts[0], 12.7)[1])
    assert there == pytest.approx(here[::-1] * (-1.0, 1.0), abs=1e-9)


def test_a_trued_base_is_cut_as_it_was_trued() -> None:
    """Pressed to the side, where the edge rises, the base is not capped towards the centre a second time."""
    piece = skirt(radians(30.0), slope=0.1)
    trued = base_trued(piece, piece.darts[0], 1)
    kind, lines = cap_of(trued, trued.darts[0], 12.7)
    assert kind == "cap"
    assert (joined(lines) == trued.edge("dart").points).all()
    line, _ = cutting_line(trued, dict.fromkeys((e.name for e in piece.edges), 12.7) | {"fold": 0.0})
    deepest = trued.edge("dart").points[:, 1].min()
    assert LineString(line).distance(PlanePoint(100.0, deepest)) == pytest.approx(12.7, abs=0.01)
