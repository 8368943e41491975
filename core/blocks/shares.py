"""How the girths are shared between front and back, and how the waist is taken in. All for half the body, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from math import asin, atan, cos, degrees, sin, tan
from typing import Final

import msgspec

from core.blocks.ease import Ease
from core.errors import Refusal

BACK_SHARE: Final = 0.255
"""The back's share, at the underarm, of the mean of bust and high bust: a quarter and a little, as the front is
fuller than the back only at the bust. At bust 880 and high bust 867 mm the back then gets 48 % of the bust line; the
handbook block gives 48.5 % (trade.md B4)."""

SIDE_SHARE: Final = 0.12
BACK_DART_SHARE: Final = 0.25
"""What each side seam and the back dart take in between bust line and waist, of all that is taken in there; the front
dart takes the rest. House values: on a usual figure the front dart is then 21 degrees, or 4.5 cm."""

CUP_SHARE: Final = 0.2
"""How much of what the front has over the back, beyond a usual figure's, goes from the back dart to the front's."""

USUAL_SURPLUS: Final = 0.045
"""What the front of a usual figure has over the back, as a share of the half girth [calc on the survey]."""

FRONT_LIMIT: Final = 0.72
"""Widest front dart that is still left to itself, in lengths of its legs (42 degrees); of a wider one two thirds of
the excess go to the back dart and the rest to the sides."""

STEEPEST_FRONT, STEEPEST_BACK, STEEPEST_SIDE = 62.0, 52.0, 20.0
"""Degrees beyond which darts and side seams are refused."""

LEAST_DART: Final = 0.07
"""Each waist dart takes in at least so much for a mm of its height, 4 degrees; where bust and waist leave less, the
side seams lean out to the waist instead."""

FLARE: Final = -10.0
"""Degrees by which the side seams may lean out."""


class Shares(msgspec.Struct, frozen=True):
    """Half bust and half waist with ease, the back's width at the underarm, and how steeply the waist comes in.

    Angles in radians: of the waist darts, and of the side seams from the upright. The front's is a first guess: it
    takes what the others leave.
    """

    bust: float
    waist: float
    back_underarm: float
    front_angle: float
    back_angle: float
    lean: float


def shared(body: Mapping[str, float], ease: Ease) -> Shares:
    """The shares for a body.

    Refusal when the waist is far larger than the bust, or leaves too much to take in for the height between them.
    """
    bust, waist = (body["bust"] + ease.bust) / 2, (body["waist"] + ease.waist) / 2
    taken = bust - waist
    underarm = BACK_SHARE * (body["bust"] + body["high_bust"]) / 2 + ease.bust / 4
    cup = CUP_SHARE * (bust - 2 * underarm - USUAL_SURPLUS * bust)
    leg, x = body["front_waist_length"] - body["neck_to_bust_point"], body["bust_span"] / 2
    back = max(min(max(BACK_DART_SHARE * taken - cup, 0.18 * taken), 0.32 * taken), LEAST_DART * leg)
    side = min(SIDE_SHARE * taken, (taken - back - LEAST_DART * leg) / 2)
    excess = max(taken - 2 * side - back - FRONT_LIMIT * leg, 0.0)
    back, side = back + excess * 2 / 3, side + excess / 6
    angle = 2 * asin(min((taken - 2 * side - back) / (2 * leg), 0.9))
    height = max(bust_height(leg, x, angle), 0.2 * leg)
    shares = Shares(bust, waist, underarm, angle, 2 * atan(back / (2 * height)), atan(side / height))
    _refuse_too_large_a_waist(shares)
    _refuse_too_steep(body, shares)
    return shares


def bust_height(leg: float, x: float, angle: float) -> float:
    """Height of the bust point over the waist's level at the centre, for a waist dart of that angle and leg length."""
    return leg * cos(angle / 2) - dip(x - leg * sin(angle / 2), angle)


def dip(distance: float, angle: float) -> float:
    """How far an even curve falls from the centre, where it is level, to a dart's leg that it meets square."""
    return distance * tan(angle / 4)


def _refuse_too_large_a_waist(shares: Shares) -> None:
    if degrees(shares.lean) < FLARE:
        raise Refusal(
            f"With ease the waist is {2 * shares.waist:.0f} mm and the bust {2 * shares.bust:.0f} mm, so the side "
            f"seams would lean out by {-degrees(shares.lean):.0f} degrees; check the measurements waist and bust, or "
            "give the bust more ease."
        )


def _refuse_too_steep(body: Mapping[str, float], shares: Shares) -> None:
    steep = (
        degrees(shares.front_angle) > STEEPEST_FRONT
        or degrees(shares.back_angle) > STEEPEST_BACK
        or degrees(shares.lean) > STEEPEST_SIDE
    )
    if steep:
        drop = body["front_waist_length"] - body["neck_to_bust_point"]
        raise Refusal(
            f"The bust point lies only {drop:.0f} mm over the waist, too near to take in "
            f"{2 * (shares.bust - shares.waist):.0f} mm between bust and waist; check the measurements front waist "
            "length and side neck to bust point in the bra that will be worn, or draft with the armhole-dart method."
        )
