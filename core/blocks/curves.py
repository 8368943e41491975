"""Edges that leave and arrive square: a short straight run at each end and a fair curve between."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, sin
from typing import Final

import numpy as np

from core.geometry.curve import bezier_points, fair_curve
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_points

STRAIGHT_RUN: Final = 6.0
"""Corners are square for at least 5 mm (trade.md D5): the chord by which a corner is judged lies in this run."""


def along(start: Point, direction: float, distance: float) -> Point:
    """The point `distance` mm from `start` in a direction (radians)."""
    return (start[0] + distance * cos(direction), start[1] + distance * sin(direction))


def squared(
    start: Point, start_direction: float, end: Point, end_direction: float, *, via: Sequence[Point] = ()
) -> Points:
    """The curve from `start` to `end` through `via`, straight for 6 mm at both ends, shape (N, 2).

    Ends that lie nearer together than four such runs get runs of a quarter of their gap.
    """
    run = min(STRAIGHT_RUN, gap(start, end) / 4)
    inner = fair_curve(
        [along(start, start_direction, run), *via, along(end, end_direction, -run)],
        start_direction=start_direction,
        end_direction=end_direction,
    )
    return as_points(np.vstack((start, inner, end)))


def rounded(start: Point, start_direction: float, end: Point, end_direction: float, *, fullness: float) -> Points:
    """The curve round one bend, straight for 6 mm at both ends, shape (N, 2); it never leaves the bend's two sides.

    `fullness` is how far the control arms reach towards the corner of the two end lines: 0.55 draws the quarter of an
    ellipse, more lies nearer the corner. The end lines must meet ahead of the start and behind the end.
    """
    run = min(STRAIGHT_RUN, gap(start, end) / 4)
    a, b = along(start, start_direction, run), along(end, end_direction, -run)
    turn = sin(end_direction - start_direction)
    x, y = b[0] - a[0], b[1] - a[1]
    ahead = (x * sin(end_direction) - y * cos(end_direction)) / turn
    behind = (y * cos(start_direction) - x * sin(start_direction)) / turn
    arms = (along(a, start_direction, fullness * ahead), along(b, end_direction, -fullness * behind))
    return as_points(np.vstack((start, bezier_points((a, *arms, b)), end)))
