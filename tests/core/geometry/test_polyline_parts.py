"""Polylines cut, joined and closed again."""

from __future__ import annotations

from math import atan2, pi

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint

from core.geometry.placement import Placement
from core.geometry.polyline import (
    as_points,
    backwards,
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
    with_ends,
)

CORNER = as_points([(0, 0), (30, 0), (30, 40)])


def test_cut_in_three_the_parts_meet_bit_for_bit() -> None:
    """At a third and at the corner itself, which belongs to both its neighbours."""
    parts = cut_at(CORNER, [70.0 / 3.0, 30.0])
    assert [length(part) for part in parts] == pytest.approx([70.0 / 3.0, 30.0 - 70.0 / 3.0, 40.0])
    assert (parts[0][-1] == parts[1][0]).all()
    assert (parts[1][-1] == parts[2][0]).all()
    assert parts[2].tolist() == [[30.0, 0.0], [30.0, 40.0]]
    assert cut_at(CORNER, [])[0].tolist() == CORNER.tolist()


def test_a_stretch_keeps_ends_and_vertices() -> None:
    """The ends come out bit for bit; a vertex within a millionth of an end is not doubled."""
    assert between(CORNER, 0.0, 70.0).tolist() == CORNER.tolist()
    assert between(CORNER, 30.0 - 5e-7, 70.0).tolist()[1:] == [[30.0, 40.0]]
    assert between(CORNER, 0.0, 30.0 + 5e-7).tolist()[:-1] == [[0.0, 0.0]]
    assert between(CORNER, 10.0, 20.0).tolist() == [[10.0, 0.0], [20.0, 0.0]]


def test_a_stretch_begins_where_it_is_told_to() -> None:
    """Half a millimetre from the start is not the start."""
    assert between(CORNER, 0.5, 69.5).tolist() == [[0.5, 0.0], [30.0, 0.0], [30.0, 39.5]]


def test_the_place_at_a_vertex_is_the_vertex() -> None:
    """Bit for bit, whatever its numbers are."""
    points = as_points(np.random.default_rng(4).uniform(-300.0, 300.0, (200, 2)))
    for vertex, along in zip(points.tolist(), distances(points).tolist(), strict=True):
        assert point_at(points, along) == tuple(vertex)


def test_the_nearest_place_lies_on_the_shortest_segment_too() -> None:
    """On a circle drawn in chords of 0.1 mm, against shapely."""
    angles = np.linspace(0.0, 2 * pi, 1258)
    circle = as_points(20.0 * np.column_stack((np.cos(angles), np.sin(angles))))
    line = LineString(circle)
    for place in np.random.default_rng(6).uniform(-40.0, 40.0, (50, 2)):
        along, gap = nearest(circle, place)
        assert gap == pytest.approx(line.distance(PlanePoint(place)), abs=1e-9)
        assert along == pytest.approx(line.project(PlanePoint(place)), abs=1e-6)


@given(st.lists(st.floats(0.0, 70.0), max_size=4).map(sorted))
def test_parts_meet_bit_for_bit_wherever_they_are_cut(cuts: list[float]) -> None:
    """Also at the very ends and twice in one place."""
    slanting = as_points([(0.1, 0.2), (18.3, 24.4), (57.7, 24.9)])
    parts = cut_at(slanting, cuts)
    assert [part[-1].tolist() for part in parts[:-1]] == [part[0].tolist() for part in parts[1:]]
    assert [parts[0][0].tolist(), parts[-1][-1].tolist()] == [slanting[0].tolist(), slanting[-1].tolist()]


@pytest.mark.parametrize("size", [0.01, 1.0, 100.0])
@pytest.mark.parametrize(("short", "meets"), [(0.0, True), (5e-7, True), (2e-6, False)])
def test_lines_that_lack_less_than_a_millionth_of_touching_do(size: float, short: float, *, meets: bool) -> None:
    """Of a T, the stem begun or ended at the bar, the one or the other named first; long and short alike."""
    bar, stem = as_points([(0, -size), (0, size)]), as_points([(short, 0), (short + size, 0)])
    for line, at in ((stem, 0.0), (backwards(stem), size)):
        assert crossings(line, bar) == ([pytest.approx((at, size))] if meets else [])
        assert crossings(bar, line) == ([pytest.approx((size, at))] if meets else [])
        assert all(along <= length(line) for along, _ in crossings(line, bar))


@pytest.mark.parametrize("seed", range(6))
def test_two_wandering_lines_cross_where_shapely_says(seed: int) -> None:
    """In and out of each other's reach, at every place once, rising along the first."""
    chance = np.random.default_rng(seed)
    first, second = (as_points(np.cumsum(chance.normal(size=(count, 2)), axis=0) * 20.0) for count in (40, 30))
    line, other = LineString(first), LineString(second)
    met = shapely.get_parts(line.intersection(other))
    found = crossings(first, second)
    assert len(found) == len(met) > 3
    assert [along for along, _ in found] == pytest.approx(sorted(line.project(place) for place in met), abs=1e-6)
    assert sorted(along for _, along in found) == pytest.approx(sorted(other.project(place) for place in met), abs=1e-6)


@pytest.mark.parametrize("turn", [0.0, pi / 2, pi, -pi / 2])
def test_a_line_that_comes_from_outside_and_goes_back_crosses_twice(turn: float) -> None:
    """From whichever side of a short upright, beyond which it turns."""
    place = Placement(turn)
    upright, visit = as_points([(0, -5), (0, 5)]), as_points([(-55, 0), (5, 1), (-55, 2)])
    found = crossings(place.points(visit), place.points(upright))
    assert [along for _, along in found] == pytest.approx([5 + 55 / 60, 6 + 5 / 60])


def test_a_line_that_crosses_itself_on_another_meets_it_twice_there() -> None:
    """At one place of the other, at two of its own."""
    level = as_points([(-10, 0), (10, 0)])
    looped = as_points([(0, -10), (0, 10), (10, 10), (-10, -10)])
    other = 30.0 + 200.0**0.5
    assert crossings(level, looped) == [pytest.approx((10.0, 10.0)), pytest.approx((10.0, other))]
    assert crossings(looped, level) == [pytest.approx((10.0, 10.0)), pytest.approx((other, 10.0))]


def test_crossings_two_millionths_apart_are_two() -> None:
    """A point with square sides that pokes through by 0.95 millionths: 1.9 apart on the one, 2.7 along the point."""
    level, tip = as_points([(-1, 0), (1, 0)]), as_points([(-1, 1 - 9.5e-7), (0, -9.5e-7), (1, 1 - 9.5e-7)])
    assert len(crossings(level, tip)) == len(crossings(tip, level)) == 2


def test_an_area_is_the_same_wherever_its_loop_lies() -> None:
    """A triangle of 6 mm² begun at any of its corners, a kilometre off."""
    for k in range(3):
        assert signed_area(as_points(np.roll([(1e6, 2e6), (1e6 + 4, 2e6), (1e6, 2e6 + 3)], k, axis=0))) == 6.0


def test_joining_drops_a_point_that_is_there_already() -> None:
    """Also where a part is nothing but that point; a part that begins elsewhere is kept whole."""
    first, corner, last = as_points([(0, 0), (30, 0)]), as_points([(30, 0)]), as_points([(30, 0), (30, 40)])
    assert joined([first, corner, last]).tolist() == CORNER.tolist()
    assert joined([first, as_points([(30, 1), (30, 40)])]).tolist() == [[0, 0], [30, 0], [30, 1], [30, 40]]
    assert not joined([first, last]).flags.writeable


def test_ends_are_put_where_neighbours_end() -> None:
    """The first, the last, both or neither; the polyline given stays as it was."""
    assert with_ends(CORNER, first=(1, 2)).tolist() == [[1, 2], [30, 0], [30, 40]]
    assert with_ends(CORNER, last=(3, 4)).tolist() == [[0, 0], [30, 0], [3, 4]]
    assert with_ends(CORNER).tolist() == CORNER.tolist() == [[0, 0], [30, 0], [30, 40]]
    assert not with_ends(CORNER, last=(3, 4)).flags.writeable


def test_lines_whose_boxes_meet_need_not_cross() -> None:
    """A short line in the bend of a large L, beside both its arms, and one beside a slanting line."""
    bend = as_points([(0, 0), (0, 100), (100, 100)])
    assert crossings(as_points([(50, 10), (60, 20)]), bend) == []
    assert crossings(as_points([(0, 0), (10, 10)]), as_points([(4, -5), (4, 1), (20, 1)])) == []
    assert crossings(as_points([(0, 0), (10, 0)]), as_points([(0, 5), (10, 5)])) == []


def test_between_vertices_on_one_another_there_is_a_place() -> None:
    """A segment of no length is passed over."""
    assert point_at(as_points([(0, 0), (0, 0), (5, 0)]), 0.0) == (0.0, 0.0)
    assert point_at(as_points([(0, 0), (5, 0), (5, 0)]), 5.0) == (5.0, 0.0)


def test_beyond_its_ends_a_line_goes_on_as_it_ended() -> None:
    """Its direction before the start is that of its first segment, after the end that of its last; inside, its own."""
    bent = as_points([(0, 0), (30, 0), (30, 40), (0, 40)])
    assert [tangent_at(bent, at) for at in (-5.0, 0.0, 29.0, 31.0, 69.0, 71.0, 100.0, 900.0)] == pytest.approx(
        [0.0, 0.0, 0.0, pi / 2, pi / 2, pi, pi, pi]
    )
    # Over 50 mm from the start: 30 along and 20 up; over the last 50: 20 up and 30 back; no more than all of it.
    assert end_direction(bent, at_end=False, chord=50.0) == pytest.approx(atan2(20, 30))
    assert end_direction(bent, at_end=True, chord=50.0) == pytest.approx(atan2(20, -30))
    assert end_direction(bent, at_end=True, chord=500.0) == pytest.approx(pi / 2)
