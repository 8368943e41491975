"""Samples for the law tests: garments, and for every kind of step one that can be done on each of them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import radians

from core.blocks.draft import draft
from core.blocks.ease import Ease
from core.body.body import complete, entered
from core.geometry.placement import gap
from core.geometry.polyline import point_at
from core.pieces.places import Place
from core.pieces.records import Garment, Piece
from core.steps.catalogue import AnyStep
from core.steps.choose_fabric import ChooseFabric
from core.steps.copy_pieces import CopyPieces
from core.steps.cup import Cup
from core.steps.cut import Cut, Tag
from core.steps.cut_tags import proposed_tags
from core.steps.flatten import Flatten
from core.steps.grain import TurnGrain
from core.steps.join import Join
from core.steps.mapping import landmarks_of
from core.steps.mirror import Mirror
from core.steps.move_edge import MoveEdge
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot, Receiver
from core.steps.seam_ease import SeamEase
from core.steps.set_back import SetBack
from core.steps.slash import SlashAndSpread
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from core.steps.trim import Trim
from core.steps.true import DartBase, SquareCorner, Straighten, Truing
from core.steps.unfold import Unfold
from tests.paper_block import garment as paper_garment

# Invented bodies, in cm: a slight, a middling and a full figure.
FIGURES: dict[str, dict[str, float]] = {
    "slight": {
        "bust": 79, "high_bust": 78, "under_bust": 70, "waist": 62, "bust_span": 16, "neck_to_bust_point": 23.5,
        "front_waist_length": 40, "back_waist_length": 37.5, "shoulder": 12,
    },
    "middling": {
        "bust": 92, "high_bust": 88, "under_bust": 77, "waist": 72, "bust_span": 18.5, "neck_to_bust_point": 27,
        "front_waist_length": 43.5, "back_waist_length": 40, "shoulder": 12.6,
    },
    "full": {
        "bust": 116, "high_bust": 107, "under_bust": 97, "waist": 97, "bust_span": 22, "neck_to_bust_point": 31,
        "front_waist_length": 46.5, "back_waist_length": 41.5, "shoulder": 13,
    },
}  # fmt: skip


@cache
def drafted(figure: str) -> Garment:
    """The block of an invented figure."""
    return draft(complete(entered(figure, "cm", FIGURES[figure])), Ease())


def garments() -> dict[str, Garment]:
    """Every sample garment by name."""
    return {"paper": paper_garment(), **{figure: drafted(figure) for figure in FIGURES}}


def sheer(garment: Garment) -> StyleLine:
    """A sheer line from the centre front through the bust point to the middle of the armhole."""
    piece = garment.piece("front")
    bust_x, bust_y = piece.landmarks["bust_point"]
    place = Place("front.armhole", "side", share=0.35)
    return StyleLine(
        "sheer-1",
        "front",
        "front.sheer_line",
        (
            LinePoint(0.0, bust_y + 45.0),
            LinePoint(bust_x, bust_y, landmark="bust_point"),
            LinePoint(190, 250, place=place),
        ),
        landmarks_of(piece),
    )


def panels(garment: Garment) -> Cut:
    """The cut along that line, the waist dart taken into the princess seam."""
    piece = garment.piece("front")
    bust_x, bust_y = piece.landmarks["bust_point"]
    tags = (
        Tag(bust_x / 2, bust_y + 75.0, "yoke", 11, "sheer"),
        Tag(bust_x / 3, bust_y / 2, "centre front", 12),
        Tag(bust_x + 60.0, bust_y / 2, "side front", 13),
    )
    return Cut("cut-1", "front", ("front.sheer_line",), tags, landmarks_of(piece), darts=("front.waist_dart",))


def crossing_left_apart(garment: Garment) -> tuple[AnyStep, ...]:
    """A sheer line over the folded shoulder dart, what it leaves of the dart above cut into two panels."""
    piece = garment.piece("front")
    bust_y = piece.landmarks["bust_point"][1]
    end = LinePoint(190, 250, place=Place("front.armhole", "side", share=0.45))
    points, crossed = (LinePoint(0.0, bust_y + 80.0), end), ("front.shoulder_dart",)
    line = StyleLine("sheer-3", "front", "front.sheer_line", points, landmarks_of(piece), folded=crossed)
    drawn = line.apply(garment).garment
    tags = proposed_tags(drawn, drawn.piece("front"), ("front.sheer_line",), apart=crossed)
    return line, Cut("cut-3", "front", ("front.sheer_line",), tags, line.drawn_on, apart=crossed)


FLAT_AT = Place("front.armhole", "shoulder", share=0.4)
"""Where the law's yoke takes the angle of the dart's end that it holds."""


def panels_holding_the_bust(garment: Garment, angle: float = 3.7, below: float = 60.0) -> tuple[AnyStep, ...]:
    """Steps to a yoke that holds the end of a narrow waist dart: most of it pivoted out, the line below the bust."""
    bust_x, bust_y = garment.piece("front").landmarks["bust_point"]
    left = radians(angle) / garment.piece("front").dart("front.waist_dart").angle
    away = Pivot("pivot-1", "front", "front.waist_dart", into="front.shoulder_dart", share=1.0 - left)
    piece = away.apply(garment).garment.piece("front")
    points = (
        LinePoint(0.0, bust_y - below),
        LinePoint(bust_x, bust_y - below),
        LinePoint(190, 250, place=Place("front.armhole", "side", share=0.3)),
    )
    line = StyleLine("sheer-1", "front", "front.sheer_line", points, landmarks_of(piece), folded=("front.waist_dart",))
    tags = (
        Tag(bust_x / 2, bust_y + 75.0, "yoke", 11, "sheer"),
        Tag(bust_x / 3, bust_y / 2, "lower front", 12),
    )
    return away, line, Cut("cut-1", "front", ("front.sheer_line",), tags, line.drawn_on)


def back_line(garment: Garment) -> StyleLine:
    """A line across the back from centre back to armhole, above both darts' points or below none."""
    piece = garment.piece("back")
    nape_y = max(y for _, y in piece.loop.tolist())
    armhole = next(edge for edge in piece.edges if edge.origin.edge == "back.armhole")
    x, y = point_at(armhole.points, armhole.length * 0.5)
    place = Place("back.armhole", "shoulder", share=0.5)
    folded = tuple(dart.name for dart in piece.darts if dart.legs[0][1] > y and dart.pivot[1] < y)
    level = LinePoint(0.0, min(y, nape_y - 60.0))
    return StyleLine(
        "back-1", "back", "back.yoke_line", (level, LinePoint(x, y, place=place)), landmarks_of(piece), folded=folded
    )


def roads(garment: Garment) -> Iterator[tuple[AnyStep, ...]]:
    """Orders of steps that together hold every kind of the catalogue; the last step of each is the one on trial."""
    line, cut = sheer(garment), panels(garment)
    yield (Neckline("neck-1", 12.0, 40.0, 10.0, width_from="neck"),)
    yield (line,)
    yield (Pivot("pivot-1", "front", "front.shoulder_dart", into="front.waist_dart"),)
    yield (
        Pivot("pivot-1", "front", "front.shoulder_dart", place=Place("front.armhole", "side", share=0.4), share=0.6),
    )
    shared = Receiver(0.4, place=Place("front.armhole", "side", share=0.4)), Receiver(0.3, into="front.waist_dart")
    at_side = Place("front.side", "waist", share=0.5)
    yield (Pivot("pivot-2", "front", "front.shoulder_dart", place=at_side, share=0.3, also=shared),)
    yield (Pivot("pivot-3", "front", "front.shoulder_dart", place=at_side, share=0.4, becomes="gathers"),)
    yield (Pivot("pivot-4", "front", "front.waist_dart", into="front.waist_dart", becomes="gathers", reach=30.0),)
    yield (line, cut)
    yield crossing_left_apart(garment)
    yield (line, cut, Trim("trim-1", "side"))
    yield (line, cut, Trim("trim-2", "side", "armhole", "shared"))
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", 6.35, 6.35))
    yield (line, cut, TakeIn("take-in-1", "front.waist_dart", levels))
    out = (Level("bust_point", 0.0, 0.0), Level("waist", -5.0, -5.0))
    yield (line, cut, TakeIn("take-in-2", "front.waist_dart", out, "fade", fitting="tight"))
    over_darts = (Level("armhole", 6.0, 4.0), Level("neck", 0.0, 0.0))
    yield (TakeIn("take-in-3", "shoulder", over_darts),)
    ends = Place("back.centre_back", "waist", share=0.52), Place("back.armhole", "side", share=0.35)
    yield (SlashAndSpread("slash-1", "back", ends[1], ends[0], 9.0),)
    yield (SlashAndSpread("slash-2", "back", ends[1], ends[0], -6.0, fitting="gapes"),)
    yield (*panels_holding_the_bust(garment), Flatten("flat-1", "yoke", "front.waist_dart", FLAT_AT, "shoulder", 0.5))
    yield (
        *panels_holding_the_bust(garment, 2.0, 30.0),
        Flatten("flat-2", "yoke", "front.waist_dart", FLAT_AT, "shoulder"),
    )
    yield (Truing("true-1", "front", DartBase("front.waist_dart")),)
    yield (Truing("true-2", "back", Straighten(("side",))),)
    yield (Truing("true-3", "back", SquareCorner("neck", "centre_back", 6.0, 30.0)),)
    yield (SetBack("set-back-1", "front", "front.waist_dart"),)
    yield (MoveEdge("move-1", "back", "neck", -6.0),)
    yield (line, cut, MoveEdge("move-2", "side front", "waist", 20.0))
    yield (CopyPieces("copy-1", ("front", "back")),)
    yield (line, cut, CopyPieces("copy-2", ("yoke",), "underlining"))
    yield (line, cut, ChooseFabric("fabric-1", "yoke", "organza"))
    yield (SeamEase("ease-1", "side", -4.0),)
    yield (Mirror("mirror-1", ("front", "back")),)
    yield (Unfold("unfold-1", "front"),)
    yield (line, cut, Unfold("unfold-2", "yoke"))
    yield (TurnGrain("grain-1", "back", 12.5),)
    yield (line, cut, TurnGrain("grain-2", "side front", edge="sheer_line"))
    yield (Cup("cup-1", (21, 22)),)
    yield (line, cut, Cup("cup-2", (21, 22, 23), parts=3, tighten_above=6.0, lining=True, foam=True))
    back = back_line(garment)
    yield (back,)
    tags = (Tag(-30.0, back.points[0].y + 20.0, "back yoke", 31), Tag(-30.0, 60.0, "lower back", 32))
    lower = Cut("cut-2", "back", ("back.yoke_line",), tags, back.drawn_on)
    if not garment.piece("back").darts:
        yield (back, lower, Join("join-1", "back.yoke_line", "centre_back", "back"))
        yield (back, lower, Join("join-2", "back.yoke_line", "centre_back", "back", trued=True))


def done(garment: Garment, steps: tuple[AnyStep, ...]) -> Garment:
    """The garment after steps."""
    for step in steps:
        garment = step.apply(garment).garment
    return garment


def darts_at(piece: Piece, pivot: tuple[float, float]) -> float:
    """Sum of the angles of the darts about a pivot, in radians."""
    return sum(dart.angle for dart in piece.darts if gap(dart.pivot, pivot) < 1e-6)
