"""The pages of a print as drawings in mm from the paper's lower left corner: the map first, then the tiles."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, TypeAlias

import msgspec

from core.geometry.placement import Placement
from core.geometry.polyline import Point
from core.outputs.drawing import GLYPH_WIDTH, Box, Drawing, Text, bounds, box_loop
from core.outputs.ink import ink_of
from core.outputs.joints import frame, glue_strips, joining_marks, joining_words
from core.outputs.page_map import map_drawing
from core.outputs.papers import MARGIN, live_box
from core.outputs.piece_label import label_spot, piece_label
from core.outputs.plan import Plan
from core.outputs.rulers import rulers
from core.outputs.sheet import Placed, Tile, shows
from core.outputs.squares import SIZE, WIDTH, squares

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


class Page(msgspec.Struct, frozen=True, eq=False):
    """One page. `origin` is the place on the sheet, in full-size mm, of the paper's lower left corner.

    `drawing` is cut off at the border of the live area; `margin` lies outside: the rulers, and the line at the foot.
    """

    label: str
    kind: PageKind
    sheet: int
    origin: tuple[float, float]
    drawing: Drawing
    margin: Drawing


def pages(plan: Plan) -> Iterator[Page]:
    """The pages in order, each drawn when it is asked for."""
    map_page = _with_squares(plan, over=map_drawing(plan), under=Drawing(), label="")
    yield Page("map", "map", 0, (0.0, 0.0), map_page, _margin(plan, None, 1))
    lines = {placed.finished.name: plan.lines[placed.finished.name].placed(placed.placement) for placed in plan.placed}
    labels = _labels(plan)
    for number, tile in enumerate(plan.tiles, start=2):
        pattern = Drawing()
        for placed in tile.sheet.placed:
            pattern += lines[placed.finished.name].inside(tile.box)
            pattern += labels.get((placed.finished.name, tile.label), Drawing())
        yield _tile_page(plan, tile, pattern, number)


def _margin(plan: Plan, tile: Tile | None, number: int) -> Drawing:
    """Outside the live area: the rulers, what is trimmed off, and what the page says of itself."""
    words = tuple(joining_words(plan.joints[tile.label], plan.paper)) if tile else ()
    return rulers(plan.paper) + Drawing((*words, _foot(plan, tile.label if tile else "", number)))


def _foot(plan: Plan, label: str, number: int) -> Text:
    """What every page says of itself, in one line as small as it must be."""
    title = f"{plan.design.name}, for {plan.design.body.name}"
    title = title if len(title) <= LONGEST_TITLE else title[: LONGEST_TITLE - 1] + "…"
    parts = [label, title, plan.design.date, plan.paper.words, f"scale {plan.scale_words}", *plan.choices.words]
    words = "   ".join(part for part in (*parts, f"page {number} of {plan.count}") if part)
    size = min(FOOT_SIZE, plan.paper.live[0] / (GLYPH_WIDTH * len(words)))
    return Text((MARGIN, FOOT), size, words, "words", anchor="start")


def _tile_page(plan: Plan, tile: Tile, pattern: Drawing, number: int) -> Page:
    corner = (tile.box[0] - MARGIN / plan.scale, tile.box[1] - MARGIN / plan.scale)
    on_page = pattern.placed(Placement(0.0, -corner[0], -corner[1])).scaled(plan.scale)
    joints = plan.joints[tile.label]
    under = Drawing((*glue_strips(joints, plan.paper), *frame(joints, plan.paper)))
    over = on_page + Drawing(tuple(joining_marks(joints, plan.paper)))
    drawing = _with_squares(plan, over=over, under=under, label=tile.label, shown=_shown(tile))
    return Page(tile.label, "tile", tile.sheet.number, corner, drawing, _margin(plan, tile, number))


def _shown(tile: Tile) -> str:
    """The pieces on a page, as many as there is room to name."""
    named = [f"{piece.number} {piece.name}" for piece in (p.finished for p in tile.sheet.placed if shows(tile.box, p))]
    longest = int(WIDTH / (GLYPH_WIDTH * SIZE))
    words = f"Here: {', '.join(named)}"
    return words if len(words) <= longest else words[: longest - 1] + "…"


def _with_squares(plan: Plan, *, over: Drawing, under: Drawing, label: str, shown: str = "") -> Drawing:
    """The page with the test squares behind what is drawn, where they cross least of it."""
    live = live_box(plan.paper)
    notes = [] if plan.scale == 1.0 else [f"Pattern {plan.scale_words}, squares and rulers true size."]
    notes += [words[0].upper() + words[1:] + "." for words in plan.choices.words]
    notes += [shown] if shown else []
    return under + squares(ink_of(over, live), plan.paper, label, notes) + over


def _labels(plan: Plan) -> dict[tuple[str, str], Drawing]:
    """Each piece's labels on its sheet, by the names of piece and page: whole where it has most room, else short."""
    found = {}
    for placed in plan.placed:
        tiles = [tile for tile in plan.tiles if tile.sheet.number == placed.sheet and shows(tile.box, placed)]
        spots = {tile.label: _spot(placed, tile.box, plan) for tile in tiles}
        best = max(spots, key=lambda label: spots[label][1])
        for label, (at, room) in spots.items():
            made = _label(placed, at, room, plan, is_whole=label == best)
            found[placed.finished.name, label] = made
    return found


def _label(placed: Placed, at: Point, room: float, plan: Plan, *, is_whole: bool) -> Drawing:
    """The piece's label at a spot with room, on the sheet; none where there is too little."""
    finished, scale = placed.finished, plan.scale
    if is_whole:
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
