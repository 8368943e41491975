"""Unions, the roomiest place, and stretches inside: against cases worked out by hand."""

from __future__ import annotations

from math import sqrt

import pytest
from shapely.geometry import LinearRing, Polygon

from core.geometry.planar import outer_loop, roomiest, stretch_inside
from core.geometry.polyline import Points, as_points, length


def rectangle(left: float, bottom: float, right: float, top: float) -> Points:
    """Its corners, counter-clockwise."""
    return as_points([(left, bottom), (right, bottom), (right, top), (left, top)])


def test_loops_laid_together_are_one_loop() -> None:
    """Two rectangles that overlap by half: 150 x 50 mm, counter-clockwise."""
    loop = outer_loop([rectangle(0, 0, 100, 50), rectangle(50, 0, 150, 50)])
    assert Polygon(loop).area == pytest.approx(7500.0)
    assert LinearRing(loop).is_ccw


def test_no_crack_stays_between_sides_that_differ_by_rounding() -> None:
    """Two rectangles a billionth of a millimetre apart have four corners together, and no spike between them."""
    loop = outer_loop([rectangle(0, 0, 100, 50), rectangle(0, 50 + 1e-9, 100, 100)])
    assert Polygon(loop).area == pytest.approx(10000.0)
    assert LinearRing(loop).length == pytest.approx(400.0, abs=1e-4)


def test_holes_are_filled_and_parts_taken_away() -> None:
    """A frame of four bars is a full square; less its right half it is half as large."""
    bars = [rectangle(0, 0, 90, 10), rectangle(0, 80, 90, 90), rectangle(0, 0, 10, 90), rectangle(80, 0, 90, 90)]
    assert Polygon(outer_loop(bars)).area == pytest.approx(8100.0)
    half = outer_loop([rectangle(0, 0, 90, 90)], [rectangle(45, -5, 100, 100)])
    assert Polygon(half).area == pytest.approx(4050.0)


def test_of_parts_that_do_not_hang_together_the_largest_counts() -> None:
    """A chip beside a piece is not its outline."""
    assert Polygon(outer_loop([rectangle(0, 0, 10, 10), rectangle(50, 0, 150, 50)])).area == pytest.approx(5000.0)


def test_the_roomiest_place_of_a_triangle_is_its_incircle() -> None:
    """3-4-5: the incircle has radius 1 unit, its middle 1 unit from both short sides."""
    (x, y), radius = roomiest(as_points([(0, 0), (300, 0), (0, 400)]))
    assert (x, y) == pytest.approx((100.0, 100.0), abs=2.0)
    assert radius == pytest.approx(100.0, abs=1.0)


def test_room_keeps_clear_of_loops_lines_and_the_box() -> None:
    """In a strip of 100 x 300: a hole leaves the upper part, a line halves it, a box cuts it."""
    strip = rectangle(0, 0, 100, 300)
    (_, y), radius = roomiest(strip, [rectangle(0, 0, 100, 180)])
    assert y == pytest.approx(240.0, abs=11.0)
    assert radius == pytest.approx(50.0, abs=1.0)
    (x, _), radius = roomiest(strip, lines=[as_points([(60, -10), (60, 310)])], clear=2.0)
    assert x == pytest.approx(29.0, abs=1.0)
    assert radius == pytest.approx(29.0, abs=1.0)
    (_, y), radius = roomiest(strip, box=(0.0, 280.0, 100.0, 400.0))
    assert y == pytest.approx(290.0, abs=1.0)
    assert radius == pytest.approx(10.0, abs=1.0)


def test_a_line_is_kept_clear_of_by_a_millimetre_if_nothing_else_is_said() -> None:
    """Along the side of a strip of 1.9 mm there is room beside it; beside two lines there is none."""
    strip, side = rectangle(0, 0, 1.9, 300), as_points([(1.9, 0), (1.9, 300)])
    assert roomiest(strip, lines=[side])[1] > 0.0
    assert roomiest(strip, lines=[side, as_points([(0.0, 0), (0.0, 300)])])[1] == 0.0


def test_there_is_no_room_where_nothing_is_left() -> None:
    """A box beside the loop."""
    assert roomiest(rectangle(0, 1, 10, 10), box=(50.0, 50.0, 60.0, 60.0)) == ((0.0, 1.0), 0.0)
    assert roomiest(rectangle(0, 0, 0.9, 0.9))[1] == 0.0, "less than a square millimetre"
    assert roomiest(rectangle(0, 0, 1.3, 1.3))[1] > 0.0


def test_a_stretch_is_cut_at_the_outline_and_at_what_is_left_out() -> None:
    """Across a square of 100 with a hole in its right half: from the left side to the hole."""
    line = as_points([(-50, 40), (150, 40)])
    stretch = stretch_inside(rectangle(0, 0, 100, 100), line, (30.0, 40.0), [rectangle(60, 0, 80, 100)])
    assert stretch is not None
    assert length(stretch) == pytest.approx(60.0)
    slanting = as_points([(-50, -50), (150, 150)])
    whole = stretch_inside(rectangle(0, 0, 100, 100), slanting, (50.0, 50.0))
    assert whole is not None
    assert length(whole) == pytest.approx(100.0 * sqrt(2))


def test_a_place_off_every_stretch_has_none() -> None:
    """In the hole, or outside."""
    line = as_points([(-50, 40), (150, 40)])
    square, hole = rectangle(0, 0, 100, 100), rectangle(60, 0, 80, 100)
    assert stretch_inside(square, line, (70.0, 40.0), [hole]) is None
    assert stretch_inside(square, line, (120.0, 40.0)) is None
    assert stretch_inside(square, line, (30.0, 40.5)) is None
