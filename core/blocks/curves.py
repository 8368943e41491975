"""Edges that leave and arrive square: a short straight run at each end and one easy curve between."""

from __future__ import annotations

from math import atan2, cos, hypot, sin, sqrt
from typing import Final

import msgspec
import numpy as np

from core.geometry.curve import bezier_points
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_points

STRAIGHT_RUN: Final = 6.0
"""Corners are square for at least 5 mm (trade.md D5): the chord by which a corner is judged lies in this run."""


def along(start: Point, direction: float, distance: float) -> Point:
    """The point `distance` mm from `start` in a direction (radians)."""
    return (start[0] + distance * cos(direction), start[1] + distance * sin(direction))


def direction_of(start: Point, end: Point) -> float:
    """The direction from one point to another, in radians."""
    return atan2(end[1] - start[1], end[0] - start[0])


class Bend(msgspec.Struct, frozen=True):
    """A curve before it is drawn: a straight run, one cubic Bezier curve, a straight run.

    `first` and `last` are where the runs begin and end, `controls` the four control points between them.
    """

    first: Point
    controls: tuple[Point, Point, Point, Point]
    last: Point

    @property
    def points(self) -> Points:
        """The curve drawn, shape (N, 2)."""
        return as_points(np.vstack((self.first, bezier_points(self.controls), self.last)))

    @property
    def length(self) -> float:
        """Arc length in mm to about 1e-4, by Gauss's rule with five nodes on each half of the curve."""
        runs = gap(self.first, self.controls[0]) + gap(self.controls[3], self.last)
        return runs + sum(weight * self._speed(t) for t, weight in _NODES)

    def _speed(self, t: float) -> float:
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = self.controls
        u = 1.0 - t
        p, q, r = 3.0 * u * u, 6.0 * u * t, 3.0 * t * t
        return hypot(
            p * (bx - ax) + q * (cx - bx) + r * (dx - cx),
            p * (by - ay) + q * (cy - by) + r * (dy - cy),
        )


def _gauss_nodes() -> tuple[tuple[float, float], ...]:
    """Nodes and weights on (0, 1): the five-point Gauss-Legendre rule on each half."""
    inner, outer = sqrt(5.0 - 2.0 * sqrt(10.0 / 7.0)) / 3.0, sqrt(5.0 + 2.0 * sqrt(10.0 / 7.0)) / 3.0
    heavy, light = (322.0 + 13.0 * sqrt(70.0)) / 900.0, (322.0 - 13.0 * sqrt(70.0)) / 900.0
    rule = ((0.0, 128.0 / 225.0), (inner, heavy), (-inner, heavy), (outer, light), (-outer, light))
    return tuple((half + (node + 1.0) / 4.0, weight / 4.0) for half in (0.0, 0.5) for node, weight in rule)


_NODES: Final = _gauss_nodes()


def squared(start: Point, start_direction: float, end: Point, end_direction: float) -> Bend:
    """The curve from `start` to `end`, straight for 6 mm at both ends, its control arms a third of its chord.

    Ends that lie nearer together than four such runs get runs of a quarter of their gap.
    """
    run = min(STRAIGHT_RUN, gap(start, end) / 4)
    a, b = along(start, start_direction, run), along(end, end_direction, -run)
    arm = gap(a, b) / 3
    return Bend(start, (a, along(a, start_direction, arm), along(b, end_direction, -arm), b), end)


def rounded(start: Point, start_direction: float, end: Point, end_direction: float, *, fullness: float) -> Bend:
    """The curve round one bend, straight for 6 mm at both ends; it never leaves the two end lines' inner side.

    `fullness` is how far the control arms reach towards the corner where the end lines meet: 0.55 draws the quarter of
    an ellipse, more lies nearer the corner. The end lines must meet ahead of the start and behind the end.
    """
    run = min(STRAIGHT_RUN, gap(start, end) / 4)
    a, b = along(start, start_direction, run), along(end, end_direction, -run)
    turn = sin(end_direction - start_direction)
    x, y = b[0] - a[0], b[1] - a[1]
    ahead = (x * sin(end_direction) - y * cos(end_direction)) / turn
    behind = (y * cos(start_direction) - x * sin(start_direction)) / turn
    arms = (along(a, start_direction, fullness * ahead), along(b, end_direction, -fullness * behind))
    return Bend(start, (a, *arms, b), end)
