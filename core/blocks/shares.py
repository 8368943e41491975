"""How the girths are shared between front and back, and how the waist is taken in. All for half the body, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan
from typing import Final

from core.blocks.ease import Ease
from core.errors import Refusal

BACK_SHARE: Final = 0.255
"""The back's share, at the underarm, of the mean of bust and high bust: a quarter and a little, as the front is
fuller than the back only at the bust. At bust 880 and high bust 867 mm the back then gets 48 % of the bust line; the
block of Bunka 2000 gives 48.5 % (trade.md B4)."""

SIDE_SHARE: Final = 0.12
BACK_DART_SHARE: Final = 0.30
"""What each side seam and the back dart take in between bust line and waist, of all that is taken in there; the front
dart takes the rest. House values: on a usual figure the front dart is then 19 degrees, or 4 cm."""

CUP_SHARE: Final = 0.2
"""How much of what the front has over the back, beyond a usual figure's, goes from the back dart to the front's."""

USUAL_SURPLUS: Final = 0.045
"""What the front of a usual figure has over the back, as a share of the half girth [calc on the survey]."""

STEEPEST: Final = 2.1
"""Most mm to take in for each mm of height between bust point and waist: above it the darts pass 50 degrees."""

LEAST_TAKEN: Final = 0.05
"""Least to take in, as a share of the half bust: below it a dart is too small to sew."""


@dataclass(frozen=True, slots=True)
class Shares:
    """What each place gets: `back_underarm` the back's width at the underarm, the rest how steeply it comes in.

    `lean` is the angle of the side seams, `back_angle` that of the back waist dart, in radians; `front_taken` what the
    front waist dart takes in.
    """

    bust: float
    waist: float
    back_underarm: float
    lean: float
    back_angle: float


def shared(body: Mapping[str, float], ease: Ease, *, drop: float) -> Shares:
    """The shares for a body whose bust point lies `drop` mm over the waist.

    Refusal when bust and waist leave nothing to take in, or too much for the height between them.
    """
    bust, waist = (body["bust"] + ease.bust) / 2, (body["waist"] + ease.waist) / 2
    taken = bust - waist
    _refuse_impossible(bust, taken, drop)
    underarm = BACK_SHARE * (body["bust"] + body["high_bust"]) / 2 + ease.bust / 4
    cup = CUP_SHARE * (bust - 2 * underarm - USUAL_SURPLUS * bust)
    back = min(max(BACK_DART_SHARE * taken - cup, 0.2 * taken), 0.36 * taken)
    return Shares(bust, waist, underarm, atan(SIDE_SHARE * taken / drop), 2 * atan(back / (2 * drop)))


def _refuse_impossible(bust: float, taken: float, drop: float) -> None:
    if taken < LEAST_TAKEN * bust:
        raise Refusal(
            f"With ease the bust is {2 * bust:.0f} mm and the waist {2 * (bust - taken):.0f} mm, which leaves no waist "
            "darts to draft; check the measurements waist and bust, or give the bust more ease."
        )
    if taken > STEEPEST * drop:
        raise Refusal(
            f"The bust point lies only {drop:.0f} mm over the waist, too near to take {2 * taken:.0f} mm in between; "
            "check the measurements front waist length and neck to bust point."
        )
