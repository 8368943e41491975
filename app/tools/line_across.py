"""A line in hand over pieces that lie together: a stretch on each, which become a line on each in one act."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import msgspec

from app.canvas.laid import Laid
from app.canvas.pairs import Pair
from app.canvas.table import CuttingTable
from app.tools.line_edits import fresh_line_name, straight
from core.checks.drawn_across import Crossing, Part, drawn_across, refuse_step
from core.design.design import Design
from core.errors import Refusal
from core.geometry.polyline import Points, length
from core.geometry.tolerances import GOOD, JOIN_GAP
from core.pieces.names import spoken_in_full
from core.pieces.records import LinePurpose
from core.pieces.seams import Match
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import PURPOSE_WORDS, StyleLine
from core.units import Unit, show_length


class Stretch(msgspec.Struct, frozen=True):
    """What is placed of a line on one piece, by the piece's name: points in the frame of the piece as it is shown."""

    piece: str
    points: tuple[LinePoint, ...]


class Whole(msgspec.Struct, frozen=True, eq=False):
    """A line over one piece or several: a step on each, its course on the table, and where it passes their seams."""

    steps: tuple[StyleLine, ...]
    paths: tuple[Points, ...]
    crossings: tuple[Crossing, ...]

    @property
    def length(self) -> float:
        """mm, over all pieces."""
        return sum(length(path) for path in self.paths)

    def added(self, design: Design) -> Design:
        """The design with all steps of the line."""
        for step in self.steps:
            design = design.with_step(step)
        return design

    def label(self, words: str) -> str:
        """What undo calls it."""
        seams = " and the ".join(spoken_in_full(crossing.seam.seam.name) for crossing in self.crossings)
        return f"Draw the {words} across the {seams}" if seams else f"Draw the {words}"

    def words(self, unit: Unit) -> list[str]:
        """Where it passes the seams, and by how much sides differ that are sewn there."""
        found = []
        for crossing in self.crossings:
            seam = crossing.seam
            found.append(f"{crossing.words(unit)} on both pieces")
            off = seam.length_a - seam.length_b
            if abs(off) > JOIN_GAP:
                longer = (crossing.first if off > 0 else crossing.second).link.piece.name
                eased = ", to be eased" if abs(off - seam.seam.ease) <= GOOD else ""
                found.append(f"beyond it the {longer} is {show_length(abs(off), unit)} longer{eased}")
        return found


def whole_line(table: CuttingTable, purpose: LinePurpose, stretches: Sequence[Stretch]) -> Whole:
    """The line through all that is placed. Refusal when it does not pass through the seams between its pieces."""
    garment, items = table.scene.garment, [table.scene.piece(stretch.piece) for stretch in stretches]
    laid = [item for item in items if item is not None]
    parts = [Part(item.shown, item.place, one.points) for item, one in zip(laid, stretches, strict=True)]
    crossings: tuple[Crossing, ...] = ()
    if len(parts) > 1:
        held, crossings = drawn_across(garment, parts, _seams_between(table, stretches), table.unit)
        parts = list(held)
    design, steps, paths = table.session.design, [], []
    for item, part in zip(laid, parts, strict=True):
        step = line_step(table, item, part.points, purpose, design=design)
        design = design.with_step(step)
        steps.append(step)
        paths.append(item.on_table(line_course(table, item, part.points, purpose)))
    return Whole(tuple(steps), tuple(paths), crossings)


def line_course(table: CuttingTable, item: Laid, points: tuple[LinePoint, ...], purpose: LinePurpose) -> Points:
    """The curve on the piece as it is shown; straight from point to point while no fair curve goes through them."""
    places = [(point.x, point.y) for point in points]
    if len(places) < 2:
        return straight([*places, *places])
    try:
        step = line_step(table, item, points, purpose, design=table.session.design)
        return step.curve(table.scene.garment, item.piece)
    except Refusal:
        return straight(places)


def line_step(
    table: CuttingTable, item: Laid, points: tuple[LinePoint, ...], purpose: LinePurpose, *, design: Design
) -> StyleLine:
    """The step that draws a line through points on a piece as it is shown."""
    return StyleLine(
        design.fresh_id(PURPOSE_WORDS[purpose].replace(" ", "-")),
        item.name,
        fresh_line_name(table.scene.garment, item.piece, purpose),
        points,
        landmarks_of(item.piece),
        purpose=purpose,
        folded=item.folded,
    )


def _seams_between(table: CuttingTable, stretches: Sequence[Stretch]) -> list[Match]:
    """The seam between each piece and the next. Refusal when they lie together no more."""
    found = []
    for here, after in pairwise(stretches):
        seam = next((told for name, told in table.scene.mates(here.piece) if name == after.piece), None)
        if seam is None:
            raise Refusal(f"The {here.piece} and the {after.piece} lie together no more: draw the line afresh.")
        found.append(seam)
    return found


def step_refused(whole: Whole, words: str, unit: Unit) -> Refusal | None:
    """Why the line cannot pass a seam as its pieces lie."""
    try:
        for crossing in whole.crossings:
            refuse_step(crossing, words, unit)
    except Refusal as refusal:
        return refusal
    return None


def lay_where_it_crosses(table: CuttingTable, whole: Whole) -> None:
    """Let the pieces touch where the line passes their seam, so that it does not step there."""
    for crossing in whole.crossings:
        if crossing.apart > JOIN_GAP:
            name = crossing.seam.seam.name
            known = next(pair for pair in table.scene.pairs.pairs if pair.seam == name)
            end = table.scene.garment.seam(name).ends.index(crossing.seam.seam.ends[0])
            table.lay_together(Pair(name, end, crossing.along, known.turns_first))
