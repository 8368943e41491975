"""Edges that leave and arrive square."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from core.blocks.curves import rounded, squared
from core.geometry.polyline import length


def test_rounded_at_an_ellipse_is_nearly_a_circle() -> None:
    """Arms of 4/3 tan(pi / 8) = 0.5523 draw a quarter circle within 0.03 % (the usual cubic approximation).

    After a straight 6 mm at each end it is a circle of 94 mm about (6, 6).
    """
    bend = rounded((100.0, 0.0), pi / 2, (0.0, 100.0), pi, fullness=4 / 3 * np.tan(pi / 8))
    arc = bend.points[1:-1] - 6.0
    assert np.hypot(*arc.T) == pytest.approx(np.full(len(arc), 94.0), rel=3e-4)


@pytest.mark.parametrize("end", [(80.0, 5.0), (60.0, -8.0), (15.0, 1.0)])
def test_squared_leaves_and_arrives_in_its_directions(end: tuple[float, float]) -> None:
    """The first and last chords lie exactly in the directions asked, 6 mm long where there is room."""
    points = squared((0.0, 0.0), 0.0, end, -0.2).points
    first, last = points[1] - points[0], points[-1] - points[-2]
    assert np.arctan2(first[1], first[0]) == pytest.approx(0.0, abs=1e-12)
    assert np.arctan2(last[1], last[0]) == pytest.approx(-0.2, abs=1e-9)
    assert np.hypot(*first) == pytest.approx(min(6.0, np.hypot(*end) / 4), abs=1e-9)


def test_length_before_drawing_is_the_length_drawn() -> None:
    """The length by Gauss's rule agrees with the drawn polyline, whose chords cut its bends short by under 0.01 mm."""
    bend = rounded((70.0, 90.0), 4.4, (0.0, 0.0), pi, fullness=0.64)
    assert bend.length == pytest.approx(length(bend.points), abs=0.01)


def test_straight_bend_has_the_length_of_its_chord() -> None:
    """Along a line the bend is that line."""
    bend = squared((0.0, 0.0), 0.0, (100.0, 0.0), 0.0)
    assert bend.length == pytest.approx(100.0, abs=1e-9)
