"""Armholes, on the side where the front lies.

*Across line*: where the armhole comes nearest to the centre, at half the measure across chest or back.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import pi, radians, sin, tan
from typing import Final

import msgspec
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

LEAST_WIDTH, TIGHTEST = 0.044, 0.039
"""Least way from the underarm in to the across line, as shares of the bust: 39 mm at bust 88, or 34 mm where the
armhole would else bend twice. An across measure that leaves less is given up by the difference."""

OVERHANG, LONGEST_OVERHANG = 0.006, 0.032
"""The shoulder point lies this far outside the across line at least, and on the back at most, as shares of the bust: 5
and 28 mm at bust 88. A shoulder measured to the bone's edge is about 20 mm longer than a seam (cutting.md 21)."""

ONE_BEND: Final = radians(6.0)
"""The way from the across line up to the shoulder point is steeper by this than the armhole's end there, so that the
armhole bends one way only."""

WIDEST_CORNER: Final = 0.1
"""A front that reaches so far in from the underarm to its across line (a share of the bust: 88 mm at bust 88, twice the
usual) is mentioned: over a low bust point the side seams run out to the underarm."""

CUT_IN: Final = 0.016
SQUARER: Final = 1.2
"""With all the room that can be given, both across lines lie this much farther in (a share of the bust: 14 mm at bust
88), and the exponents of the corners are this much larger."""


class Armholes(msgspec.Struct, frozen=True, eq=False):
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
    across_front = within((x_front, y_front), under_front, front, bust=bust)
    across_back = within((x_back, y_back), under_back, back, bust=bust)
    inwards, lean = room * CUT_IN * bust, trunk.front.side.lean
    across_front, across_back = _moved_in(across_front, inwards), _moved_in(across_back, inwards)
    corner_front = _corner(under_front, lean, across_front, FRONT_HOLLOW + room * SQUARER)
    corner_back = _corner(under_back, lean, across_back, BACK_HOLLOW + room * SQUARER)
    return Armholes(
        armhole(under_front, lean, (corner_front, across_front), front),
        armhole(under_back, lean, (corner_back, across_back), back),
    )


def wide_front(holes: Armholes, body: Mapping[str, float], bust_point: Point) -> tuple[str, ...]:
    """The sentence about a front that is wide under the arm, or none."""
    across = float(holes.front[0, 0] - holes.front[:, 0].min())
    if across < WIDEST_CORNER * body["bust"]:
        return ()
    note = (
        f"The front armhole is {across:.0f} mm wide, which is much, as the bust point lies only {bust_point[1]:.0f} mm "
        "over the waist: measure side neck to bust point and front waist length again in the bra that will be worn."
    )
    return (note,)


def within(across: Point, underarm: Point, shoulder: Shoulder, *, bust: float) -> Point:
    """The across point moved level to where it leaves an armhole that can be cut and sewn."""
    (x, y), (end_x, end_y) = across, shoulder.point
    x = min(x, end_x - OVERHANG * bust, underarm[0] - LEAST_WIDTH * bust)
    one_bend = end_x - (end_y - y) * tan(shoulder.open_slope - ONE_BEND)
    return (min(max(x, one_bend), underarm[0] - TIGHTEST * bust), y)


def _moved_in(point: Point, distance: float) -> Point:
    return (point[0] - distance, point[1])


def _corner(underarm: Point, lean: float, across: Point, hollow: float) -> Point:
    """Where a superellipse of that exponent from the underarm to the across point passes half way round its corner."""
    width, rise = underarm[0] - across[0], across[1] - underarm[1]
    share = 1 - 0.5 ** (1 / hollow)
    lift = (1 - share) * width * tan(lean)
    return (across[0] + share * width, underarm[1] + lift + share * (rise - width * tan(lean)))


def armhole(underarm: Point, lean: float, through: Sequence[Point], shoulder: Shoulder) -> Points:
    """The armhole from the underarm through places in turn to the shoulder point, (N, 2).

    It leaves the side seam (leaning in by `lean`) square, and meets the shoulder square (trade.md B10).
    """
    return armhole_to(underarm, lean, through, end=shoulder.point, slope=shoulder.open_slope)


def armhole_to(underarm: Point, lean: float, through: Sequence[Point], *, end: Point, slope: float) -> Points:
    """As `armhole`, to the end of a shoulder of that slope (radians) where it arrives."""
    return run_between(underarm, pi - lean, through, end=end, end_direction=pi / 2 - slope)


def run_between(
    start: Point, start_direction: float, through: Sequence[Point], *, end: Point, end_direction: float
) -> Points:
    """The fair curve through places in turn, (N, 2), straight for 6 mm at both ends."""
    first, last = along(start, start_direction, STRAIGHT_RUN), along(end, end_direction, -STRAIGHT_RUN)
    inner = fair_curve([first, *through, last], start_direction=start_direction, end_direction=end_direction)
    return as_points(np.vstack((start, inner, end)))
