"""The pages of a print as drawings in mm from the paper's lower left corner: the map first, then the tiles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from core.geometry.placement import Placement
from core.geometry.polyline import Point
from core.outputs.drawing import Box, Drawing, Text, bounds, box_loop
from core.outputs.ink import ink_of
from core.outputs.joints import frame, glue_strips, joining_marks, live_box
from core.outputs.page_map import map_drawing
from core.outputs.piece_label import label_spot, piece_label
from core.outputs.plan import Plan
from core.outputs.sheet import MARGIN, Placed, Tile
from core.outputs.squares import squares

PageKind: TypeAlias = Literal["map", "tile"]

FOOT: Final = 7.0
FOOT_SIZE: Final = 2.3
"""The line at the foot stands clear of what printers leave bare, 6.35 mm."""

LONGEST_TITLE: Final = 90
"""Glyphs of the design's and the client's name together."""

SMALLEST_ROOM: Final = 9.0
"""A tile with less room (mm on paper) inside a piece is not labelled again."""

LABEL_CLEAR: Final = 3.0
SECOND_LABEL: Final = 13.0


@dataclass(frozen=True, eq=False, slots=True)
class Page:
    """One page. `origin` is the place on the sheet, in full-size mm, of the paper's lower left corner.

    `drawing` is cut off at the border of the live area, `foot` is the line below it.
    """

    label: str
    kind: PageKind
    sheet: int
    origin: tuple[float, float]
    drawing: Drawing
    foot: Text


def pages(plan: Plan) -> Iterator[Page]:
    """The pages in order, each drawn when it is asked for."""
    map_page = _with_squares(plan, over=map_drawing(plan), under=Drawing(), label="")
    yield Page("map", "map", 0, (0.0, 0.0), map_page, _foot(plan, "", 1))
    lines = {placed.finished.name: plan.lines[placed.finished.name].placed(placed.placement) for placed in plan.placed}
    for number, tile in enumerate(plan.tiles, start=2):
        pattern = Drawing()
        for placed in tile.sheet.placed:
            pattern += lines[placed.finished.name].inside(tile.box)
            pattern += _label(placed, tile, plan)
        yield _tile_page(plan, tile, pattern, _foot(plan, tile.label, number))


def _foot(plan: Plan, label: str, number: int) -> Text:
    """What every page says of itself."""
    title = f"{plan.design.name}, for {plan.design.body.name}"
    title = title if len(title) <= LONGEST_TITLE else title[: LONGEST_TITLE - 1] + "…"
    parts = [label, title, plan.design.date, plan.paper.words, f"scale {plan.scale_words}"]
    words = "   ".join(part for part in (*parts, f"page {number} of {plan.count}") if part)
    return Text((MARGIN, FOOT), FOOT_SIZE, words, "words", anchor="start")


def _tile_page(plan: Plan, tile: Tile, pattern: Drawing, foot: Text) -> Page:
    corner = (tile.box[0] - MARGIN / plan.scale, tile.box[1] - MARGIN / plan.scale)
    on_page = pattern.placed(Placement(0.0, -corner[0], -corner[1])).scaled(plan.scale)
    joints = plan.joints[tile.label]
    under = Drawing((*glue_strips(joints, plan.paper), *frame(joints, plan.paper)))
    over = on_page + Drawing(tuple(joining_marks(joints, plan.paper)))
    drawing = _with_squares(plan, over=over, under=under, label=tile.label)
    return Page(tile.label, "tile", tile.sheet.number, corner, drawing, foot)


def _with_squares(plan: Plan, *, over: Drawing, under: Drawing, label: str) -> Drawing:
    """The page with the test squares behind what is drawn, where they cross least of it."""
    live = live_box(plan.paper)
    notes = () if plan.scale == 1.0 else (f"Pattern {plan.scale_words}, squares true size.",)
    return under + squares(ink_of(over, live), live, label, notes) + over


def _label(placed: Placed, tile: Tile, plan: Plan) -> Drawing:
    """The piece's label where it lies on this tile: whole on the tile with most room, short on others with some."""
    finished, scale = placed.finished, plan.scale
    spots = {other.label: _spot(placed, other.box, plan) for other in plan.tiles if other.sheet is tile.sheet}
    best = max(spots, key=lambda label: spots[label][1])
    at, room = spots[tile.label]
    if tile.label == best:
        return piece_label(finished, at, room, scale=scale).placed(placed.placement)
    if room * scale < SMALLEST_ROOM:
        return Drawing()
    small = min(room, SECOND_LABEL / scale)
    return piece_label(finished, at, small, scale=scale, short=True).placed(placed.placement)


def _spot(placed: Placed, box: Box, plan: Plan) -> tuple[Point, float]:
    """Where on a tile the piece has most room for a label, in the piece's frame, and its radius."""
    clear = LABEL_CLEAR / plan.scale
    inner = box_loop((box[0] + clear, box[1] + clear, box[2] - clear, box[3] - clear))
    back = bounds(placed.placement.inverse().points(inner))
    finished = placed.finished
    return label_spot(finished, plan.lines[finished.name], box=back, scale=plan.scale)
