"""The method "tape": a draft from the client's own measurements, front and back to the waist.

What is laid down as measured: bust and waist with ease, bust span, side neck to bust point, front, centre front and back
waist lengths, shoulder and its slope. What follows from them by a stated rule: how the girths are shared (`shares`), the
shoulder dart (`front_shoulder_angle`), neck width and underarm height, which give way until neckline and armhole are long
enough for the neck and the arm.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import asin, atan2, cos, degrees, hypot, radians, sin, sqrt
from typing import Final

import numpy as np

from core.blocks.assembly import Drawing, Run, Wedge, piece_of, segment
from core.blocks.ease import Ease
from core.blocks.levels import bust_circle, level_across, level_folded, level_square, level_to, reach_for
from core.blocks.shares import Shares, shared
from core.blocks.upper import Shoulder, armhole, neck, shoulder
from core.blocks.waist import Lower, Side, back_lower, front_lower, width_at
from core.body.body import Measured
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_points, length
from core.pieces.records import Piece

Body = Mapping[str, float]


@dataclass(frozen=True, eq=False, slots=True)
class Blocks:
    """The two pieces of a new block, and what the drafting wants to say about them."""

    front: Piece
    back: Piece
    notes: tuple[str, ...]


# --------------------------------------------------------------------------------------------------------------
# rules


BACK_SLOPE_LESS: Final = radians(4.0)
"""The front shoulder has the measured slope, the back 4 degrees less: 22 and 18 degrees (Bunka 2000, from memory,
trade.md B4)."""

NECK_WIDTH: Final = 0.198
BACK_NECK_WIDER: Final = 0.012
"""Front neck width, and what the back's has over it, as shares of the neck base: 6.7 and 7.2 cm on a neck base of
34.2 (Aldrich for bust 88, second-hand, trade.md B3, A6)."""

NECK_WIDTHS: Final = (0.14, 0.25)
"""Neck widths that still lie on the neck's side, as shares of the neck base."""

NECK_RISE: Final = 0.058
"""Side neck over nape on the back, as a share of the neck base: 2 cm on 34.2 (most methods 1.5 to 2, trade.md B8)."""

NECK_SHORTEST, NECK_LONGEST = -4.0, 50.0
"""The neckline's whole length lies between these over the neck base, in mm (trade.md G6 asks -10 to 60)."""

FRONT_FULLNESS, BACK_FULLNESS = 0.62, 0.62
"""How near the necklines lie to their corners; 0.55 is an ellipse."""

FRONT_BELOW_BACK: Final = 0.041
"""Front shoulder point under the back's, as a share of the back waist length: 1.5 cm on 36.7 (Aldrich, trade.md B3)."""

DART_FROM_NECK: Final = 0.48
"""Where the shoulder darts lie: near mid shoulder, seen from the neck."""

BLADE_SHAPING: Final = 0.022
"""Back shoulder dart and shoulder ease together, as a share of the bust: 1.95 cm at bust 88 (Bunka 2000, trade.md B4)."""

BLADE_LEG: Final = 0.31
"""From shoulder to the pivot at the shoulder blade, as a share of the back waist length: 3 in and the 1 1/2 in by which
the pivot lies beyond the dart point (trade.md C1, C2)."""

BACK_DART_X: Final = 0.46
"""Where the back waist dart lies between centre and underarm."""

UNDERARM_OVER_BUST: Final = 8.0
"""The underarm stays this far (mm) over the bust line (cutting.md 21)."""

ARMHOLE_LEAST, ARMHOLE_MOST = 12.0, 70.0
"""The armhole is longer than the armhole girth by no less and no more (trade.md G6 asks 0 to 80)."""


def front_shoulder_angle(level_deg: float, body: Body) -> float:
    """The shoulder dart's angle in radians.

    Opened wide enough, the dart lets the front shoulder point down to its place under the back's: `level_deg` is that
    angle. Waist lengths are read too unevenly to trust it alone, and the bust is smaller than the high bust in a
    quarter of women, so it is drawn towards the mean of the survey, and up with bust over under-bust: fitted to the
    angles that the heights of shoulder and bust point give on 1,104 women (R2 0.53, spread 3.2 degrees) [calc].
    """
    angle = 15.8 + 0.32 * level_deg + 26.0 * (body["bust"] / body["under_bust"] - 1.18)
    return radians(min(max(angle, LEAST_SHOULDER_DART), MOST_SHOULDER_DART))


LEAST_SHOULDER_DART, MOST_SHOULDER_DART = 4.0, 30.0
"""Degrees: never less than can be sewn, never more than stays a bust (cutting.md 17)."""


# --------------------------------------------------------------------------------------------------------------
# the trunk below the bust


@dataclass(frozen=True, eq=False, slots=True)
class Trunk:
    """Both pieces below the bust, on one side seam."""

    side: Side
    front: Lower
    back: Lower


def _trunk(body: Body, shares: Shares, underarm: float) -> Trunk:
    """The lower parts for a height of the underarm; the waist meets the side seam where both like it best."""
    side = Side(0.0, underarm, shares.lean)
    for _ in range(2):
        trunk = _trunk_on(body, shares, side)
        likings = (trunk.front.side_height(side.lean), trunk.back.side_height(side.lean))
        side = Side(sum(likings) / 2, underarm, shares.lean)
    return _trunk_on(body, shares, side)


def _trunk_on(body: Body, shares: Shares, side: Side) -> Trunk:
    leg = body["front_waist_length"] - body["neck_to_bust_point"]
    pivot = (BACK_DART_X * shares.back_underarm, (leg + side.underarm) / 2)
    back = back_lower(pivot, shares.back_angle, shares.back_underarm, side=side)
    front = front_lower(
        body["bust_span"] / 2,
        leg,
        lambda height: shares.bust - width_at(back, side, height),
        waist=shares.waist - back.waist,
        side=side,
    )
    return Trunk(side, front, back)


# --------------------------------------------------------------------------------------------------------------
# neck and shoulders


@dataclass(frozen=True, eq=False, slots=True)
class Necks:
    """Both necklines, from the side neck point to the centre."""

    front: Points
    back: Points

    @property
    def length(self) -> float:
        """The whole neckline, left and right, in mm."""
        return 2 * (length(self.front) + length(self.back))


def _necks(body: Body, bust_point: Point, slopes: tuple[float, float]) -> Necks:
    """Necklines of a width that makes them long enough for the neck; Refusal when no width on the neck does."""
    base = body["neck_base"]

    def at(share: float) -> Necks:
        aside = share * base
        rise = sqrt(max(body["neck_to_bust_point"] ** 2 - (bust_point[0] - aside) ** 2, 0.0))
        front = neck((aside, bust_point[1] + rise), slopes[0], _pit(body), fullness=FRONT_FULLNESS)
        side = (aside + BACK_NECK_WIDER * base, body["back_waist_length"] + NECK_RISE * base)
        return Necks(front, neck(side, slopes[1], _nape(body), fullness=BACK_FULLNESS))

    usual = at(NECK_WIDTH)
    wanted = min(max(usual.length, base + NECK_SHORTEST), base + NECK_LONGEST)
    if usual.length == wanted:
        return usual
    share = _solved(lambda share: at(share).length - wanted, NECK_WIDTH, NECK_WIDTH * 1.02)
    if not NECK_WIDTHS[0] <= share <= NECK_WIDTHS[1]:
        raise Refusal(
            "The pit of the neck would lie too far from the side neck point for a neck of "
            f"{base:.0f} mm; check the measurements front waist length, centre front length and neck base."
        )
    return at(share)


def _pit(body: Body) -> Point:
    return (0.0, body["centre_front_length"])


def _nape(body: Body) -> Point:
    return (0.0, body["back_waist_length"])


def _solved(off: Callable[[float], float], first: float, second: float, *, within: float = 0.05) -> float:
    """The argument at which `off` is nought, by the secant rule."""
    before, off_before = first, off(first)
    here, off_here = second, off(second)
    for _ in range(12):
        if abs(off_here) <= within or off_here == off_before:
            break
        step = off_here * (here - before) / (off_here - off_before)
        before, off_before, here = here, off_here, here - step
        off_here = off(here)
    return here


def _front_slope(measured: Measured, bust_point_below: float) -> float:
    """Slope of the closed front shoulder, in radians: as measured, or from shoulder point to bust point if that was."""
    body = measured.values
    if "shoulder_point_to_bust_point" in measured.estimated:
        return radians(body["shoulder_slope_deg"])
    along, shoulder_length = body["neck_to_bust_point"], body["shoulder"]
    third = body["shoulder_point_to_bust_point"]
    cosine = (along**2 + shoulder_length**2 - third**2) / (2 * along * shoulder_length)
    aside = NECK_WIDTH * body["neck_base"] - body["bust_span"] / 2
    down = atan2(-sqrt(max(along**2 - aside**2, 0.0)), -aside)
    slope = degrees(-(down + np.arccos(min(max(cosine, -1.0), 1.0))))
    if not 3.0 <= slope <= 48.0:
        raise Refusal(
            f"Shoulder point to bust point ({third:.0f} mm) would give the shoulder a slope of {slope:.0f} degrees; "
            "check it against the measurements shoulder and neck to bust point."
        )
    return radians(slope)


def _front_shoulder(body: Body, side_neck: Point, slope: float, bust_point: Point, back: Shoulder) -> Shoulder:
    end = (side_neck[0] + body["shoulder"] * cos(slope), side_neck[1] - body["shoulder"] * sin(slope))
    level = back.closed_point[1] - FRONT_BELOW_BACK * body["back_waist_length"]
    reach = gap(bust_point, end)
    wanted = asin(min(max((level - bust_point[1]) / reach, -1.0), 1.0))
    now = atan2(end[1] - bust_point[1], end[0] - bust_point[0])
    angle = front_shoulder_angle(degrees(now - wanted), body)
    at = DART_FROM_NECK * body["shoulder"]
    return shoulder(side_neck, slope, body["shoulder"], dart_at=at, pivot=bust_point, angle=angle)


def _back_shoulder(body: Body, ease: Ease, side_neck: Point, slope: float) -> Shoulder:
    """The back shoulder; its dart points to the shoulder blade, half way out on the back."""
    whole = body["shoulder"] + ease.shoulder
    at = DART_FROM_NECK * whole
    leg = BLADE_LEG * body["back_waist_length"]
    x = side_neck[0] + at * cos(slope)
    blade = body["across_back"] / 4
    pivot = (blade, side_neck[1] - at * sin(slope) - sqrt(leg**2 - min(abs(blade - x), leg / 2) ** 2))
    width = max(BLADE_SHAPING * body["bust"] - ease.shoulder, 0.006 * body["bust"])
    return shoulder(side_neck, slope, whole, dart_at=at, pivot=pivot, angle=2 * asin(width / (2 * leg)))


# --------------------------------------------------------------------------------------------------------------
# armholes


FRONT_HOLLOW, BACK_HOLLOW = 2.4, 2.15
"""The front armhole is hollower than the back (trade.md B10)."""

FRONT_ACROSS_AT, BACK_ACROSS_AT = 0.4, 0.45
"""How high between underarm and shoulder point the armhole comes nearest to the centre."""


def _armholes(body: Body, ease: Ease, trunk: Trunk, shoulders: tuple[Shoulder, Shoulder], height: float) -> Armholes:
    """Both armholes with the underarm at a height, the side seams run on or cut off to it."""
    front, back = shoulders
    lean = trunk.side.lean
    under = [(trunk.side.x(lower.underarm[0], height), height) for lower in (trunk.front, trunk.back)]
    bust_point = trunk.front.pivot
    y = height + FRONT_ACROSS_AT * (front.point[1] - height)
    x = (body["across_front"] + ease.front_width) / 2 + (y - bust_point[1]) * sin(front.angle)
    across = (min(x, front.point[0] - 5, under[0][0] - 42), y)
    y = height + BACK_ACROSS_AT * (back.point[1] - height)
    x = (body["across_back"] + ease.back_width) / 2
    across_back = (min(max(x, back.point[0] - 28), back.point[0] - 5, under[1][0] - 40), y)
    return Armholes(
        armhole(under[0], lean, across, front, hollow=FRONT_HOLLOW),
        armhole(under[1], lean, across_back, back, hollow=BACK_HOLLOW),
    )


@dataclass(frozen=True, eq=False, slots=True)
class Armholes:
    """Both armholes, from the underarm to the shoulder point."""

    front: Points
    back: Points

    @property
    def length(self) -> float:
        """The whole armhole in mm."""
        return length(self.front) + length(self.back)


# --------------------------------------------------------------------------------------------------------------
# the recipe


def tape(measured: Measured, ease: Ease) -> Blocks:
    """Draft both pieces; Refusal names the measurements that cannot be drafted together."""
    body = measured.values
    leg = body["front_waist_length"] - body["neck_to_bust_point"]
    shares = shared(body, ease, drop=leg)
    natural = body["back_waist_length"] - body["scye_depth"] - ease.armhole_depth
    underarm = max(natural, leg + UNDERARM_OVER_BUST)
    trunk = _trunk(body, shares, underarm)
    front_slope = _front_slope(measured, leg)
    back_slope = front_slope - BACK_SLOPE_LESS
    necks = _necks(body, trunk.front.pivot, (front_slope, back_slope))
    back_shoulder = _back_shoulder(body, ease, _first(necks.back), back_slope)
    shoulders = (
        _front_shoulder(body, _first(necks.front), front_slope, trunk.front.pivot, back_shoulder),
        back_shoulder,
    )
    underarm = _underarm(body, ease, trunk, shoulders)
    trunk = _trunk(body, shares, underarm)
    # The bust point has moved with the underarm: both front darts share it, so the front's top is laid down again.
    necks = _necks(body, trunk.front.pivot, (front_slope, back_slope))
    shoulders = (
        _front_shoulder(body, _first(necks.front), front_slope, trunk.front.pivot, back_shoulder),
        back_shoulder,
    )
    armholes = _armholes(body, ease, trunk, shoulders, underarm)
    return Blocks(
        piece_of("front", _front(body, trunk, shoulders[0], necks.front, armholes.front)),
        piece_of("back", _back(body, trunk, shoulders, necks.back, armholes.back)),
        _notes(natural, underarm),
    )


def _first(points: Points) -> Point:
    return (float(points[0, 0]), float(points[0, 1]))


def _underarm(body: Body, ease: Ease, trunk: Trunk, shoulders: tuple[Shoulder, Shoulder]) -> float:
    """The height of the underarm at which the armhole is long enough for the arm, and not too long."""
    girth, start = body["scye_girth"], trunk.side.underarm
    least = trunk.front.pivot[1] + UNDERARM_OVER_BUST
    now = _armholes(body, ease, trunk, shoulders, start).length
    wanted = min(max(now, girth + ARMHOLE_LEAST), girth + ARMHOLE_MOST)
    if now == wanted:
        return max(start, least)

    def off(height: float) -> float:
        return _armholes(body, ease, trunk, shoulders, height).length - wanted

    return max(_solved(off, start, start - (wanted - now) / 2, within=0.5), least)


def _notes(natural: float, underarm: float) -> tuple[str, ...]:
    moved = underarm - natural
    if abs(moved) < 5.0:
        return ()
    way = "higher" if moved > 0 else "lower"
    return (f"The underarm lies {abs(moved):.0f} mm {way} than the armhole depth gives.",)


def _front(body: Body, trunk: Trunk, top: Shoulder, neckline: Points, hole: Points) -> Drawing:
    lower, side = trunk.front, trunk.side
    pivot = lower.pivot
    outside = as_points(np.vstack((lower.waist_side, hole)))
    below = body["under_bust_level"] - body["neck_to_bust_point"]
    above = body["neck_to_bust_point"] - body["upper_bust_level"]
    height = pivot[1] + above * (top.side_neck[1] - pivot[1]) / body["neck_to_bust_point"]
    marks = {
        "upper_bust_line": level_folded(top, height, outside),
        "bust_line": level_across(lower, side, pivot[1]),
        "under_bust_line": level_square(lower, side, below),
        "bust_circle": bust_circle(lower, top, above=above, below=below, outside=below),
    }
    landmarks = _landmarks(lower, top, neckline, marks) | {"neck_pit": _pit(body), "bust_point": pivot}
    return Drawing(
        _runs("centre_front", "fold", lower, top, neckline, hole), _wedges(lower, top, (13.0, 50.0)), marks, landmarks
    )


def _back(body: Body, trunk: Trunk, shoulders: tuple[Shoulder, Shoulder], neckline: Points, hole: Points) -> Drawing:
    lower, top, side = trunk.back, shoulders[1], trunk.side
    outside = as_points(np.vstack((lower.waist_side, hole)))
    height = trunk.front.pivot[1] + 60
    under = trunk.front.pivot[1] - 70
    marks = {
        "upper_bust_line": level_to(lower, height, outside),
        "bust_line": level_across(lower, side, trunk.front.pivot[1]),
        "under_bust_line": level_square(lower, side, reach_for(lower, side, under)),
    }
    landmarks = _landmarks(lower, top, neckline, marks) | {"nape": _nape(body), "shoulder_blade": top.pivot}
    set_backs = (25.0, gap(top.pivot, top.inner_leg) / 3)
    runs = _runs("centre_back", "seam", lower, top, neckline, hole)
    return Drawing(runs, _wedges(lower, top, set_backs), marks, landmarks).turned_over()


def _runs(centre: str, kind: str, lower: Lower, top: Shoulder, neckline: Points, hole: Points) -> tuple[Run, ...]:
    return (
        Run(centre, "fold" if kind == "fold" else "seam", segment(_last(neckline), (0.0, 0.0))),
        Run("waist", "seam", lower.inner),
        Run("waist_dart", "dart base", segment(*lower.legs)),
        Run("waist", "seam", lower.outer),
        Run("side", "seam", segment(lower.waist_side, lower.underarm)),
        Run("armhole", "opening", hole),
        Run("shoulder", "seam", segment(top.point, top.outer_leg)),
        Run("shoulder_dart", "dart base", segment(top.outer_leg, top.inner_leg)),
        Run("shoulder", "seam", segment(top.inner_leg, top.side_neck)),
        Run("neck", "opening", neckline),
    )


def _last(points: Points) -> Point:
    return (float(points[-1, 0]), float(points[-1, 1]))


def _wedges(lower: Lower, top: Shoulder, set_backs: tuple[float, float]) -> tuple[Wedge, ...]:
    return (
        Wedge("waist_dart", lower.pivot, lower.legs, set_backs[0]),
        Wedge("shoulder_dart", top.pivot, (top.outer_leg, top.inner_leg), set_backs[1]),
    )


def _landmarks(
    lower: Lower, top: Shoulder, neckline: Points, marks: Mapping[str, tuple[Points, ...]]
) -> dict[str, Point]:
    lines = ("upper_bust_line", "bust_line", "under_bust_line")
    return {
        "side_neck": top.side_neck,
        "shoulder_point": top.point,
        "underarm": lower.underarm,
        "waist_centre": (0.0, 0.0),
        "waist_side": lower.waist_side,
    } | {name: _first(marks[name][0]) for name in lines}
