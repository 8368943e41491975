"""Polylines: lengths, places, cuts and crossings, against plane geometry and shapely."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from core.geometry.polyline import (
    as_points,
    between,
    crossings,
    cut_at,
    distances,
    end_direction,
    joined,
    length,
    nearest,
    point_at,
    signed_area,
    tangent_at,
)

CORNER = as_points([(0, 0), (30, 0), (30, 40)])
RANDOM = np.random.default_rng(7)


def wander(count: int = 12) -> LineString:
    """A random walk as shapely sees it."""
    return LineString(np.cumsum(RANDOM.normal(size=(count, 2)) * 20, axis=0))


def test_lengths_and_places_on_a_right_angle() -> None:
    """30 along, 40 up: 70 long, the corner at 30, half way up at 50."""
    assert length(CORNER) == 70.0
    assert distances(CORNER).tolist() == [0.0, 30.0, 70.0]
    assert point_at(CORNER, 50.0) == (30.0, 20.0)
    assert point_at(CORNER, 900.0) == (30.0, 40.0)
    assert tangent_at(CORNER, 30.0) == pytest.approx(pi / 2)
    assert end_direction(CORNER, at_end=False, chord=5.0) == 0.0


def test_arrays_are_read_only_and_finite() -> None:
    """Nobody can alter a polyline, and none holds what is not a number."""
    with pytest.raises(ValueError, match="read-only"):
        CORNER[0] = 1.0
    with pytest.raises(ValueError, match="finite"):
        as_points([(0, 0), (float("nan"), 1)])
    with pytest.raises(ValueError, match="shape"):
        as_points([1.0, 2.0])


@pytest.mark.parametrize("seed", range(8))
def test_nearest_and_length_agree_with_shapely(seed: int) -> None:
    """`project` and `distance` of shapely say the same."""
    line = wander()
    points = as_points(line.coords)
    place = np.random.default_rng(seed).normal(size=2) * 40
    along, gap = nearest(points, place)
    assert length(points) == pytest.approx(line.length)
    assert gap == pytest.approx(LineString([place, place + 1e-9]).distance(line), abs=1e-6)
    assert line.interpolate(along).distance(line.interpolate(line.project(LineString([place, place]).centroid))) < 1e-6


@given(st.floats(1.0, 69.0))
def test_cutting_and_joining_gives_the_polyline_back(place: float) -> None:
    """The parts meet bit for bit and their lengths add up."""
    first, second = cut_at(CORNER, [place])
    assert (first[-1] == second[0]).all()
    assert length(first) == pytest.approx(place, abs=1e-9)
    assert length(joined((first, second))) == pytest.approx(70.0)


def test_between_keeps_the_vertices_inside() -> None:
    """From 10 to 50 mm on the right angle: the corner stays."""
    assert between(CORNER, 10.0, 50.0).tolist() == [[10.0, 0.0], [30.0, 0.0], [30.0, 20.0]]


def test_crossings_of_a_cross_and_at_a_vertex() -> None:
    """Each crossing is told once, even where it is met by two segments."""
    bar = as_points([(10, -5), (10, 5)])
    assert crossings(CORNER, bar) == [(10.0, 5.0)]
    through_corner = as_points([(20, -10), (40, 10)])
    assert crossings(CORNER, through_corner)[0] == pytest.approx((30.0, 200**0.5))
    assert len(crossings(CORNER, through_corner)) == 1
    assert crossings(CORNER, as_points([(0, 50), (9, 50)])) == []


def test_signed_area_is_positive_counter_clockwise() -> None:
    """A 3-4-5 triangle holds 6, and shapely agrees on a random polygon."""
    assert signed_area(as_points([(0, 0), (4, 0), (0, 3)])) == 6.0
    assert signed_area(as_points([(0, 0), (0, 3), (4, 0)])) == -6.0
    ring = Polygon(RANDOM.normal(size=(20, 2))).convex_hull.boundary
    assert abs(signed_area(as_points(ring.coords[:-1]))) == pytest.approx(Polygon(ring.coords).area)
