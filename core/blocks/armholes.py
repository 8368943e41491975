"""Armholes, on the side where the front lies.

*Across line*: where the armhole comes nearest to the centre, at half the measure across chest or back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, radians, sin, tan
from typing import Final

import numpy as np

from core.blocks.curves import STRAIGHT_RUN, along
from core.blocks.ease import Ease
from core.blocks.shoulders import Shoulder
from core.blocks.waist import Trunk
from core.geometry.curve import fair_curve
from core.geometry.polyline import Point, Points, as_points, length

FRONT_HOLLOW, BACK_HOLLOW = 2.4, 2.15
"""Exponents of the superellipses on which the lower corners lie, 2 being an ellipse: the front armhole is hollower
than the back (trade.md B10)."""

FRONT_ACROSS_AT, BACK_ACROSS_AT = 0.4, 0.45
"""How high between underarm and shoulder point the across lines lie (common practice, no source)."""

LEAST_WIDTH, TIGHTEST = 0.044, 0.034
"""Least way from the underarm in to the across line, as shares of the bust: 39 mm at bust 88, or 30 mm where the
armhole would else bend twice. An across measure that leaves less is given up by the difference."""

OVERHANG, LONGEST_OVERHANG = 0.006, 0.032
"""The shoulder point lies this far outside the across line at least, and on the back at most, as shares of the bust: 5
and 28 mm at bust 88. A shoulder measured to the bone's edge is about 20 mm longer than a seam (cutting.md 21)."""

ONE_BEND: Final = radians(6.0)
"""The way from the across line up to the shoulder point is steeper by this than the armhole's end there, so that the
armhole bends one way only."""

CUT_IN: Final = 0.016
SQUARER: Final = 1.2
"""With all the room that can be given, both across lines lie this much farther in (a share of the bust: 14 mm at bust
88), and the exponents of the corners are this much larger."""


@dataclass(frozen=True, eq=False, slots=True)
class Armholes:
    """Both armholes, from the underarm to the shoulder point, (N, 2) each."""

    front: Points
    back: Points

    @property
    def length(self) -> float:
        """The whole armhole in mm."""
        return length(self.front) + length(self.back)


def armholes(
    body: Mapping[str, float],
    ease: Ease,
    trunk: Trunk,
    shoulders: tuple[Shoulder, Shoulder],
    *,
    height: float,
    room: float,
) -> Armholes:
    """Both armholes with the underarm at a height, the side seams run on or cut off to it.

    `room` from 0 to 1 cuts them farther in and squarer than usual, for an arm that wants it. The front's across line
    lies beyond the shoulder dart and is moved out by what the dart opens there.
    """
    bust, (front, back) = body["bust"], shoulders
    under_front, under_back = trunk.front.side.at(height), trunk.back.side.at(height)
    y_front = height + FRONT_ACROSS_AT * (front.point[1] - height)
    y_back = height + BACK_ACROSS_AT * (back.point[1] - height)
    x_front = (body["across_front"] + ease.front_width) / 2 + (y_front - front.pivot[1]) * sin(front.angle)
    x_back = max((body["across_back"] + ease.back_width) / 2, back.point[0] - LONGEST_OVERHANG * bust)
    across_front = _within((x_front, y_front), under_front, front, bust=bust)
    across_back = _within((x_back, y_back), under_back, back, bust=bust)
    inwards, lean = room * CUT_IN * bust, trunk.front.side.lean
    return Armholes(
        _armhole(under_front, lean, _moved_in(across_front, inwards), front, hollow=FRONT_HOLLOW + room * SQUARER),
        _armhole(under_back, lean, _moved_in(across_back, inwards), back, hollow=BACK_HOLLOW + room * SQUARER),
    )


def _within(across: Point, underarm: Point, shoulder: Shoulder, *, bust: float) -> Point:
    """The across point moved level to where it leaves an armhole that can be cut and sewn."""
    (x, y), (end_x, end_y) = across, shoulder.point
    x = min(x, end_x - OVERHANG * bust, underarm[0] - LEAST_WIDTH * bust)
    one_bend = end_x - (end_y - y) * tan(shoulder.open_slope - ONE_BEND)
    return (min(max(x, one_bend), underarm[0] - TIGHTEST * bust), y)


def _moved_in(point: Point, distance: float) -> Point:
    return (point[0] - distance, point[1])


def _armhole(underarm: Point, lean: float, across: Point, shoulder: Shoulder, *, hollow: float) -> Points:
    """The armhole from the underarm to the shoulder point, (N, 2).

    It leaves the side seam (leaning in by `lean`) square, rounds the corner under the `across` point, passes that
    point and meets the shoulder square (trade.md B10).
    """
    start_direction, end_direction = pi - lean, pi / 2 - shoulder.open_slope
    width, rise = underarm[0] - across[0], across[1] - underarm[1]
    share = 1 - 0.5 ** (1 / hollow)
    lift = (1 - share) * width * tan(lean)
    corner = (across[0] + share * width, underarm[1] + lift + share * (rise - width * tan(lean)))
    first = along(underarm, start_direction, STRAIGHT_RUN)
    last = along(shoulder.point, end_direction, -STRAIGHT_RUN)
    inner = fair_curve([first, corner, across, last], start_direction=start_direction, end_direction=end_direction)
    return as_points(np.vstack((underarm, inner, shoulder.point)))
