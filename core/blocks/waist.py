"""From the bust to the waist: waist darts, side seam, and the waist edge drafted trued.

Both pieces are drafted on the wearer's left as the front lies, centre on x = 0 and cloth at x >= 0; the back is turned
over at the end, so that one rule serves both. The waist edge leaves the centre square, meets both legs square (so that
it runs on smoothly when the dart is closed) and reaches the side seam square. y = 0 is the level of the waist at the
centre; the edge dips a little under the dart and comes up again (cutting.md 15).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, radians, sin, tan
from typing import Final

import msgspec

from core.blocks.curves import Bend, squared
from core.blocks.shares import STEEPEST_FRONT, Shares, bust_height, dip
from core.blocks.solving import solved
from core.errors import Refusal
from core.geometry.polyline import Point

BACK_DART_AT: Final = 0.46
"""Where the back waist dart lies between centre back and underarm (common practice, no source)."""

LEAST_DART: Final = radians(3.0)
"""Smallest front waist dart: with legs of 125 mm it is 6.5 mm wide, the least that can be sewn."""


class SideSeam(msgspec.Struct, frozen=True):
    """A side seam: straight, leaning in from the upright by `lean` radians, `foot` its x at the waist's level."""

    foot: float
    lean: float

    def at(self, height: float) -> Point:
        """The point of the seam at a height."""
        return (self.foot + height * tan(self.lean), height)


class Lower(msgspec.Struct, frozen=True, eq=False):
    """A piece between bust and waist: dart, side seam, and the waist edge in loop order from the centre."""

    pivot: Point
    angle: float
    legs: tuple[Point, Point]
    side: SideSeam
    waist_side: Point
    inner: Bend
    outer: Bend

    @property
    def waist(self) -> float:
        """Length of the waist edge with the dart closed, in mm."""
        return self.inner.length + self.outer.length

    @property
    def side_height(self) -> float:
        """Where an even curve from the dart would meet the side seam."""
        (x, y), half = self.legs[1], self.angle / 2
        return y + (self.waist_side[0] - x) * tan((half - self.side.lean) / 2)

    def width(self, height: float) -> float:
        """Cloth from the centre to the side seam at a height, the open dart left out, in mm."""
        wedge = 2 * max(self.pivot[1] - height, 0.0) * tan(self.angle / 2)
        return self.side.at(height)[0] - wedge


class Trunk(msgspec.Struct, frozen=True, eq=False):
    """Both pieces below the bust. Their side seams lean alike and end at one height on the waist."""

    front: Lower
    back: Lower


def trunk(body: Mapping[str, float], shares: Shares, underarm: float) -> Trunk:
    """Both pieces; the back is as wide as it should be at the height `underarm`, where the body's own underarm lies.

    The waist meets the side seam midway between where the two waist edges would like to. Refusal when no front dart
    takes in what is left.
    """
    waist_side = 0.0
    for _ in range(3):
        found = _ending_at(body, shares, underarm, waist_side)
        waist_side = (found.front.side_height + found.back.side_height) / 2
    return _ending_at(body, shares, underarm, waist_side)


def _ending_at(body: Mapping[str, float], shares: Shares, underarm: float, waist_side: float) -> Trunk:
    leg = body["front_waist_length"] - body["neck_to_bust_point"]
    seam = SideSeam(shares.back_underarm - underarm * tan(shares.lean), shares.lean)
    pivot = (BACK_DART_AT * shares.back_underarm, (leg + underarm) / 2)
    back = _back(pivot, shares.back_angle, seam, waist_side)
    waist = shares.waist - back.waist

    def at(angle: float) -> Lower:
        height = bust_height(leg, body["bust_span"] / 2, angle)
        foot = shares.bust - back.width(height) - height * tan(shares.lean)
        pivot = (body["bust_span"] / 2, height)
        return _lower(pivot, angle, leg, side=SideSeam(foot, shares.lean), waist_side=waist_side)

    return Trunk(_with_waist(at, waist, shares.front_angle), back)


def _with_waist(at: Callable[[float], Lower], waist: float, guess: float) -> Lower:
    angle = solved(lambda angle: at(angle).waist - waist, guess, guess + 0.02, within=1e-4)
    if not LEAST_DART < angle < radians(STEEPEST_FRONT) or abs(at(angle).waist - waist) > 1e-3:
        raise Refusal(
            f"No waist dart brings the front waist to {waist:.0f} mm; check the measurements waist, bust and front "
            "waist length."
        )
    return at(angle)


def _back(pivot: Point, angle: float, side: SideSeam, waist_side: float) -> Lower:
    fall = dip(pivot[0] - pivot[1] * tan(angle / 2), angle)
    return _lower(pivot, angle, (pivot[1] + fall) / cos(angle / 2), side=side, waist_side=waist_side)


def _lower(pivot: Point, angle: float, leg: float, *, side: SideSeam, waist_side: float) -> Lower:
    half = angle / 2
    across, y = leg * sin(half), pivot[1] - leg * cos(half)
    legs = ((pivot[0] - across, y), (pivot[0] + across, y))
    end = side.at(waist_side)
    inner, outer = squared((0.0, 0.0), 0.0, legs[0], -half), squared(legs[1], half, end, -side.lean)
    return Lower(pivot, angle, legs, side, end, inner, outer)
