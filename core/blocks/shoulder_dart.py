"""The method "shoulder dart": a handbook's close-fitting draft, laid on the client's own lengths.

Neck, shoulders, widths and armholes follow the handbook's rules (trade.md B3); the bust point, the front and the back
waist length are the client's, and the waist is taken in as in the method "tape". The handbook opens the bust dart at
the side neck point; here it opens at mid shoulder, about the same bust point by the same angle, which is the same
cloth.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import asin, degrees, sqrt
from typing import Final

from core.blocks.armholes import BACK_ACROSS_AT, FRONT_ACROSS_AT, Armholes, armhole, wide_front, within
from core.blocks.assembly import Blocks, piece_of
from core.blocks.departures import WORTH_SAYING, departures
from core.blocks.drawings import Outline, back_drawing, front_drawing
from core.blocks.ease import Ease
from core.blocks.necks import BACK_FULLNESS, FRONT_FULLNESS, OPENED, neckline
from core.blocks.shares import shared
from core.blocks.shoulders import Shoulder, blade_shoulder, with_dart
from core.blocks.solving import solved
from core.blocks.tape import UNDERARM_OVER_BUST
from core.blocks.waist import Trunk, trunk
from core.body.body import Measured
from core.errors import Refusal
from core.geometry.placement import about
from core.geometry.polyline import Point, Points

BELOW_DEPTH: Final = 5.0
"""The underarm lies so far under the armhole depth (trade.md B3, step 1-2)."""

NECK_OVER: Final = 30.0
"""The handbook's neck is that of the garment, about so much longer than the body's neck base (trade.md B9)."""

RISE: Final = 15.0
FRONT_LESS, BACK_LESS, PIT_LESS = 7.0, 2.0, 2.0
"""Back neck rise; front width, back width and front depth of the neck are a fifth of it less these (B3)."""

SHOULDER_LESS: Final = 7.0
"""The back shoulder ends a fifth of the armhole depth less this under the nape (B3, step 1-10)."""

BACK_LONGER: Final = 10.0
"""The back shoulder with its dart open is so much longer than the front: ease and dart together (B3, step 9-11)."""

LEAST_BLADE: Final = 5.0
"""Of that the dart takes at least so much: about the least that can be sewn."""

FRONT_LOWER: Final = 15.0
"""The front shoulder ends so much lower under its side neck point than the back one (B3, step 11-28)."""

DART_GROWTH, DART_LESS = 0.15, 62.0
LARGE_BUST, LARGE_GROWTH = 1040.0, 0.1
"""The bust dart at the shoulder is 0.15 of the bust less 62 mm wide, and from a bust of 104 cm on a tenth of what is
over it wider: fitted to the handbook's table (trade.md A5)."""

SHOULDER_GROWTH, SHOULDER_AT_NOUGHT = 1 / 16, 67.5
"""The handbook's own shoulder is a sixteenth of the bust and 67.5 mm: fitted to its table (trade.md A5). Its slopes
follow from that length; the client's shoulder is laid along them, so that one measured out to the bone is not flat."""

CORNERS: Final = ((940.0, 20.0, 25.0), (1070.0, 25.0, 30.0), (float("inf"), 30.0, 35.0))
"""Up to a bust, how far the front and the back armhole pass from their corners at 45 degrees (B3)."""

FLATTEST_CORNER, ROOMY = 1.12, 0.05
"""But never farther than this times where an ellipse would, and in an armhole narrower than this share of the bust (44
mm at bust 88) by as much nearer: the curve would else bend twice."""

FLATTEST, STEEPEST = 3.0, 48.0
"""Degrees between which a front shoulder slopes."""


def shoulder_dart(measured: Measured, ease: Ease) -> Blocks:
    """Draft both pieces; Refusal names the measurements that cannot be drafted together."""
    body = measured.values
    depth = body["scye_depth"] + ease.armhole_depth
    natural = body["back_waist_length"] - depth - BELOW_DEPTH
    lower = trunk(body, shared(body, ease), max(natural, body["front_waist_length"] - body["neck_to_bust_point"]))
    back_top = _back_shoulder(body, ease, depth)
    front_top = _front_shoulder(body, lower.front.pivot, RISE + depth / 5 - SHOULDER_LESS + FRONT_LOWER)

    def holes_at(height: float) -> Armholes:
        return _armholes(body, ease, lower, (front_top, back_top), height=height)

    least = lower.front.pivot[1] + UNDERARM_OVER_BUST * body["back_waist_length"]
    height = max(_for_the_arm(lambda height: holes_at(height).length - body["scye_girth"], natural), least)
    holes = holes_at(height)
    pit = (0.0, front_top.side_neck[1] - (_neck(body) / 5 - PIT_LESS))
    front_neck = neckline(front_top.side_neck, front_top.slope - OPENED, pit, fullness=FRONT_FULLNESS)
    nape = (0.0, body["back_waist_length"])
    back_neck = neckline(back_top.side_neck, back_top.slope + OPENED, nape, fullness=BACK_FULLNESS)
    front = front_drawing(body, Outline("centre_front", "fold", lower.front, front_top, front_neck.points, holes.front))
    back = back_drawing(front, Outline("centre_back", "seam", lower.back, back_top, back_neck.points, holes.back))
    notes = (
        *_moved(height - natural),
        *departures(measured, (front, back), (holes.front, holes.back), (front_top.slope, back_top.slope)),
        *wide_front(holes, body, lower.front.pivot),
    )
    return Blocks(piece_of("front", front), piece_of("back", back), notes)


def _neck(body: Mapping[str, float]) -> float:
    return body["neck_base"] + NECK_OVER


def _back_shoulder(body: Mapping[str, float], ease: Ease, depth: float) -> Shoulder:
    """The back shoulder; what it has over the front is the ease, and the rest of the handbook's centimetre the dart."""
    side_neck = (_neck(body) / 5 - BACK_LESS, body["back_waist_length"] + RISE)
    drop, width = RISE + depth / 5 - SHOULDER_LESS, max(BACK_LONGER - ease.shoulder, LEAST_BLADE)
    slope = asin(drop / (own_shoulder(body) + BACK_LONGER))
    return blade_shoulder(body, side_neck, slope, length=body["shoulder"] + ease.shoulder, width=width)


def _front_shoulder(body: Mapping[str, float], bust_point: Point, drop: float) -> Shoulder:
    """The front shoulder; with its dart open at the side neck point it ends `drop` mm under that point."""
    down = body["neck_to_bust_point"]
    width = _neck(body) / 5 - FRONT_LESS
    side_neck = (width, bust_point[1] + sqrt(max(down**2 - (bust_point[0] - width) ** 2, 0.0)))
    angle = 2 * asin(dart_width(body) / (2 * down))
    begins = about(bust_point, -angle).point(side_neck)
    fall = (begins[1] - side_neck[1] + drop) / own_shoulder(body)
    slope = asin(min(max(fall, -1.0), 1.0)) - angle
    if not FLATTEST <= degrees(slope) <= STEEPEST:
        raise Refusal(
            f"By this method the front shoulder would slope {degrees(slope):.0f} degrees; check the measurements "
            "shoulder length, armhole depth and side neck to bust point, or draft with the tape method."
        )
    return with_dart(side_neck, slope, body["shoulder"], pivot=bust_point, angle=angle)


def own_shoulder(body: Mapping[str, float]) -> float:
    """Length in mm of the shoulder that the handbook's size of that bust has."""
    return SHOULDER_GROWTH * body["bust"] + SHOULDER_AT_NOUGHT


def dart_width(body: Mapping[str, float]) -> float:
    """Width of the bust dart at the side neck point's distance from the bust point, in mm."""
    large = max(body["bust"] - LARGE_BUST, 0.0)
    return DART_GROWTH * (body["bust"] - large) - DART_LESS + LARGE_GROWTH * large


def _armholes(
    body: Mapping[str, float], ease: Ease, lower: Trunk, shoulders: tuple[Shoulder, Shoulder], *, height: float
) -> Armholes:
    front, back = shoulders
    _, front_off, back_off = next(row for row in CORNERS if body["bust"] < row[0])
    x_front = (body["across_front"] + ease.front_width) / 2 + dart_width(body) / 2
    x_back = (body["across_back"] + ease.back_width) / 2
    lean = lower.front.side.lean

    def drawn(side: Point, shoulder: Shoulder, place: tuple[float, float], off: float) -> Points:
        x, share = place
        y = side[1] + share * (shoulder.point[1] - side[1])
        across = within((x, y), side, shoulder, bust=body["bust"])
        width = side[0] - across[0]
        flattest = FLATTEST_CORNER * min(width / (ROOMY * body["bust"]), 1.0)
        in_by = min(off / sqrt(2), flattest * _round_corner(width, across[1] - side[1]))
        return armhole(side, lean, ((across[0] + in_by, side[1] + in_by), across), shoulder)

    return Armholes(
        drawn(lower.front.side.at(height), front, (x_front, FRONT_ACROSS_AT), front_off),
        drawn(lower.back.side.at(height), back, (x_back, BACK_ACROSS_AT), back_off),
    )


def _round_corner(width: float, rise: float) -> float:
    """How far in and up from its corner an ellipse of those half axes (mm) passes at 45 degrees."""
    across, up = 1 / width, 1 / rise
    return (across + up - sqrt(2 * across * up)) / (across**2 + up**2)


def _for_the_arm(longer: Callable[[float], float], natural: float) -> float:
    """The underarm's natural height, or the lower one at which the armhole is as long as the armhole girth."""
    if longer(natural) >= 0.0:
        return natural
    return min(solved(longer, natural, natural - 10.0, within=0.05), natural)


def _moved(by: float) -> tuple[str, ...]:
    if by >= 1.0:
        return (f"The underarm is lifted {by:.0f} mm over where the method has it, to stay above the bust line.",)
    if by <= -WORTH_SAYING:
        return (f"The underarm lies {-by:.0f} mm under where the method has it, for the armhole girth.",)
    return ()
