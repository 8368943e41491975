"""Rules that estimate a measurement nobody took, in mm (degrees for the slope), each with its text for the user.

Most are straight lines fitted to a survey of women (NATICK/TR-89/044, 1988, public domain): R² says how much of the
differences between women the rule explains, the spread how far a woman's own measure lies from it (one standard
deviation). The women were soldiers, so young and seldom large. A rule is a stopgap: the tape is better.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, hypot, radians, sin, sqrt
from typing import Final, TypeAlias

import msgspec

Values: TypeAlias = Mapping[str, float]

MEAN_SLOPE: Final = 25.7
"""Degrees: mean shoulder slope of the survey, 5 to 95 %: 19 to 32."""

BUST_RADIUS_SHARE: Final = 76.0 / 890.0
"""Half of the breast's base: 3 in on a medium figure (common practice, from memory), grown with the bust."""


class Rule(msgspec.Struct, frozen=True):
    """How a measurement is estimated: in words, and from the values known so far."""

    text: str
    value: Callable[[Values], float]


HIP: Final = Rule(
    "436 mm and 0.73 of the waist (survey of 1,104 women: R² 0.57, spread 40 mm)",
    lambda body: 436.0 + 0.732 * body["waist"],
)

NECK_BASE: Final = Rule(
    "207 mm and 0.154 of the bust (survey of 2,208 women: R² 0.36, spread 13 mm)",
    lambda body: 207.0 + 0.154 * body["bust"],
)

CENTRE_FRONT_LENGTH: Final = Rule(
    "0.56 of the front waist length and 0.32 of the back waist length, less 26 mm (survey of 1,104 women: R² 0.77, "
    "spread 11 mm)",
    lambda body: 0.561 * body["front_waist_length"] + 0.323 * body["back_waist_length"] - 26.4,
)

SHOULDER_SLOPE: Final = Rule(
    "25.7 degrees, the mean of a survey of 2,208 women (nine in ten lie between 19 and 32 degrees)",
    lambda _body: MEAN_SLOPE,
)

ACROSS_BACK: Final = Rule(
    "196 mm and 0.20 of the bust (survey of 1,104 women: R² 0.29, spread 20 mm)",
    lambda body: 195.5 + 0.200 * body["bust"],
)

ACROSS_FRONT: Final = Rule(
    "across back less 24 mm, as the widths of a handbook block differ (bust / 8 + 7.4 cm and bust / 8 + 6.2 cm)",
    lambda body: body["across_back"] - 24.0,
)

SCYE_DEPTH: Final = Rule(
    "a tenth of the bust and 95 mm: a handbook's rule less the 27 mm by which it lies below the body (spread 13 mm)",
    lambda body: body["bust"] / 10.0 + 95.0,
)

SCYE_GIRTH: Final = Rule(
    "119 mm and 0.279 of the bust (survey of 2,208 women: R² 0.59, spread 15 mm)",
    lambda body: 119.0 + 0.279 * body["bust"],
)

UPPER_BUST_LEVEL: Final = Rule(
    "side neck to bust point less the radius of the breast, 3 in at a bust of 35 in (common practice)",
    lambda body: body["neck_to_bust_point"] - BUST_RADIUS_SHARE * body["bust"],
)

STATURE: Final = Rule(
    "1189 mm and 1.20 of the back waist length (survey of 1,104 women: R² 0.22, spread 56 mm)",
    lambda body: 1189.0 + 1.197 * body["back_waist_length"],
)


def _shoulder_point_to_bust_point(body: Values) -> float:
    """The third side of the triangle between side neck, shoulder point and bust point, laid flat.

    The side neck point lies a fifth of the neck base from the centre (neck widths of handbook drafts).
    """
    aside = body["neck_base"] / 5.0 - body["bust_span"] / 2.0
    down = sqrt(max(body["neck_to_bust_point"] ** 2 - aside**2, 0.0))
    slope = radians(body["shoulder_slope_deg"])
    return hypot(aside + body["shoulder"] * cos(slope), down - body["shoulder"] * sin(slope))


SHOULDER_POINT_TO_BUST_POINT: Final = Rule(
    "from the triangle of shoulder, shoulder slope and side neck to bust point laid flat; it allows no room for a dart",
    _shoulder_point_to_bust_point,
)


def _under_bust_level(body: Values) -> float:
    """One breast radius below the bust point, and never nearer to the waist than a quarter of the way."""
    room = body["front_waist_length"] - body["neck_to_bust_point"]
    return body["neck_to_bust_point"] + min(BUST_RADIUS_SHARE * body["bust"], 0.75 * room)


UNDER_BUST_LEVEL: Final = Rule(
    "side neck to bust point and the radius of the breast, 3 in at a bust of 35 in, or three quarters of the way to "
    "the waist where that is less (common practice)",
    _under_bust_level,
)
