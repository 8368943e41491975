"""The shipped demo as it is built: an invented commission, written step by step.

`python -m tests.demo_designs` writes the demo files anew; a test holds the shipped files to these records.
"""

from __future__ import annotations

from pathlib import Path

from core.body.body import entered
from core.design.design import Design
from core.design.replay import replay
from core.file.writer import design_to_bytes
from core.geometry.polyline import nearest
from core.pieces.places import Place, place_on_line
from core.shipped import assets
from core.steps.catalogue import AnyStep
from core.steps.cup import Cup
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine

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
    for add in (_pivot, _neckline, _sheer_line, _princess, _front_panels, _back_princess, _back_panels, _cup):
        design = design.with_step(add(design))
    return design


def _pivot(_: Design) -> AnyStep:
    return Pivot("pivot-1", "front", "front.shoulder_dart", into="front.waist_dart")


def _neckline(_: Design) -> AnyStep:
    return Neckline("neckline-1", 22.0, 44.0, 16.0, width_from="neck")


def _sheer_line(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    return StyleLine(
        "sheer-line-1",
        "front",
        "front.sheer_line",
        (
            LinePoint(0.0, y + 26.0),
            LinePoint(0.55 * x, y + 62.0),
            LinePoint(x + 22.0, y + 66.0),
            LinePoint(x + 90.0, y + 60.0, place=Place("front.armhole", "side", share=0.16)),
        ),
        landmarks_of(piece),
        intended=True,
    )


def _princess(design: Design) -> AnyStep:
    garment = replay(design).garment
    piece = garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    edge = piece.line("front.sheer_line")
    top = min(edge.path.tolist(), key=lambda point: abs(point[0] - (x + 8.0)))
    on_edge = place_on_line(garment, edge, nearest(edge.path, top)[0])
    return StyleLine(
        "princess-1",
        "front",
        "front.princess",
        (
            LinePoint(top[0], top[1], place=on_edge),
            LinePoint(x + 3.0, y + 32.0),
            LinePoint(x, y, landmark="bust_point"),
        ),
        landmarks_of(piece),
        purpose="panel",
    )


def _front_panels(design: Design) -> AnyStep:
    piece = replay(design).garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    return Cut(
        "cut-1",
        "front",
        ("front.sheer_line", "front.princess"),
        (
            Tag(0.7 * x, y + 110.0, "front yoke", 1, "sheer"),
            Tag(0.4 * x, 0.5 * y, "centre front", 2),
            Tag(x + 70.0, y, "side front", 3),
        ),
        landmarks_of(piece),
        darts=("front.waist_dart",),
    )


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


DEMOS = {"concert-bodice.sheer": concert}


def main() -> None:
    """Write every demo file."""
    for name, make in DEMOS.items():
        Path(assets() / "demo" / name).write_bytes(design_to_bytes(make()))


if __name__ == "__main__":
    main()
