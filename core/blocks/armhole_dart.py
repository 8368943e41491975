"""The method "armhole dart": a handbook's draft by proportion, with a bust dart at the armhole and six waist darts.

All follows from bust, waist and back waist length (trade.md B4: the formulas in a paper of 2017, slopes, offsets and
where the darts stand from memory). Two waist darts lie on the front (a under the bust point, b towards the side), one
in each side seam (c), two on the back (d under the armhole, e under the shoulder blade), and the centre back runs in
(f). House choice: all of them end on the bust line, so that the bust is as wide as asked for.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import asin, atan, cos, pi, radians, sqrt, tan
from typing import Final

import msgspec
import numpy as np

from core.blocks.armhole_dart_drawing import Half, back_drawing, front_drawing
from core.blocks.armholes import armhole, armhole_to, run_between
from core.blocks.assembly import Blocks, Run, Wedge, piece_of, segment
from core.blocks.curves import along
from core.blocks.departures import departures
from core.blocks.ease import Ease
from core.blocks.necks import BACK_FULLNESS, FRONT_FULLNESS, OPENED, neckline
from core.blocks.shoulders import LEAST_BLADE, Shoulder, with_dart
from core.blocks.solving import solved
from core.blocks.waist import SideSeam
from core.blocks.waist_darts import Waist, WaistDart, waist_edge
from core.body.body import Measured
from core.errors import Refusal
from core.geometry.curve import bezier_points
from core.geometry.placement import about, gap
from core.geometry.polyline import Point, Points, as_point, as_points, nearest, tangent_at, with_ends

SHARES: Final = {"a": 0.14, "b": 0.15, "c": 0.11, "d": 0.35, "e": 0.18, "f": 0.07}
"""What each waist dart takes of the whole; c is both sides of the side seam together."""

FRONT_SLOPE, BACK_SLOPE = radians(22.0), radians(18.0)
PAST_FRONT_WIDTH: Final = 18.0
"""The front shoulder ends so far along it past the front width."""

GUIDE: Final = 80.0
"""The shoulder blade lies so far under the nape."""

DART_UNDER: Final = 5.0
"""The armhole dart begins so far under half way from the bust line up to the shoulder blade's level."""

BUST_POINT_OUT, BLADE_OUT = 7.0, 10.0
"""Bust point and shoulder blade lie so far outside the middle of the front and of the back width."""

B_IN, D_IN, E_IN = 15.0, 10.0, 5.0
"""Darts b, d and e lie so far inside the armhole dart's end, the back width and the shoulder blade."""

BLADE_DART_OUT: Final = 15.0
"""The back shoulder dart begins so far along the shoulder outside the blade."""

SET_BACK: Final = 25.0
"""Waist darts are sewn to 1 in under their pivots (trade.md C2)."""

SIDE_SET_BACK: Final = 50.0
"""The armhole dart ends 2 in short of the bust point (trade.md C2)."""

FRONT_OFF, BACK_OFF = 5.0, 8.0
"""The armholes pass their corners, at 45 degrees, so much farther off than a third of the way to the side seam."""

BACK_TANGENT_AT: Final = 0.7
"""How high between bust line and shoulder blade the back armhole touches the back width (house value)."""

FRONT_WIDTH_AT: Final = 0.5
"""How high between the armhole dart and the shoulder point the front armhole passes the front width (house value)."""

LEAST_TOTAL: Final = 30.0
"""The six darts take in at least so much together (mm): the smallest is then 2 mm."""

NARROWEST: Final = 0.034
"""Least way from underarm to back width, as a share of the bust: 30 mm at bust 88."""


class Grid(msgspec.Struct, frozen=True):
    """The draft's measures for half the body, in mm, heights over the waist."""

    half: float
    bust_line: float
    back_width: float
    front_width: float
    nape: float
    front_neck: float
    front_top: float
    dart_end: Point
    bust_point: Point
    dart_angle: float
    side_from_back: float
    blade: Point

    @property
    def side_from_front(self) -> float:
        """From the centre front to the side seam on the bust line."""
        return self.half - self.side_from_back


def grid(body: Mapping[str, float], ease: Ease) -> Grid:
    """The measures by the handbook's formulas, centimetres there turned into mm.

    Refusal when the bust ease leaves no armhole, or the bust line falls under the waist.
    """
    bust, nape = body["bust"], body["back_waist_length"]
    half, bust_line = (bust + ease.bust) / 2, nape - (bust / 12 + 137.0)
    back_width, front_width = bust / 8 + 74.0, bust / 8 + 62.0
    dart_end = (front_width + bust / 32, bust_line + (nape - GUIDE - bust_line) / 2 - DART_UNDER)
    side = (back_width + half - dart_end[0]) / 2
    if side - back_width < NARROWEST * bust:
        raise Refusal(
            f"With {ease.bust:.0f} mm of bust ease this method leaves no room for the armhole: give more bust ease, or "
            "draft with the tape method."
        )
    if bust_line < 0.2 * nape:
        raise Refusal(
            f"By this method the bust line lies only {bust_line:.0f} mm over the waist; check the measurements bust "
            "and back waist length, or draft with the tape method."
        )
    return Grid(
        half=half,
        bust_line=bust_line,
        back_width=back_width,
        front_width=front_width,
        nape=nape,
        front_neck=bust / 24 + 34.0,
        front_top=bust_line + bust / 5 + 83.0,
        dart_end=dart_end,
        bust_point=(front_width / 2 + BUST_POINT_OUT, bust_line),
        dart_angle=radians(bust / 40 - 2.5),
        side_from_back=side,
        blade=(back_width / 2 + BLADE_OUT, nape - GUIDE),
    )


def armhole_dart(measured: Measured, ease: Ease) -> Blocks:
    """Draft both pieces; Refusal names the measurements that cannot be drafted together."""
    body = measured.values
    lines = grid(body, ease)
    front_waist, back_waist = _waists(body, ease, lines)
    front = front_drawing(body, _front(lines, front_waist))
    back = back_drawing(front, _back(body, ease, lines, back_waist))
    armhole = tuple(run.points for drawing in (front, back) for run in drawing.runs if run.name == "armhole")
    return Blocks(
        piece_of("front", front),
        piece_of("back", back),
        departures(measured, (front, back), armhole, (FRONT_SLOPE, BACK_SLOPE)),
    )


# --------------------------------------------------------------------------------------------------------------
# the waist


class Lower(msgspec.Struct, frozen=True, eq=False):
    """A piece under the bust line: its waist edge and side seam, how far the centre runs in (mm)."""

    waist: Waist
    side: SideSeam
    run_in: float = 0.0


def _waists(body: Mapping[str, float], ease: Ease, lines: Grid) -> tuple[Lower, Lower]:
    """Both waists; the shares are enlarged a little for the curves, so that the waist is exactly as long as asked."""
    wanted = (body["waist"] + ease.waist) / 2
    total = lines.half - wanted
    if total < LEAST_TOTAL:
        raise Refusal(
            f"With ease the bust is only {2 * total:.0f} mm more than the waist, too little for six darts; check the "
            "measurements bust and waist, or draft with the tape method."
        )

    def too_long(grown: float) -> float:
        return sum(lower.waist.length for lower in _with_total(lines, grown * total)) - wanted

    return _with_total(lines, total * solved(too_long, 1.0, 1.002, within=1e-4))


def _with_total(lines: Grid, total: float) -> tuple[Lower, Lower]:
    """Both waists with darts of that total; they end on the side seam midway between where they would like to."""
    height = 0.0
    for _ in range(3):
        front, back = _ending_at(lines, total, height)
        height = (front.waist.even_end + back.waist.even_end) / 2
    return _ending_at(lines, total, height)


def _ending_at(lines: Grid, total: float, height: float) -> tuple[Lower, Lower]:
    width = {name: share * total for name, share in SHARES.items()}
    line, half_c = lines.bust_line, width["c"] / 2
    lean = atan(half_c / line)
    front_side, back_side = (
        SideSeam(across - half_c, lean) for across in (lines.side_from_front, lines.side_from_back)
    )
    front_darts = (
        WaistDart("waist_dart", lines.bust_point, width["a"], SET_BACK),
        WaistDart("side_waist_dart", (lines.dart_end[0] - B_IN, line), width["b"], SET_BACK),
    )
    back_darts = (
        WaistDart("waist_dart", (lines.blade[0] - E_IN, line), width["e"], SET_BACK),
        WaistDart("side_waist_dart", (lines.back_width - D_IN, line), width["d"], SET_BACK),
    )
    run_in = width["f"]
    back_start = (run_in, 0.0)
    return (
        Lower(waist_edge((0.0, 0.0), 0.0, front_darts, front_side, side_height=height), front_side),
        Lower(
            waist_edge(back_start, _run_in_lean(lines, run_in), back_darts, back_side, side_height=height),
            back_side,
            run_in,
        ),
    )


def _run_in_lean(lines: Grid, run_in: float) -> float:
    """How far (radians) the centre back leans at the waist; it leaves the upright smoothly at the bust line."""
    return atan(1.5 * run_in / lines.bust_line)


# --------------------------------------------------------------------------------------------------------------
# front and back


def _front(lines: Grid, lower: Lower) -> Half:
    side_neck, pit = (lines.front_neck, lines.front_top), (0.0, lines.front_top - lines.front_neck - 5.0)
    end = along(side_neck, -FRONT_SLOPE, front_shoulder(lines))
    under, over = _front_armhole(lines, lower, end)
    neck = neckline(side_neck, FRONT_SLOPE - OPENED, pit, fullness=FRONT_FULLNESS)
    legs = (as_point(under[-1]), as_point(over[0]))
    return Half(
        Run("centre_front", "fold", segment(pit, (0.0, 0.0))),
        lower.waist,
        lower.side,
        (
            Run("armhole", "opening", under),
            Run("armhole_dart", "dart base", segment(*legs)),
            Run("armhole", "opening", over),
            Run("shoulder", "seam", segment(end, side_neck)),
            Run("neck", "opening", neck.points),
        ),
        Wedge("armhole_dart", lines.bust_point, legs, min(SIDE_SET_BACK, gap(lines.bust_point, legs[0]) / 3)),
    )


def _front_armhole(lines: Grid, lower: Lower, end: Point) -> tuple[Points, Points]:
    """The armhole under and over its dart, (N, 2) each; `end` is the shoulder point.

    It is drawn with the dart closed, so that it runs on when the dart is sewn, and for a little straight there.
    """
    meets, turn = lines.dart_end, about(lines.bust_point, lines.dart_angle)
    shut, slope = turn.inverse().point(end), FRONT_SLOPE + lines.dart_angle
    underarm, lean = lower.side.at(lines.bust_line), lower.side.lean
    corner = _corner(meets, underarm, lines, FRONT_OFF)
    leg = turn.point(meets)
    touches = turn.inverse().point((lines.front_width, leg[1] + FRONT_WIDTH_AT * (end[1] - leg[1])))
    whole = armhole_to(underarm, lean, (corner, meets, touches), end=shut, slope=slope)
    heading = tangent_at(whole, nearest(whole, meets)[0])
    under = run_between(underarm, pi - lean, (corner,), end=meets, end_direction=heading)
    over = turn.points(run_between(meets, heading, (touches,), end=shut, end_direction=pi / 2 - slope))
    return under, with_ends(over, first=leg, last=end)


def front_shoulder(lines: Grid) -> float:
    """Length of the front shoulder in mm."""
    return (lines.front_width - lines.front_neck) / cos(FRONT_SLOPE) + PAST_FRONT_WIDTH


def _corner(foot: Point, underarm: Point, lines: Grid, off: float) -> Point:
    """Where an armhole rounds the corner over a foot on the bust line, at 45 degrees."""
    third = (underarm[0] - foot[0]) / 3
    return (foot[0] + (third + off) / sqrt(2), lines.bust_line + (third + off) / sqrt(2))


def _back(body: Mapping[str, float], ease: Ease, lines: Grid, lower: Lower) -> Half:
    nape = (0.0, lines.nape)
    top = back_shoulder(body, ease, lines)
    underarm = lower.side.at(lines.bust_line)
    corner = _corner((lines.back_width, 0.0), underarm, lines, BACK_OFF)
    tangent = (lines.back_width, lines.bust_line + BACK_TANGENT_AT * (lines.blade[1] - lines.bust_line))
    hole = armhole(underarm, lower.side.lean, (corner, tangent), top)
    neck = neckline(top.side_neck, BACK_SLOPE + OPENED, nape, fullness=BACK_FULLNESS)
    return Half(
        Run("centre_back", "seam", _centre_back(lines, lower.run_in)),
        lower.waist,
        lower.side,
        (
            Run("armhole", "opening", hole),
            Run("shoulder", "seam", segment(top.point, top.outer_leg)),
            Run("shoulder_dart", "dart base", segment(top.outer_leg, top.inner_leg)),
            Run("shoulder", "seam", segment(top.inner_leg, top.side_neck)),
            Run("neck", "opening", neck.points),
        ),
        Wedge("shoulder_dart", top.pivot, (top.outer_leg, top.inner_leg), gap(top.pivot, top.inner_leg) / 3),
    )


def back_shoulder(body: Mapping[str, float], ease: Ease, lines: Grid) -> Shoulder:
    """The back shoulder, longer than the front by ease and dart together; its dart points to the blade."""
    neck = lines.front_neck + 2.0
    side_neck = (neck, lines.nape + neck / 3)
    length = front_shoulder(lines) + ease.shoulder
    width = max(body["bust"] / 32 - 8.0 - ease.shoulder, LEAST_BLADE * body["bust"])
    at = (lines.blade[0] - neck) / cos(BACK_SLOPE) + BLADE_DART_OUT
    leg = gap(lines.blade, along(side_neck, -BACK_SLOPE, at))
    angle = 2 * asin(width / (2 * leg))
    return with_dart(side_neck, BACK_SLOPE, length, pivot=lines.blade, angle=angle, at=at / length)


def _centre_back(lines: Grid, run_in: float) -> Points:
    """The centre back from the nape down: upright to the bust line, then running in to the waist."""
    line, lean = lines.bust_line, _run_in_lean(lines, run_in)
    controls = ((0.0, line), (0.0, 2 * line / 3), (run_in - tan(lean) * line / 3, line / 3), (run_in, 0.0))
    return as_points(np.vstack(((0.0, lines.nape), bezier_points(controls))))
