"""Shoulders with their darts, on the side where the front lies."""

from __future__ import annotations

from collections.abc import Mapping
from math import acos, asin, atan2, degrees, radians, sqrt
from typing import Final

import msgspec

from core.blocks.curves import along
from core.blocks.ease import Ease
from core.body.body import Measured
from core.errors import Refusal
from core.geometry.placement import about, angle_between, gap
from core.geometry.polyline import Point

BACK_SLOPE_LESS: Final = radians(4.0)
"""The front shoulder has the measured slope, the back 4 degrees less: 22 and 18 degrees (a handbook, from memory,
trade.md B4)."""

FRONT_BELOW_BACK: Final = 0.041
"""Front shoulder point under the back's, as a share of the back waist length: 1.5 cm on 36.7 (trade.md B3)."""

DART_AT: Final = 0.48
"""Where the shoulder darts lie: near mid shoulder, seen from the neck."""

LEAST_DART, MOST_DART = 4.0, 30.0
"""Front shoulder dart in degrees: never less than can be sewn, never more than stays a bust (cutting.md 17)."""

BLADE_SHAPING: Final = 0.022
"""Back shoulder dart and shoulder ease together, as a share of the bust: 1.95 cm at bust 88 (a handbook, from memory,
trade.md B4)."""

LEAST_BLADE: Final = 0.006
"""Least width of the back shoulder dart, as a share of the bust: 5 mm at bust 88, about the least that can be sewn."""

BLADE_LEG: Final = 0.31
"""From shoulder to the pivot at the shoulder blade, as a share of the back waist length: 3 in of sewn dart and the
1 1/2 in by which its pivot lies beyond (trade.md C1, C2)."""


class Shoulder(msgspec.Struct, frozen=True):
    """A shoulder with its dart open; the part beyond the dart is turned down about the pivot.

    Closed it is one straight line of the measured length (cutting.md 15). `slope` is that of the closed shoulder under
    the level, in radians; `inner_leg` lies towards the neck; `closed_point` is the shoulder point with the dart closed.
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
        """Slope of the part beyond the open dart, in radians."""
        return self.slope + self.angle


def with_dart(
    side_neck: Point, slope: float, length: float, *, pivot: Point, angle: float, at: float = DART_AT
) -> Shoulder:
    """The shoulder of that slope (radians) and length, its dart at a share of the length from the neck."""
    inner, end = along(side_neck, -slope, at * length), along(side_neck, -slope, length)
    turn = about(pivot, -angle)
    return Shoulder(side_neck, slope, pivot, angle, inner, turn.point(inner), turn.point(end), end)


def slope_is_measured(measured: Measured) -> bool:
    """Whether the slope itself is laid down, as the shoulder point's distance from the bust point was not taken."""
    return "shoulder_point_to_bust_point" in measured.estimated


def front_slope(measured: Measured, neck_width: float) -> float:
    """Slope of the closed front shoulder in radians: as measured, or from shoulder point to bust point if that was.

    `neck_width` is how far the side neck point lies from the centre front. The three lengths side neck to bust point,
    shoulder, shoulder point to bust point are laid out as a triangle. Refusal when the slope that it gives
    is no shoulder's.
    """
    body = measured.values
    if slope_is_measured(measured):
        return radians(body["shoulder_slope_deg"])
    down, out, third = body["neck_to_bust_point"], body["shoulder"], body["shoulder_point_to_bust_point"]
    cosine = (down**2 + out**2 - third**2) / (2 * down * out)
    aside = body["bust_span"] / 2 - neck_width
    slope = atan2(sqrt(max(down**2 - aside**2, 0.0)), aside) - acos(min(max(cosine, -1.0), 1.0))
    if not 3.0 <= degrees(slope) <= 48.0:
        raise Refusal(
            f"Shoulder point to bust point ({third:.0f} mm) would give the shoulder a slope of {degrees(slope):.0f} "
            "degrees; check it against the measurements shoulder length and side neck to bust point."
        )
    return slope


def back_shoulder(body: Mapping[str, float], ease: Ease, side_neck: Point, slope: float) -> Shoulder:
    """The back shoulder, longer than the front by the ease; its dart points to the blade, half way out on the back."""
    width = max(BLADE_SHAPING * body["bust"] - ease.shoulder, LEAST_BLADE * body["bust"])
    return blade_shoulder(body, side_neck, slope, length=body["shoulder"] + ease.shoulder, width=width)


def blade_shoulder(
    body: Mapping[str, float], side_neck: Point, slope: float, *, length: float, width: float
) -> Shoulder:
    """A back shoulder of that length (mm, dart closed); its dart of that width points to the blade."""
    leg = BLADE_LEG * body["back_waist_length"]
    base = along(side_neck, -slope, DART_AT * length)
    aside = min(max(body["across_back"] / 4 - base[0], -leg / 2), leg / 2)
    pivot = (base[0] + aside, base[1] - sqrt(leg**2 - aside**2))
    return with_dart(side_neck, slope, length, pivot=pivot, angle=2 * asin(width / (2 * leg)))


def front_shoulder(
    body: Mapping[str, float], side_neck: Point, slope: float, bust_point: Point, *, back: Shoulder
) -> Shoulder:
    """The front shoulder, of the measured length; its dart opens as `shoulder_dart_angle` says."""
    end = along(side_neck, -slope, body["shoulder"])
    level = back.closed_point[1] - FRONT_BELOW_BACK * body["back_waist_length"]
    share = (level - bust_point[1]) / gap(bust_point, end)
    wanted = along(bust_point, asin(min(max(share, -1.0), 1.0)), 1.0)
    angle = shoulder_dart_angle(body, angle_between(bust_point, wanted, end))
    return with_dart(side_neck, slope, body["shoulder"], pivot=bust_point, angle=angle)


def shoulder_dart_angle(body: Mapping[str, float], levelling: float) -> float:
    """The angle of the front shoulder dart, in radians, never nought.

    `levelling` is the angle (radians, either sign) that lets the front shoulder point down to its place under the
    back's. Waist lengths are read too unevenly to trust it alone, and the bust is smaller than the high bust in a
    quarter of women, so that neither fixes the dart (cutting.md 17): it is drawn towards the mean of the survey, and up
    with bust over high bust and under-bust. Fitted to the angles that the heights of shoulder and bust point ask on the
    1,104 women, cloth 3 % longer than height: R2 0.51, spread 3.4 degrees, none below 6 [calc].
    """
    fullness = 50.0 * (body["bust"] / body["high_bust"] - 1.02) + 9.0 * (body["bust"] / body["under_bust"] - 1.18)
    angle = 16.9 + 0.28 * degrees(levelling) + fullness
    return radians(min(max(angle, LEAST_DART), MOST_DART))
