"""Steps that several of the shipped demos begin with, as they were done on a front."""

from __future__ import annotations

from core.design.design import Design
from core.design.replay import replay
from core.geometry.polyline import nearest
from core.pieces.places import Place, place_on_line
from core.steps.catalogue import AnyStep
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine


def pivot(_: Design) -> AnyStep:
    """The shoulder dart's fullness taken to the waist."""
    return Pivot("pivot-1", "front", "front.shoulder_dart", into="front.waist_dart")


def sheer_line(design: Design) -> AnyStep:
    """A sweetheart edge from the centre front to the armhole."""
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


def princess(design: Design) -> AnyStep:
    """A panel seam from the sheer line to the bust point."""
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


def front_panels(design: Design) -> AnyStep:
    """The front cut into a yoke and two panels, the waist dart in the seam."""
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
