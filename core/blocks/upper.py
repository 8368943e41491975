"""From the bust to the neck: shoulder with its dart, neckline, armhole, on the wearer's left as the front lies."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np

from core.blocks.curves import STRAIGHT_RUN, along, rounded
from core.geometry.curve import fair_curve
from core.geometry.placement import about
from core.geometry.polyline import Point, Points, as_points

SQUARE: Final = pi / 2


@dataclass(frozen=True, slots=True)
class Shoulder:
    """A shoulder with its dart open; the part beyond the dart is turned down about the pivot.

    Closed it is one straight line of the measured length (cutting.md 15). `slope` is that of the closed shoulder
    under the level, in radians; `inner_leg` lies towards the neck; `closed_point` is the shoulder point with the dart
    closed.
    """

    side_neck: Point
    slope: float
    pivot: Point
    angle: float
    inner_leg: Point
    outer_leg: Point
    point: Point
    closed_point: Point

    @property
    def open_slope(self) -> float:
        """Slope of the part beyond the open dart."""
        return self.slope + self.angle


def shoulder(side_neck: Point, slope: float, length: float, *, dart_at: float, pivot: Point, angle: float) -> Shoulder:
    """The shoulder from the side neck point; the dart lies `dart_at` mm from it."""
    inner = along(side_neck, -slope, dart_at)
    end = along(side_neck, -slope, length)
    turn = about(pivot, -angle)
    return Shoulder(side_neck, slope, pivot, angle, inner, turn.point(inner), turn.point(end), end)


def neck(side_neck: Point, slope: float, centre: Point, *, corner: float = SQUARE, fullness: float) -> Points:
    """The neckline from the side neck point to the centre, (N, 2).

    It makes the angle `corner` with the shoulder and reaches the centre square.
    """
    return rounded(side_neck, 2 * pi - slope - corner, centre, pi, fullness=fullness)


def armhole(underarm: Point, lean: float, across: Point, end: Shoulder, *, hollow: float) -> Points:
    """The armhole from the underarm to the shoulder point, (N, 2).

    It leaves the side seam (leaning in by `lean`) square, rounds the corner under the `across` point, passes that
    point and meets the shoulder square (trade.md B10). `hollow` is the exponent of the superellipse whose middle the
    corner takes: 2 an ellipse, more lies nearer the corner.
    """
    start_direction = pi - lean
    end_direction = SQUARE - end.open_slope
    share = 1 - 0.5 ** (1 / hollow)
    corner = (
        across[0] + share * (underarm[0] - across[0]),
        underarm[1] + share * (across[1] - underarm[1]),
    )
    first = along(underarm, start_direction, STRAIGHT_RUN)
    last = along(end.point, end_direction, -STRAIGHT_RUN)
    inner = fair_curve([first, corner, across, last], start_direction=start_direction, end_direction=end_direction)
    return as_points(np.vstack((underarm, inner, end.point)))
