"""Necklines: as wide as a neck of that size usually wants, or as must be for the neckline to go round it."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi, radians, sqrt
from typing import Final

import msgspec

from core.blocks.curves import Bend, rounded
from core.blocks.solving import solved
from core.errors import Refusal
from core.geometry.polyline import Point

NECK_WIDTH: Final = 0.198
BACK_WIDER: Final = 0.012
"""Front neck width, and what the back's has over it, as shares of the neck base: 6.7 and 7.2 cm on a neck base of
34.2 (a handbook for bust 88, second-hand, trade.md B3, A6)."""

NARROWEST, WIDEST = 0.14, 0.25
"""Neck widths that still lie on the side of the neck, as shares of the neck base."""

RISE: Final = 0.058
"""Side neck over nape on the back, as a share of the neck base: 2 cm on 34.2 (most methods 1.5 to 2, trade.md B8)."""

SHORTEST, LONGEST = -0.012, 0.145
"""The whole neckline lies between these over the neck base, as shares of it: -4 and 50 mm on 34.2 (trade.md G6 asks
-10 to 60; the handbooks' neckline is about 30 mm longer than the neck base, B9)."""

MOST_OVER: Final = 58.0
"""And never longer than the neck base by more (mm)."""

FRONT_FULLNESS, BACK_FULLNESS = 0.64, 0.58
"""How near the necklines lie to their corners; 0.55 is an ellipse."""

OPENED: Final = radians(7.0)
"""The front neckline meets the shoulder at so much over a right angle and the back at so much under it: together they
run on (trade.md D5), and the front is rounder for it (common practice, no source)."""


class Necks(msgspec.Struct, frozen=True, eq=False):
    """Both necklines, from the side neck points to the centre, on the side where the front lies."""

    front: Bend
    back: Bend

    @property
    def length(self) -> float:
        """The whole neckline, left and right, in mm."""
        return 2 * (self.front.length + self.back.length)


def necks(body: Mapping[str, float], bust_point: Point, slopes: tuple[float, float]) -> Necks:
    """Necklines for shoulders of those slopes (front, back; radians), square to the centre and running on at them.

    The side neck point lies as far from the bust point as measured, straight on the cloth. Refusal when no width that
    lies on the neck makes the neckline fit it.
    """
    base = body["neck_base"]

    def at(share: float) -> Necks:
        return _of_width(body, bust_point, slopes, width=share * base)

    usual = at(NECK_WIDTH)
    wanted = min(max(usual.length, (1 + SHORTEST) * base), (1 + LONGEST) * base, base + MOST_OVER)
    if usual.length == wanted:
        return usual
    share = solved(lambda share: at(share).length - wanted, NECK_WIDTH, NECK_WIDTH * 1.02, within=0.05)
    if not NARROWEST <= share <= WIDEST:
        raise Refusal(
            f"The pit of the neck lies {usual.front.first[1] - usual.front.last[1]:.0f} mm under the side neck point, "
            f"which does not fit a neck base of {base:.0f} mm; check the measurements front waist length, centre front "
            "length and neck base."
        )
    return at(share)


def _of_width(body: Mapping[str, float], bust_point: Point, slopes: tuple[float, float], *, width: float) -> Necks:
    base, nape = body["neck_base"], body["back_waist_length"]
    aside = bust_point[0] - width
    side_front = (width, bust_point[1] + sqrt(max(body["neck_to_bust_point"] ** 2 - aside**2, 0.0)))
    side_back = (width + BACK_WIDER * base, nape + RISE * base)
    return Necks(
        neckline(side_front, slopes[0] - OPENED, (0.0, body["centre_front_length"]), fullness=FRONT_FULLNESS),
        neckline(side_back, slopes[1] + OPENED, (0.0, nape), fullness=BACK_FULLNESS),
    )


def neckline(side_neck: Point, slope: float, centre: Point, *, fullness: float) -> Bend:
    """Square to a line of that slope at the side neck point, and square to the centre."""
    return rounded(side_neck, 1.5 * pi - slope, centre, pi, fullness=fullness)
