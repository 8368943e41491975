"""Armholes, on the side where the front lies, and the height of the underarm that makes them long enough."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, sin
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
"""How high between underarm and shoulder point the armhole comes nearest to the centre (common practice, no source)."""

LEAST_FRONT_WIDTH, LEAST_BACK_WIDTH = 0.047, 0.045
"""Least way from the underarm in to the across line, as shares of the bust: 41 and 40 mm at bust 88. An across
measure that leaves less is given up by the difference."""

OVERHANG, LONGEST_OVERHANG = 0.006, 0.032
"""The shoulder point lies this far outside the across line at least, and on the back at most, as shares of the bust: 5
and 28 mm at bust 88. A shoulder measured to the bone's edge is about 20 mm longer than a seam (cutting.md 21)."""


CUT_IN: Final = 0.012
SQUARER: Final = 0.8
"""With all the room that can be given, both across lines lie this much farther in (a share of the bust: 10 mm at bust
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

    `room` from 0 to 1 cuts them farther in and squarer than usual, for an arm that wants it.
    """
    front, back = shoulders
    bust, lean = body["bust"], trunk.front.side.lean
    under_front, under_back = trunk.front.side.at(height), trunk.back.side.at(height)
    y = height + FRONT_ACROSS_AT * (front.point[1] - height)
    opened = (y - front.pivot[1]) * sin(front.angle)
    x = (body["across_front"] + ease.front_width) / 2 + opened
    x = min(x, front.point[0] - OVERHANG * bust, under_front[0] - LEAST_FRONT_WIDTH * bust) - room * CUT_IN * bust
    y_back = height + BACK_ACROSS_AT * (back.point[1] - height)
    x_back = max((body["across_back"] + ease.back_width) / 2, back.point[0] - LONGEST_OVERHANG * bust)
    x_back = min(x_back, back.point[0] - OVERHANG * bust, under_back[0] - LEAST_BACK_WIDTH * bust)
    x_back -= room * CUT_IN * bust
    return Armholes(
        _armhole(under_front, lean, (x, y), front, hollow=FRONT_HOLLOW + room * SQUARER),
        _armhole(under_back, lean, (x_back, y_back), back, hollow=BACK_HOLLOW + room * SQUARER),
    )


def _armhole(underarm: Point, lean: float, across: Point, shoulder: Shoulder, *, hollow: float) -> Points:
    """The armhole from the underarm to the shoulder point, (N, 2).

    It leaves the side seam (leaning in by `lean`) square, rounds the corner under the `across` point, passes that
    point and meets the shoulder square (trade.md B10).
    """
    start_direction, end_direction = pi - lean, pi / 2 - shoulder.open_slope
    share = 1 - 0.5 ** (1 / hollow)
    corner = (across[0] + share * (underarm[0] - across[0]), underarm[1] + share * (across[1] - underarm[1]))
    first = along(underarm, start_direction, STRAIGHT_RUN)
    last = along(shoulder.point, end_direction, -STRAIGHT_RUN)
    inner = fair_curve([first, corner, across, last], start_direction=start_direction, end_direction=end_direction)
    return as_points(np.vstack((underarm, inner, shoulder.point)))
