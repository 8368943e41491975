"""The shipped demos as they are built: invented commissions, written step by step.

`python -m tests.demo_designs` writes the demo files anew; a test holds the shipped files to these records.
"""

from __future__ import annotations

from pathlib import Path

import msgspec

from core.body.body import entered
from core.design.design import Design
from core.design.finishes import USE_ALLOWANCES, Bone, Doubled, EdgeFinish, Finishing
from core.design.replay import replay
from core.file.writer import design_to_bytes
from core.shipped import assets
from core.steps.catalogue import AnyStep
from core.steps.copy_pieces import CopyPieces
from core.steps.cup import Cup
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.neckline import Neckline
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.demo_backs import ice, ice_cut, stage
from tests.demo_steps import front_panels, pivot, princess, sheer_line

__all__ = ["CONCERT_BODY", "DEMOS", "concert", "gala", "ice", "ice_cut", "stage"]

CONCERT_BODY = entered(
    "Miss Quillfeather, viola",
    "in",
    {
        "bust": 37.0, "high_bust": 35.0, "under_bust": 31.0, "waist": 28.5, "hip": 39.0, "bust_span": 7.5,
        "neck_to_bust_point": 10.5, "front_waist_length": 17.25, "centre_front_length": 13.75,
        "back_waist_length": 16.0, "shoulder": 4.875, "shoulder_slope_deg": 22.0,
    },
)  # fmt: skip
NOTES = (
    "A bodice for a viola player's winter concerts: a sheer yoke that lets her breathe and bow, a sweetheart edge "
    "in satin under it, princess seams, and a cup behind the opening. She wants the edge to look low and sit high."
)


def concert() -> Design:
    """The concert bodice: shoulder dart pivoted out, neckline, sheer line, princess seams front and back, cup."""
    design = Design("Concert bodice with a sheer yoke", CONCERT_BODY, date="2026-11-25", notes=NOTES)
    for add in (pivot, _neckline, sheer_line, princess, front_panels, _back_princess, _back_panels, _cup):
        design = design.with_step(add(design))
    return design


def _neckline(_: Design) -> AnyStep:
    return Neckline("neckline-1", 22.0, 44.0, 16.0, width_from="neck")


def _back_princess(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    (ax, ay), (bx, by) = piece.dart("back.shoulder_dart").pivot, piece.dart("back.waist_dart").pivot
    return StyleLine(
        "back-princess-1",
        "back",
        "back.princess",
        (LinePoint(ax, ay), LinePoint((ax + bx) / 2 - 2.0, (ay + by) / 2), LinePoint(bx, by)),
        landmarks_of(piece),
        purpose="panel",
    )


def _back_panels(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("back")
    x, y = piece.dart("back.waist_dart").pivot
    return Cut(
        "cut-2",
        "back",
        ("back.princess",),
        (Tag(0.4 * x, y, "centre back", 4), Tag(x - 60.0, y - 20.0, "side back", 5)),
        landmarks_of(piece),
        darts=("back.shoulder_dart", "back.waist_dart"),
    )


def _cup(_: Design) -> AnyStep:
    return Cup("cup-1", (6, 7))


GALA_BODY = entered(
    "Dame Foxglove-Oates, after-dinner speaker",
    "in",
    {
        "bust": 40.0, "high_bust": 37.5, "under_bust": 33.5, "waist": 32.0, "hip": 42.0, "bust_span": 8.0,
        "neck_to_bust_point": 11.25, "front_waist_length": 18.0, "centre_front_length": 14.25,
        "back_waist_length": 16.5, "shoulder": 5.0, "shoulder_slope_deg": 21.0,
    },
)  # fmt: skip
GALA_NOTES = (
    "The concert bodice for another figure, finished to be sewn: the yoke cut double and turned through its shoulder, "
    "satin panels lined, a zip at the centre back, bones at the side and back seams, a waist stay to hang from, and "
    "behind the edge a cup in three pieces with lining and foam."
)
GALA_FINISHING = Finishing(
    edges=(
        EdgeFinish("centre back", "back.centre_back", use="zip"),
        EdgeFinish("lining centre back", "lining.back.centre_back", allowance=USE_ALLOWANCES["zip"]),
    ),
    doubled=(Doubled("front yoke", "front.shoulder"),),
    bones=(Bone("side front", "front.side"), Bone("side back", "back.waist_dart", "right")),
    waist_stay=True,
    corners="squared",
)


GALA_TIGHTENED = 12.7
"""1/2 in taken out of the cup below, where no opening has to fit it: it is to be as deep as the bust."""


def gala() -> Design:
    """The lined bodice: main, sheer, lining and a cup in three pieces with lining and foam, every edge finished."""
    design = msgspec.structs.replace(
        concert(), name="Ball bodice, lined and boned", body=GALA_BODY, notes=GALA_NOTES, finishing=GALA_FINISHING
    )
    lining = CopyPieces("copy-1", ("centre front", "side front", "centre back", "side back"))
    cup = Cup("cup-1", (10, 11, 12), parts=3, tighten_below=GALA_TIGHTENED, lining=True, foam=True)
    return design.without_step("cup-1").with_step(lining).with_step(cup)


DEMOS = {
    "ball-bodice.sheer": gala,
    "concert-bodice.sheer": concert,
    "stage-bodice.sheer": stage,
    "skater-bodice.sheer": ice,
}


def main() -> None:
    """Write every demo file."""
    for name, make in DEMOS.items():
        Path(assets() / "demo" / name).write_bytes(design_to_bytes(make()))


if __name__ == "__main__":
    main()
