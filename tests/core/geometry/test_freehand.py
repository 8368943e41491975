"""A stroke of the hand becomes few points, and their curve lies along it."""

from __future__ import annotations

import numpy as np
import pytest

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
