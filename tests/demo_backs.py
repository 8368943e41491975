"""The two shipped demos with net behind: the stage bodice with a bare back, the skater's with mesh yokes."""

from __future__ import annotations

import msgspec

from core.body.body import entered
from core.design.design import Design
from core.design.replay import replay
from core.pieces.places import Place
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut, Tag
from core.steps.flatten import Flatten
from core.steps.mapping import landmarks_of
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from core.steps.trim import Trim
from tests.demo_steps import front_panels, pivot, princess, sheer_line

STAGE_BODY = entered(
    "Madame Windlestraw, tango teacher",
    "cm",
    {
        "bust": 98.0, "high_bust": 92.5, "under_bust": 82.0, "waist": 77.0, "hip": 103.0, "bust_span": 19.5,
        "neck_to_bust_point": 28.0, "front_waist_length": 44.5, "centre_front_length": 35.0,
        "back_waist_length": 41.0, "shoulder": 12.6, "shoulder_slope_deg": 21.0,
    },
)  # fmt: skip
STAGE_NOTES = (
    "A stage bodice for a tango teacher: closed in front, the back bare under net down to the shoulder blades. The "
    "sheer line runs through the blade points, so that the net takes the whole shoulder dart and lies flat."
)


def stage() -> Design:
    """The stage bodice: a sheer back yoke over a main back cut in four, taken in where the yoke ends."""
    design = Design("Stage bodice with a bare back", STAGE_BODY, date="2026-11-25", unit="cm", notes=STAGE_NOTES)
    for add in (
        pivot,
        _stage_neckline,
        _armhole_princess,
        _stage_front,
        _back_sheer,
        _blade_princess,
        _stage_back,
        _hold,
        _match,
    ):
        design = design.with_step(add(design))
    return design


def _stage_neckline(_: Design) -> AnyStep:
    return Neckline("neckline-1", 15.0, 18.0, 12.0, width_from="neck")


def _armhole_princess(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    return StyleLine(
        "princess-1",
        "front",
        "front.princess",
        (
            LinePoint(x + 70.0, y + 120.0, place=Place("front.armhole", "side", share=0.45)),
            LinePoint(x + 26.0, y + 42.0),
            LinePoint(x, y, landmark="bust_point"),
        ),
        landmarks_of(piece),
        purpose="panel",
    )


def _stage_front(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    tags = (Tag(0.4 * x, 0.8 * y, "centre front", 1), Tag(x + 70.0, y, "side front", 2))
    return Cut("cut-1", "front", ("front.princess",), tags, landmarks_of(piece), darts=("front.waist_dart",))


def _back_sheer(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    x, y = piece.landmarks["shoulder_blade"]
    return StyleLine(
        "sheer-line-1",
        "back",
        "back.sheer_line",
        (
            LinePoint(0.0, y - 52.0),
            LinePoint(x, y, landmark="shoulder_blade"),
            LinePoint(x - 70.0, y + 8.0, place=Place("back.armhole", "shoulder", share=0.42)),
        ),
        landmarks_of(piece),
    )


def _blade_princess(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    (ax, ay), (bx, by) = piece.landmarks["shoulder_blade"], piece.dart("back.waist_dart").pivot
    return StyleLine(
        "princess-2",
        "back",
        "back.princess",
        (
            LinePoint(ax, ay, landmark="shoulder_blade"),
            LinePoint((ax + bx) / 2 - 3.0, (ay + by) / 2),
            LinePoint(bx, by),
        ),
        landmarks_of(piece),
        purpose="panel",
    )


def _stage_back(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    x, y = piece.dart("back.waist_dart").pivot
    top = piece.landmarks["shoulder_blade"][1]
    tags = (
        Tag(0.5 * x, top + 60.0, "back yoke", 3, "sheer"),
        Tag(0.4 * x, y, "centre back", 4),
        Tag(x - 60.0, y - 20.0, "side back", 5),
    )
    lines = ("back.sheer_line", "back.princess")
    return Cut("cut-2", "back", lines, tags, landmarks_of(piece), darts=("back.waist_dart",))


def _hold(_: Design) -> AnyStep:
    levels = (Level("sheer_line", 2.0, 2.0), Level("sheer_line", 0.0, 0.0, offset=90.0))
    return TakeIn("take-in-1", "back.princess", levels, taper="fade", across="ease")


def _match(_: Design) -> AnyStep:
    return Trim("trim-1", "back.princess", end="waist")


ICE_BODY = entered(
    "Juniper Tansy-Moth, figure skater",
    "in",
    {
        "bust": 34.0, "high_bust": 33.0, "under_bust": 29.5, "waist": 26.0, "hip": 35.5, "bust_span": 6.75,
        "neck_to_bust_point": 9.75, "front_waist_length": 16.5, "centre_front_length": 13.25,
        "back_waist_length": 15.5, "shoulder": 4.5, "shoulder_slope_deg": 23.0,
    },
)  # fmt: skip
ICE_NOTES = (
    "A skater's bodice with a stretch-mesh yoke in front and behind. The back yoke reaches below the shoulder blades "
    "and would hold their darts. In mesh it has to lie flat: most of each dart is eased into the yoke seam under the "
    "blade, the rest is let out into the armhole and filled in."
)


def ice() -> Design:
    """The skater's bodice: mesh yokes front and back, the back one flattened."""
    design = Design("Skater's bodice with a mesh yoke", ICE_BODY, date="2026-11-25", notes=ICE_NOTES)
    for add in (
        pivot,
        _ice_neckline,
        _ice_sheer_line,
        princess,
        front_panels,
        _ice_back_line,
        _ice_back,
        _blade_ease,
        _flat,
        _ice_match,
    ):
        design = design.with_step(add(design))
    return design


def ice_cut() -> Design:
    """The skater's bodice with its panels cut, before anything is done about the dart that its back yoke holds."""
    whole = ice()
    last = [step.id for step in whole.steps].index("cut-2")
    return msgspec.structs.replace(whole, steps=whole.steps[: last + 1])


def _ice_neckline(_: Design) -> AnyStep:
    return Neckline("neckline-1", 12.0, 30.0, 10.0, width_from="neck")


def _ice_sheer_line(design: Design) -> AnyStep:
    """The concert bodice's line, ending higher in the armhole, so that it does not graze a deep one."""
    line = sheer_line(design)
    assert isinstance(line, StyleLine)
    *inner, last = line.points
    end = LinePoint(last.x, last.y + 12.0, place=Place("front.armhole", "side", share=0.25))
    return msgspec.structs.replace(line, points=(*inner, end))


def _ice_back_line(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    x, y = piece.landmarks["shoulder_blade"]
    return StyleLine(
        "sheer-line-2",
        "back",
        "back.sheer_line",
        (
            LinePoint(0.0, y - 70.0),
            LinePoint(x, y - 34.0),
            LinePoint(x - 70.0, y - 30.0, place=Place("back.armhole", "side", share=0.42)),
        ),
        landmarks_of(piece),
    )


def _ice_back(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    x, y = piece.landmarks["shoulder_blade"]
    tags = (Tag(0.6 * x, y + 40.0, "back yoke", 4, "sheer"), Tag(0.5 * x, 0.3 * y, "lower back", 5))
    return Cut("cut-2", "back", ("back.sheer_line",), tags, landmarks_of(piece))


def _blade_ease(_: Design) -> AnyStep:
    under_blade = Place("back.sheer_line", "centre_back", share=0.55)
    return Pivot("pivot-2", "back yoke", "back.shoulder_dart", place=under_blade, share=0.6, becomes="ease", reach=30.0)


def _flat(_: Design) -> AnyStep:
    place = Place("back.armhole", "shoulder", share=0.34)
    return Flatten("flatten-1", "back yoke", "back.shoulder_dart", place, "sheer_line", stretch=0.5)


def _ice_match(_: Design) -> AnyStep:
    return Trim("trim-1", "back.sheer_line", end="armhole")
