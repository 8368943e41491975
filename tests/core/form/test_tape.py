"""The tape on a surface against plane geometry."""

from __future__ import annotations

from math import tau

import numpy as np
import pytest
from shapely import MultiPoint

from core.form.tape import girth, taut_length
from core.geometry.polyline import as_points


def _circle(radius: float, places: int = 720) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    angle = np.arange(places) * tau / places
    return np.column_stack((radius * np.cos(angle), radius * np.sin(angle)))


def test_girth_of_a_circle_is_its_circumference() -> None:
    """2 pi r, to a hundredth of a millimetre."""
    circle = _circle(150.0)
    assert girth(circle[circle[:, 0] > -1e-9]) == pytest.approx(tau * 150.0, abs=0.01)


def test_girth_bridges_hollows_as_the_convex_hull_does() -> None:
    """The hull's perimeter, from another library's convex hull, on a section with two mounds."""
    angle = np.arange(720) * tau / 720
    radius = 120.0 + 25.0 * np.sin(3.0 * angle)
    section = as_points(np.column_stack((radius * np.cos(angle), radius * np.sin(angle))))
    taped = girth(section[section[:, 0] > -1e-9])
    assert taped == pytest.approx(MultiPoint(section).convex_hull.length, abs=0.05)
    assert taped < np.hypot(*np.diff(section, axis=0, append=section[:1]).T).sum() - 4.0


def test_taut_tape_bridges_a_hollow_and_follows_a_hill() -> None:
    """Over a dip it runs straight, over a point it has two straight parts."""
    assert taut_length(as_points([(0, 0), (40, -9), (100, 0)])) == pytest.approx(100.0)
    assert taut_length(as_points([(0, 0), (30, 40), (60, 0)])) == pytest.approx(100.0)
