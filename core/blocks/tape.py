"""The method "tape": a draft from the client's own measurements, front and back to the waist.

Laid down as measured: bust and waist with ease, bust span, side neck to bust point, front, centre front and back waist
lengths, shoulder and its slope. What follows from them by stated rules: how the girths are shared (`shares`), the
shoulder dart (`shoulders`), the widths of neck and chest (`necks`, `armholes`). Neck width, underarm and, last, the
shoulder's slope give way until neckline and armhole are long enough for the neck and the arm.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import degrees, radians
from typing import Final

import msgspec

from core.blocks.armholes import CUT_IN, armholes, wide_front
from core.blocks.assembly import Blocks, piece_of
from core.blocks.drawings import Outline, back_drawing, front_drawing
from core.blocks.ease import Ease
from core.blocks.necks import NECK_WIDTH, Necks, necks
from core.blocks.shares import shared
from core.blocks.shoulders import (
    BACK_SLOPE_LESS,
    Shoulder,
    back_shoulder,
    front_shoulder,
    front_slope,
    slope_is_measured,
)
from core.blocks.solving import enclosed, solved
from core.blocks.waist import Trunk, trunk
from core.body.body import Measured
from core.errors import Refusal
from core.geometry.polyline import Point

UNDERARM_OVER_BUST: Final = 0.016
"""The underarm stays so far over the bust line (cutting.md 21), as a share of the back waist length: 6 mm on 367."""

SHORTEST_ARMHOLE, LONGEST_ARMHOLE = 1.03, 1.17
"""The whole armhole, in armhole girths: 11 to 62 mm longer on a girth of 363 (trade.md G6 asks 0 to 80 mm)."""

HIGHEST_UNDERARM: Final = 0.6
"""An armhole that is too long has its underarm raised by up to this share of its height."""

SETTLING: Final = 5
"""Where the slope follows from the distance to the bust point, neck width and slope look at one another: they are
found in turn this often, after which the width moves by under 0.01 mm."""

MOST_OVER: Final = 78.0
"""And never longer than the armhole girth by more (mm)."""

MOST_RAISED: Final = radians(9.0)
"""With all the room that can be given to an arm, the shoulders are raised so much out of their slope."""

WORTH_SAYING: Final = 12.0
"""An underarm moved by less (mm) is not mentioned."""


SHALLOW_NECK, DEEP_NECK = 0.12, 0.29
"""A pit of the neck that lies less or more than these shares of the neck base under the side neck point is mentioned:
41 and 99 mm on 342. A handbook's front neck is a fifth of the neck deep (trade.md B8)."""

LONG_SHOULDER: Final = 0.04
"""A shoulder that ends so far outside the across back line (a share of the bust: 35 mm at bust 88) is mentioned."""


class Upper(msgspec.Struct, frozen=True, eq=False):
    """Necklines and shoulders, front first."""

    necks: Necks
    shoulders: tuple[Shoulder, Shoulder]


def tape(measured: Measured, ease: Ease) -> Blocks:
    """Draft both pieces; Refusal names the measurements that cannot be drafted together."""
    body = measured.values
    natural = body["back_waist_length"] - body["scye_depth"] - ease.armhole_depth
    lower = trunk(body, shared(body, ease), max(natural, body["front_waist_length"] - body["neck_to_bust_point"]))
    height, room = _for_the_arm(measured, ease, lower, natural)
    upper = _upper(measured, ease, lower.front.pivot, room)
    holes = armholes(body, ease, lower, upper.shoulders, height=height, room=room)
    (front_shape, back_shape), lines = upper.shoulders, upper.necks
    front = front_drawing(
        body, Outline("centre_front", "fold", lower.front, front_shape, lines.front.points, holes.front)
    )
    back = back_drawing(front, Outline("centre_back", "seam", lower.back, back_shape, lines.back.points, holes.back))
    notes = (
        *_give_notes(body, height - natural, room),
        *_neck_notes(body, lines.front.first[1] - lines.front.last[1]),
        *_shoulder_notes(body, back_shape),
        *wide_front(holes, body, lower.front.pivot),
    )
    return Blocks(piece_of("front", front), piece_of("back", back), notes)


def _upper(measured: Measured, ease: Ease, bust_point: Point, room: float) -> Upper:
    """Necklines and shoulders; `room` from 0 to 1 raises the shoulders out of their measured slope."""
    body = measured.values
    slope, lines = _slope_and_necks(measured, bust_point, room, width=NECK_WIDTH * body["neck_base"])
    for _ in range(0 if slope_is_measured(measured) else SETTLING):
        slope, lines = _slope_and_necks(measured, bust_point, room, width=lines.front.first[0])
    back = back_shoulder(body, ease, lines.back.first, slope - BACK_SLOPE_LESS)
    front = front_shoulder(body, lines.front.first, slope, bust_point, back=back)
    return Upper(lines, (front, back))


def _slope_and_necks(measured: Measured, bust_point: Point, room: float, *, width: float) -> tuple[float, Necks]:
    slope = front_slope(measured, width) - room * MOST_RAISED
    return slope, necks(measured.values, bust_point, (slope, slope - BACK_SLOPE_LESS))


def _for_the_arm(measured: Measured, ease: Ease, lower: Trunk, natural: float) -> tuple[float, float]:
    """The height of the underarm (mm), and the room given to the arm otherwise (0 to 1).

    The underarm stays at its natural height where that makes an armhole of a good length; else it moves, but not down
    to the bust line; what is still wanting then is got by raising the shoulders and cutting the armholes farther in.
    Refusal when that is not enough, or when no height makes the armhole short enough.
    """
    body, girth = measured.values, measured.values["scye_girth"]
    least = lower.front.pivot[1] + UNDERARM_OVER_BUST * body["back_waist_length"]
    shoulders = _upper(measured, ease, lower.front.pivot, 0.0).shoulders

    def with_height(height: float) -> float:
        return armholes(body, ease, lower, shoulders, height=height, room=0.0).length

    def with_room(room: float) -> float:
        raised = _upper(measured, ease, lower.front.pivot, room).shoulders
        return armholes(body, ease, lower, raised, height=least, room=room).length

    shortest = SHORTEST_ARMHOLE * girth
    highest = natural + HIGHEST_UNDERARM * (shoulders[0].point[1] - natural)
    height = _liked_height(with_height, natural, highest, girth=girth)
    if height >= least or with_height(least) >= shortest:
        return max(height, least), 0.0
    room = min(solved(lambda room: with_room(room) - shortest, 0.0, 0.5, within=0.05), 1.0)
    if room < 1.0 or with_room(room) >= girth:
        return least, room
    raise Refusal(
        f"The armhole would be {with_room(1.0):.0f} mm long, too short for an armhole girth of {girth:.0f} mm, and it "
        "cannot be cut lower for the bust; check the measurements armhole girth, back waist length and shoulder slope."
    )


def _liked_height(armhole: Callable[[float], float], natural: float, highest: float, *, girth: float) -> float:
    """The underarm's natural height, or the nearest at which the armhole is neither too short nor too long."""
    usual, shortest = armhole(natural), SHORTEST_ARMHOLE * girth
    longest = min(LONGEST_ARMHOLE * girth, girth + MOST_OVER)
    if usual < shortest:
        guess = natural + (usual - shortest) / 2
        return solved(lambda height: armhole(height) - shortest, natural, guess, within=0.05)
    if usual <= longest:
        return natural
    height = enclosed(lambda height: armhole(height) - longest, natural, highest, within=0.05)
    if height is None:
        raise Refusal(
            f"The armhole would be {usual:.0f} mm long, far too long for an armhole girth of {girth:.0f} mm; check the "
            "measurements armhole girth, across front and across back."
        )
    return height


def _give_notes(body: Mapping[str, float], moved: float, room: float) -> tuple[str, ...]:
    notes = []
    if abs(moved) >= WORTH_SAYING:
        way = "higher" if moved > 0 else "lower"
        notes.append(f"The underarm lies {abs(moved):.0f} mm {way} than the armhole depth says, for the armhole girth.")
    if room > 0.0:
        notes.append(
            f"For the armhole girth the shoulders slope {degrees(room * MOST_RAISED):.1f} degrees less than measured, "
            f"and the armholes are cut {room * CUT_IN * body['bust']:.0f} mm farther in."
        )
    return tuple(notes)


def _neck_notes(body: Mapping[str, float], depth: float) -> tuple[str, ...]:
    share = depth / body["neck_base"]
    if SHALLOW_NECK <= share <= DEEP_NECK:
        return ()
    word = "little" if share < SHALLOW_NECK else "much"
    note = (
        f"The pit of the neck lies {depth:.0f} mm under the side neck point, which is {word}: measure front waist "
        "length and centre front length again, both down to the same waist."
    )
    return (note,)


def _shoulder_notes(body: Mapping[str, float], back: Shoulder) -> tuple[str, ...]:
    overhang = back.point[0] - body["across_back"] / 2
    if overhang < LONG_SHOULDER * body["bust"]:
        return ()
    note = (
        f"The shoulder ends {overhang:.0f} mm outside the line across the back, which is much: the shoulder length is "
        "measured to where the armhole seam will lie, about 20 mm inside the edge of the bone."
    )
    return (note,)
