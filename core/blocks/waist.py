"""From the bust to the waist: the waist dart, the side seam, and the waist edge drafted trued.

Both pieces are drafted here on the wearer's left as the front lies, centre on x = 0 and cloth at x >= 0; the back is
turned over at the end, so that one rule serves both. The waist edge leaves the centre square, meets both legs square
(so that it runs on smoothly when the dart is closed) and reaches the side seam square. y = 0 is the level of the waist
at the centre; the edge dips a little under the dart and comes up again (cutting.md 15).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import asin, cos, pi, sin, tan
from typing import Final

from core.blocks.curves import squared
from core.errors import Refusal
from core.geometry.polyline import Point, Points, length

CLOSE_ENOUGH: Final = 1e-4
"""Solved lengths are right within this, in mm."""

MOST_TRIES: Final = 30


@dataclass(frozen=True, slots=True)
class Side:
    """The side seam, straight and the same on both pieces: heights of its ends and how it leans in (radians)."""

    waist: float
    underarm: float
    lean: float

    def x(self, underarm_x: float, height: float) -> float:
        """Where the seam lies at a height, when it begins at `underarm_x`."""
        return underarm_x - (self.underarm - height) * tan(self.lean)


@dataclass(frozen=True, eq=False, slots=True)
class Lower:
    """What lies between bust and waist: dart, edges in loop order from the centre, ends of the side seam."""

    pivot: Point
    angle: float
    legs: tuple[Point, Point]
    inner: Points
    outer: Points
    waist_side: Point
    underarm: Point

    @property
    def waist(self) -> float:
        """Length of the waist edge with the dart closed, in mm."""
        return length(self.inner) + length(self.outer)

    def side_height(self, lean: float) -> float:
        """Where an even curve from the dart would meet a side seam of that lean."""
        (x, y), half = self.legs[1], self.angle / 2
        return y + (self.waist_side[0] - x) * tan((half - lean) / 2)


def front_lower(x: float, leg: float, bust: Callable[[float], float], *, waist: float, side: Side) -> Lower:
    """The front below the bust point, which lies `x` from the centre with legs `leg` long.

    `bust` tells the width wanted from centre to side seam when the bust line lies at a height; `waist` is the length
    wanted with the dart closed. Refusal when no dart gives it.
    """

    def at(angle: float) -> Lower:
        drop = _dip(x - leg * sin(angle / 2), angle)
        pivot = (x, leg * cos(angle / 2) - drop)
        underarm_x = bust(pivot[1]) + (side.underarm - pivot[1]) * tan(side.lean)
        return _lower(pivot, angle, leg, underarm_x, side)

    taken = bust(leg) - leg * tan(side.lean) - waist
    return _solved(at, waist, 2 * asin(min(max(taken / (2 * leg), 0.02), 0.7)))


def back_lower(pivot: Point, angle: float, width: float, *, side: Side) -> Lower:
    """The back below its dart's pivot; `width` is that at the underarm."""
    drop = _dip(pivot[0] - pivot[1] * tan(angle / 2), angle)
    return _lower(pivot, angle, (pivot[1] + drop) / cos(angle / 2), width, side)


def width_at(lower: Lower, side: Side, height: float) -> float:
    """Cloth from the centre to the side seam at a height, the open waist dart left out, in mm."""
    wedge = 2 * max(lower.pivot[1] - height, 0.0) * tan(lower.angle / 2)
    return side.x(lower.underarm[0], height) - wedge


def _dip(distance: float, angle: float) -> float:
    """How far an even curve falls from the centre, where it is level, to a leg that it meets square."""
    return distance * tan(angle / 4)


def _lower(pivot: Point, angle: float, leg: float, underarm_x: float, side: Side) -> Lower:
    half = angle / 2
    legs = (
        (pivot[0] - leg * sin(half), pivot[1] - leg * cos(half)),
        (pivot[0] + leg * sin(half), pivot[1] - leg * cos(half)),
    )
    waist_side = (side.x(underarm_x, side.waist), side.waist)
    inner = squared((0.0, 0.0), 0.0, legs[0], -half)
    outer = squared(legs[1], half, waist_side, -side.lean)
    return Lower(pivot, angle, legs, inner, outer, waist_side, (underarm_x, side.underarm))


def _solved(at: Callable[[float], Lower], waist: float, guess: float) -> Lower:
    """The lower part whose waist has the length wanted, by the secant rule on the dart's angle."""
    before, here = guess, guess * 1.02 + 0.002
    lower_before, lower = at(before), at(here)
    for _ in range(MOST_TRIES):
        off = lower.waist - waist
        if abs(off) <= CLOSE_ENOUGH:
            break
        if here == before:
            break
        slope = (lower.waist - lower_before.waist) / (here - before)
        before, lower_before = here, lower
        here = min(max(here - off / slope, 0.01), pi / 2)
        lower = at(here)
    if abs(lower.waist - waist) > 0.01:
        raise Refusal(f"No waist dart brings the front waist to {waist:.0f} mm; check the measurements waist and bust.")
    return lower
