"""Rigid placements keep lengths and can be undone."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.placement import Placement, about, angle_between, gap, laying, mirrored, reflected
from core.geometry.polyline import as_points, length, signed_area

SQUARE = as_points([(0, 0), (10, 0), (10, 10), (0, 10)])
number = st.floats(-500, 500)
placements = st.builds(Placement, st.floats(-7, 7), number, number)


def test_a_quarter_turn_about_a_point() -> None:
    """(11, 5) about (10, 5) comes to (10, 6); the point itself stays."""
    turn = about((10, 5), pi / 2)
    assert turn.point((11, 5)) == pytest.approx((10, 6))
    assert turn.point((10, 5)) == pytest.approx((10, 5))


def test_a_turn_then_a_shift_is_not_a_shift_then_a_turn() -> None:
    """A quarter turn takes (3, 4) to (-4, 3); 10 to the right before it is 10 up after it."""
    turn, shift = Placement(pi / 2), Placement(0.0, 10.0, 0.0)
    assert turn.then(shift).point((3, 4)) == pytest.approx((6, 3))
    assert shift.then(turn).point((3, 4)) == pytest.approx((-4, 13))
    assert shift.then(turn).points(as_points([(3, 4), (0, 0)])) == pytest.approx(np.array([(-4.0, 13.0), (0.0, 10.0)]))
    assert shift.then(turn).inverse().point((-4, 13)) == pytest.approx((3, 4))


@given(placements, placements)
def test_one_after_the_other_and_back(first: Placement, second: Placement) -> None:
    """`then` is doing both in turn, `inverse` undoes, lengths stay."""
    both = first.then(second)
    assert both.point((3, 4)) == pytest.approx(second.point(first.point((3, 4))), abs=1e-7)
    assert both.then(both.inverse()).point((3, 4)) == pytest.approx((3, 4), abs=1e-7)
    assert length(both.points(SQUARE)) == pytest.approx(30.0)


def test_laying_an_edge_on_its_mate() -> None:
    """The start falls on the mate's start and the edge along the mate."""
    place = laying((0, 0), (10, 0), onto=(100, 100), onto_towards=(100, 150))
    assert place.point((0, 0)) == pytest.approx((100, 100))
    assert place.point((10, 0)) == pytest.approx((100, 110))


def test_laying_turns_by_what_the_two_ways_differ() -> None:
    """From 3-4-5 uphill onto 5-12-13 downhill: both ends of a part of 10 mm land on the mate, 10 mm apart."""
    place = laying((1, 2), (4, 6), onto=(10, 20), onto_towards=(15, 8))
    assert place.point((1, 2)) == pytest.approx((10, 20))
    assert place.point((7, 10)) == pytest.approx((10 + 10 * 5 / 13, 20 - 10 * 12 / 13))
    assert place.point((1 - 4, 2 + 3)) == pytest.approx((10 + 5 * 12 / 13, 20 + 5 * 5 / 13))


def test_mirror_twice_is_the_same() -> None:
    """And one mirror keeps a counter-clockwise loop counter-clockwise."""
    assert (mirrored(mirrored(SQUARE)) == SQUARE).all()
    assert signed_area(mirrored(SQUARE)) == 100.0


def test_angles_and_gaps() -> None:
    """From east to north is a quarter turn; 3-4-5."""
    assert angle_between((0, 0), (1, 0), (0, 1)) == pytest.approx(pi / 2)
    assert gap((0, 0), (3, 4)) == 5.0
    assert np.isclose(angle_between((1, 1), (2, 1), (1, 0)), -pi / 2)


def test_reflected_in_a_line_twice_is_the_same() -> None:
    """In the diagonal x and y change places; in the upright line x changes its sign, bit for bit."""
    assert reflected(SQUARE, (0.0, 0.0), (3.0, 3.0)) == pytest.approx(SQUARE[:, ::-1], abs=1e-12)
    assert (reflected(SQUARE, (0.0, 5.0), (0.0, 9.0)) == SQUARE * (-1.0, 1.0)).all()
    assert reflected(reflected(SQUARE, (1.0, 2.0), (4.0, -3.0)), (1.0, 2.0), (4.0, -3.0)) == pytest.approx(SQUARE)
