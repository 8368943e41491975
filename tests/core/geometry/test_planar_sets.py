"""Sets of the plane through the one door: what lies inside, what meets, what is laid together and what is grown."""

from __future__ import annotations

from math import pi
from typing import Any

import numpy as np
import pytest
import shapely
from shapely.geometry import LinearRing, Polygon

from core.geometry import planar
from core.geometry.polyline import Points, as_points

SQUARE = as_points([(0, 0), (10, 0), (10, 10), (0, 10)])


def test_a_place_a_little_outside_counts_where_slack_is_given() -> None:
    """At 1 mm and at 3 mm beside a side: the first is in with 2 mm of slack, beside a corner only by its distance."""
    places = as_points([(5, 5), (11, 5), (13, 5), (11.3, 11.3), (11.5, 11.5)])
    assert planar.inside(SQUARE, places).tolist() == [True, False, False, False, False]
    # The corner lies 1.3 times the root of two, 1.84 mm, from the one and 2.12 mm from the other.
    assert planar.inside(SQUARE, places, slack=2.0).tolist() == [True, True, False, True, False]
    assert planar.inside(SQUARE, places[:1], slack=2.0).tolist() == [True]


def test_of_many_loops_each_says_what_lies_in_it() -> None:
    """Two squares side by side, five places, each place with a slack of its own; none, where all lie inside."""
    loops = [SQUARE, as_points(np.add(SQUARE, (20.0, 0.0)))]
    places = as_points([(5, 5), (11, 5), (11, 6), (25, 5), (18, 5)])
    assert planar.inside_each(loops, places, slack=(0.0, 0.0, 1.5, 9.0, 2.0)).tolist() == [
        [True, False, True, False, False],
        [False, False, False, True, True],
    ]
    assert planar.inside_each(loops, places[1:2]).tolist() == [[False], [False]]
    assert planar.inside_each(loops[:1], places[:1], slack=1.0).tolist() == [[True]]


@pytest.mark.parametrize(
    ("path", "touches"),
    [
        ([(0, 5), (5, 5), (10, 5)], False),
        ([(0, 5), (0.3, 5), (5, 5), (9.8, 5), (10, 5)], False),
        ([(0, 5), (5, 5), (5, 0.4), (6, 5), (10, 5)], True),
        ([(0, 5), (5, 5), (5, 0.6), (6, 5), (10, 5)], False),
        ([(5, 5), (5, 0), (6, 5)], True),
        ([(5, 5), (6, 5)], False),
        ([(0, 5), (0, 6)], False),
        ([(0, 5), (5, 5), (9.7, 5), (9.8, 5), (10, 5)], False),
        ([(0, 5), (0.2, 5), (0.3, 5), (5, 5), (10, 5)], False),
    ],
    ids=range(9),
)
def test_a_line_that_comes_back_to_the_outline_touches_it(path: list[tuple[float, float]], touches: bool) -> None:
    """Within half a millimetre of a square's side, at neither of the line's own ends."""
    assert planar.touches_outline(SQUARE, as_points(path), within=0.5) is touches


def test_many_lines_meet_another_each_for_itself() -> None:
    """A level line at 4 mm meets an upright once, a V twice, one that runs along it at both ends of what is common."""
    level = as_points([(0, 4), (20, 4)])
    upright, v_shape = as_points([(5, 0), (5, 10)]), as_points([(0, 10), (5, 0), (10, 10)])
    along, away = as_points([(15, 0), (15, 4), (18, 4), (18, 9)]), as_points([(0, 20), (9, 20)])
    found = planar.meetings([upright, v_shape, along, away], level)
    side = np.hypot(5.0, 10.0)
    assert found[0] == pytest.approx([4.0])
    assert found[1] == pytest.approx([0.6 * side, 1.4 * side])
    assert found[2] == pytest.approx([4.0, 7.0])
    assert found[3] == []


def test_a_line_is_cut_into_the_parts_inside_a_box() -> None:
    """In and out twice, touching a corner once: two parts, of the lengths inside."""
    path = as_points([(-5, 5), (5, 5), (5, 15), (8, 15), (8, 2), (12, -2)])
    parts = planar.clipped(path, (0.0, 0.0, 10.0, 10.0))
    assert [np.hypot(*np.diff(part, axis=0).T).sum() for part in parts] == pytest.approx([10.0, 8.0 + 2.0 * np.sqrt(2)])
    assert planar.clipped(path, (20.0, 20.0, 30.0, 30.0)) == []
    short = planar.clipped(path, (4.5, 4.0, 9.0, 5.5))
    assert [np.hypot(*np.diff(part, axis=0).T).sum() for part in short] == pytest.approx([1.0, 1.5])


def test_the_farthest_place_counts_also_between_vertices() -> None:
    """A tent of 5 mm over a straight line: its top is 5 mm off, whichever of the two is asked first (Hausdorff)."""
    flat, tent = as_points([(0, 0), (20, 0)]), as_points([(0, 0), (10, 5), (20, 0)])
    assert planar.farthest_apart(flat, tent) == planar.farthest_apart(tent, flat) == 5.0
    # The example in the manual of PostGIS's ST_HausdorffDistance, 14.14 by vertices alone and 70 between (from memory).
    long, beside = as_points([(130, 0), (0, 0), (0, 150)]), as_points([(10, 10), (10, 150), (130, 10)])
    assert planar.farthest_apart(long, beside) == pytest.approx(70.0)


@pytest.mark.parametrize("failing", [1, 2, 3])
def test_a_union_that_fails_on_a_grid_is_tried_on_another(monkeypatch: pytest.MonkeyPatch, failing: int) -> None:
    """GEOS sometimes cannot put loops together on a grid: the next coarser one is taken, in the end none."""
    real, union_all = shapely.difference, shapely.union_all
    grids: list[float | None] = []
    laid: list[float | None] = []

    def recorded(polygons: Any, **grid: Any) -> Any:  # noqa: ANN401 # as shapely has it
        laid.extend(grid.values())
        return union_all(polygons, **grid)

    def difference(whole: Any, less: Any, grid_size: float | None) -> Any:  # noqa: ANN401 # as shapely has it
        grids.append(grid_size)
        if len(grids) <= failing:
            raise shapely.GEOSException
        return real(whole, less, grid_size=grid_size)

    monkeypatch.setattr(shapely, "difference", difference)
    monkeypatch.setattr(shapely, "union_all", recorded)
    more = [SQUARE, as_points(np.add(SQUARE, (5.0, 0.0)))]
    loop = planar.outer_loop(more, [as_points(np.add(SQUARE, (12.0, 0.0)))])
    assert Polygon(loop).area == pytest.approx(120.0)
    assert [grid and round(grid, 9) for grid in grids] == [1e-6, 1e-5, 1e-4, None][: failing + 1]
    assert laid == grids


def area_within(by: float) -> float:
    """Of all within a distance of the square: itself, four strips, four quarter discs (Steiner's formula)."""
    return 100.0 + 40.0 * by + pi * by * by


@pytest.mark.parametrize("loop", [SQUARE, as_points(SQUARE[::-1])])
def test_a_square_is_grown_round_its_corners(loop: Points) -> None:
    """Within 5 mm of it lies what Steiner's formula says; few points, counter-clockwise, holding all but the slack."""
    grown = planar.grown(loop, 5.0, slack=0.2)
    assert LinearRing(grown).is_ccw
    assert area_within(4.8) <= Polygon(grown).area <= area_within(5.0)
    assert Polygon(grown).buffer(1e-6).contains(Polygon(SQUARE).buffer(4.8))
    assert len(grown) <= 24


def test_what_closes_over_is_filled() -> None:
    """A C whose mouth is 2 mm wide has no hole left once it is grown by 3 mm."""
    mouth = as_points(
        [
            (0, 0),
            (30, 0),
            (30, 14),
            (20, 14),
            (20, 10),
            (10, 10),
            (10, 20),
            (20, 20),
            (20, 16),
            (30, 16),
            (30, 30),
            (0, 30),
        ]
    )
    grown = Polygon(planar.grown(mouth, 3.0, slack=0.1))
    assert grown.contains(shapely.Point(15, 15))
    assert grown.contains(shapely.Point(25, 15))
