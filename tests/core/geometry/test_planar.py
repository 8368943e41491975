"""The door to shapely answers in plain points and numbers."""

from __future__ import annotations

import numpy as np
import pytest

from core.geometry import planar
from core.geometry.polyline import as_points

SQUARE = as_points([(0, 0), (10, 0), (10, 10), (0, 10)])
EIGHT = as_points([(0, 0), (10, 10), (10, 0), (0, 10)])


def test_simple_or_not() -> None:
    """A square is, a figure of eight is not; an open line may end where it does not come back."""
    assert planar.is_simple_loop(SQUARE)
    assert not planar.is_simple_loop(EIGHT)
    assert planar.is_simple(SQUARE)
    assert not planar.is_simple(EIGHT)


def test_inside_and_how_far() -> None:
    """Depth is positive inside, negative outside."""
    assert planar.distance_into(SQUARE, (5, 4)) == pytest.approx(4.0)
    assert planar.distance_into(SQUARE, (13, 5)) == pytest.approx(-3.0)
    assert planar.covers(SQUARE, (10, 5))
    assert planar.distance_into(SQUARE, planar.inner_point(SQUARE)) == pytest.approx(5.0, abs=1.0)


def test_paths_inside_and_clipped() -> None:
    """A diagonal lies inside; a path over the edge does not, and is clipped to a box."""
    assert planar.inside_path(SQUARE, as_points([(0, 0), (10, 10)]), slack=0.1)
    out = as_points([(5, 5), (25, 5)])
    assert not planar.inside_path(SQUARE, out, slack=0.1)
    notched = as_points([(0, 0), (10, 0), (10, 10), (5, 2), (0, 10)])
    assert not planar.inside_path(notched, as_points([(0, 10), (10, 10)]), slack=0.1), "both ends lie on the outline"
    assert planar.clipped(out, (0, 0, 10, 10))[0].tolist() == [[5.0, 5.0], [10.0, 5.0]]


def test_areas_and_distances() -> None:
    """Half-overlapping squares share half; parallel lines 3 apart are 3 apart."""
    other = as_points(np.add(SQUARE, (5, 0)))
    assert planar.shared_area(SQUARE, other) == pytest.approx(50.0)
    assert (planar.area(SQUARE), planar.perimeter(SQUARE)) == (100.0, 40.0)
    low, high = as_points([(0, 0), (10, 0)]), as_points([(0, 3), (10, 3)])
    assert planar.distance_between(low, high) == 3.0
    assert planar.farthest_apart(low, high) == 3.0
