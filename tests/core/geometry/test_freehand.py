"""A stroke of the hand becomes few points, and their curve lies along it."""

from __future__ import annotations

import numpy as np
import pytest

from core.geometry import freehand
from core.geometry.curve import fair_curve
from core.geometry.freehand import MOST_POINTS, fitted
from core.geometry.polyline import as_points, nearest


def arc(radius: float, degrees: float, count: int = 200) -> np.ndarray:
    """Points of a circle's arc."""
    angles = np.radians(np.linspace(0.0, degrees, count))
    return as_points(np.column_stack((radius * np.cos(angles), radius * np.sin(angles))))


def off(stroke: np.ndarray, points: np.ndarray) -> float:
    """How far the curve through the points leaves the stroke at most, in mm."""
    curve = fair_curve(as_points(points))
    return max(nearest(curve, place)[1] for place in stroke)


def test_a_straight_stroke_needs_two_points() -> None:
    """Its ends, exactly."""
    stroke = as_points(np.column_stack((np.linspace(0, 100, 50), np.zeros(50))))
    points = fitted(stroke, within=1.0)
    assert points.tolist() == [[0.0, 0.0], [100.0, 0.0]]


def test_a_quarter_circle_needs_few_points() -> None:
    """A quarter circle of 100 mm is met within a millimetre by at most five points, ends exact (analytic case)."""
    stroke = arc(100.0, 90.0)
    points = fitted(stroke, within=1.0)
    assert 3 <= len(points) <= 5
    assert off(stroke, points) <= 1.1
    assert np.allclose(points[[0, -1]], stroke[[0, -1]])


def test_a_shaking_hand_gives_a_calm_line() -> None:
    """With 0.7 mm of shake (normal, both ways) the curve lies within 1.5 mm of the true arc, through few points."""
    true = arc(150.0, 120.0)
    shake = np.random.default_rng(7).normal(0.0, 0.7, true.shape)
    points = fitted(as_points(true + shake), within=2.0)
    assert len(points) <= 7
    assert off(true, points) <= 1.5


def test_no_more_points_than_can_be_handled() -> None:
    """A scribble ends at the greatest number of points."""
    scribble = as_points(np.random.default_rng(3).uniform(0, 200, (60, 2)))
    assert len(fitted(scribble, within=0.5)) == MOST_POINTS


def test_a_stroke_that_goes_nowhere_is_none() -> None:
    """A click that trembled is no line."""
    with pytest.raises(ValueError, match="goes nowhere"):
        fitted(as_points(np.zeros((5, 2))), within=1.0)


def test_of_strokes_too_short_the_longest_is_under_five_millimetres() -> None:
    """A stroke of 5 mm is a line, read at its ends and once between."""
    assert fitted(as_points([(0, 0), (3, 4)]), within=1.0).tolist() == [[0.0, 0.0], [3.0, 4.0]]
    with pytest.raises(ValueError, match="goes nowhere"):
        fitted(as_points([(0, 0), (3, 3.99)]), within=1.0)


def test_a_stroke_is_read_every_two_millimetres() -> None:
    """However far apart the hand's own places are; 51 mm make 25 steps of 2.04 mm."""
    read = freehand._read(as_points([(0, 0), (1, 0), (30, 0), (30.5, 0), (51, 0)]))
    assert read == pytest.approx(np.column_stack((np.linspace(0.0, 51.0, 26), np.zeros(26))))


def test_the_shake_is_levelled_out_over_eight_millimetres_to_each_side() -> None:
    """A moving mean of nine places, against numpy's; nearer the ends of as many as there are on both sides."""
    headings = np.random.default_rng(5).uniform(-0.8, 0.8, 40)
    stroke = np.cumsum([(0.0, 0.0), *(2.0 * np.column_stack((np.cos(headings), np.sin(headings))))], axis=0)
    read = freehand._read(as_points(stroke))
    assert len(read) == len(stroke)
    for reach in range(5):
        mean = np.column_stack(
            [np.convolve(axis, np.ones(2 * reach + 1) / (2 * reach + 1), "valid") for axis in stroke.T]
        )
        if reach < 4:
            assert read[[reach, -1 - reach]] == pytest.approx(mean[[0, -1]])
        else:
            assert read[4:-4] == pytest.approx(mean)
    assert (read[[0, -1]] == stroke[[0, -1]]).all()


def test_how_far_a_stroke_is_off_is_known_to_a_tenth_of_a_millimetre() -> None:
    """One that lies on the curve itself is nowhere farther off."""
    placed = as_points([(0, 0), (300, 200), (700, 0)])
    curve = fair_curve(placed, chord_error=1e-3)
    chosen = [int(np.hypot(*(curve - place).T).argmin()) for place in placed]
    assert freehand._farthest(curve, chosen)[0] <= 0.1
