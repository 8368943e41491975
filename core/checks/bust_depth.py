"""How deep a bust is by the tape, and the angle that a cup over it wants taken out: estimates, to be tried on a toile.

The tape does not tell the shape of a breast. The depth is that of two points that stand out from a round chest until a
tape round all of it reads the bust girth; the cup is compared with the cone of that depth.
"""

from __future__ import annotations

from math import acos, asin, hypot, pi, sqrt, tau
from typing import Final

from core.body.body import Measured

BASE_SHARE: Final = 0.2625
"""The foot of a breast is so wide in shares of the under-bust girth: 200 mm at 30 in, the mean of the foot radii that
the form page gives for its figure (105 mm up, 95 out, about 100 down and in), twice."""

BAND: Final = 15.0
"""Degrees either way within which a cup's intake agrees with the estimate: 10 mm of bust are 6 degrees, a pointed or
round shape 10 to 13 (form.md 4). A round bust deeper than 0.3 of its foot, as nearly a third of the survey's women have
by this estimate, wants more than it tells: 21 degrees at 0.4 (trade.md E)."""

HALVINGS: Final = 40
"""Halvings of the range of depths, to a millionth of a millimetre."""

DEEPEST: Final = 250.0
"""No bust is deeper (mm)."""


def cone_intake(depth: float, base: float) -> float:
    """The angle in degrees that a cone of this depth and base diameter (mm) takes out of a flat disc.

    360 (1 - sin b) with b its half apex angle (form.md F1); 51.3, 78.9 and 105.4 degrees at depths of 0.3, 0.4 and 0.5
    of the base (trade.md E).
    """
    return 360.0 * (1.0 - (base / 2.0) / hypot(base / 2.0, depth))


def bust_depth(measured: Measured) -> float:
    """How far (mm) the bust points stand out from the chest; 0 where the tape reads no more than the chest does.

    The chest is a circle of a girth between high bust and under-bust, a quarter of the way up from the under-bust.
    """
    body = measured.values
    chest = (body["high_bust"] + 3.0 * body["under_bust"]) / 4.0 / tau
    low, high = max(body["bust_span"] / 2.0 - chest, 0.0), DEEPEST
    if _taped(chest, low, body["bust_span"]) >= body["bust"]:
        return 0.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _taped(chest, middle, body["bust_span"]) > body["bust"] else (middle, high)
    return low


def _taped(chest: float, depth: float, span: float) -> float:
    """What a tape reads round a circle of radius `chest` and two points `depth` out from it, `span` apart (mm)."""
    out = chest + depth
    front = asin(min(span / (2.0 * out), 1.0))
    side = acos(chest / out)
    return span + 2.0 * sqrt(out * out - chest * chest) + 2.0 * chest * (pi - front - side)


def wanted_intake(measured: Measured) -> float:
    """The angle in degrees that the bust wants taken out round its point, by the tape; within `BAND` at best."""
    return cone_intake(bust_depth(measured), BASE_SHARE * measured.values["under_bust"])
