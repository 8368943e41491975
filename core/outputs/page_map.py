"""The first page: which pages make up which sheet, what is cut from what, and how to begin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap
from typing import Final

from core.finishing.finish import Finished
from core.geometry.placement import Placement
from core.geometry.planar import roomiest
from core.outputs.drawing import GLYPH_WIDTH, Box, Drawing, Item, Stroke, Text, box_loop
from core.outputs.ink import ink_of
from core.outputs.papers import live_box
from core.outputs.plan import Plan
from core.outputs.sheet import Grid, Placed, Sheet, grid_for, tiles_of
from core.outputs.squares import SIDE_IN_INCHES
from core.units import Unit, show_length

TITLE: Final = 5.0
SUBTITLE: Final = 3.0
HEAD: Final = 17.0
"""Height in mm of the heading."""

GAP: Final = 7.0
"""mm between the sheets on the map, and between its parts."""

LARGEST_MAP: Final = 0.3
MAP_STEP: Final = 0.97
"""The map is drawn at this share of the paper's size, or as much smaller as it takes to fit."""

NUMBER: Final = 5.0
PAGE_LABEL: Final = 3.4
"""Sizes in mm of a piece's number and a page's label on the map."""

LINE: Final = 3.8
SIZE_OF_LINE: Final = 0.68
"""Lines of text are at most 3.8 mm apart, their letters 0.68 of that."""

JOINING: Final = (
    "Measure the squares on this page before printing the rest.",
    "Trim a page along its left and its upper line where it has one.",
    "Lay it over its neighbour's grey strip so that half diamonds of one number meet, and tape it.",
    "Pages without grey strips are whole by themselves.",
)
CARE: Final = (
    "Close the rotary cutter after every cut.",
    "Net melts under a hot iron: low heat and a press cloth.",
    "Net burns: keep it from candles and heaters.",
)


def map_drawing(plan: Plan) -> Drawing:
    """The first page, all but its test squares, for which the lower left is left free."""
    left, bottom, right, top = live_box(plan.paper)
    middle = bottom + SIDE_IN_INCHES + GAP
    sheets = _sheets(plan, (left, middle, right, top - HEAD))
    words = _words(plan, (left + SIDE_IN_INCHES + GAP, bottom, right, middle - GAP))
    return Drawing((*_heading(plan, left, top), *sheets, *words))


def _heading(plan: Plan, left: float, top: float) -> Iterator[Item]:
    design = plan.design
    yield Text((left, top - TITLE), TITLE, design.name[:60], "heading", anchor="start")
    pages = f"{len(plan.tiles)} pages follow" if len(plan.tiles) != 1 else "1 page follows"
    parts = [
        f"For {design.body.name}",
        design.date,
        plan.paper.words,
        f"scale {plan.scale_words}",
        *plan.choices.words,
        pages,
    ]
    below = ".  ".join(part for part in parts if part) + "."
    yield Text((left, top - TITLE - 2.0 * SUBTITLE), SUBTITLE, below, "words", anchor="start")


# --------------------------------------------------------------------------------------------------------------
# the map


def _sheets(plan: Plan, box: Box) -> Iterator[Item]:
    grid = grid_for(plan.paper, plan.scale)
    factor = LARGEST_MAP * plan.scale
    while (corners := _flowed(plan.sheets, grid, factor, box)) is None:
        factor *= MAP_STEP
    for sheet, (x, y) in zip(plan.sheets, corners, strict=True):
        drawn = Drawing(tuple(_sheet(sheet, grid, factor))).scaled(factor).placed(Placement(0.0, x, y))
        yield from drawn.items


def _flowed(sheets: Sequence[Sheet], grid: Grid, factor: float, box: Box) -> list[tuple[float, float]] | None:
    """The lower left corners of the sheets set in rows from the top, or None when the box does not hold them."""
    left, bottom, right, top = box
    x, y, deepest = left, top, 0.0
    corners = []
    for sheet in sheets:
        width, height = (factor * side for side in grid.size(sheet.columns, sheet.rows))
        if x > left and x + width > right:
            x, y, deepest = left, y - deepest - GAP, 0.0
        if x + width > right or y - height < bottom:
            return None
        corners.append((x, y - height))
        x, deepest = x + width + GAP, max(deepest, height)
    return corners


def _sheet(sheet: Sheet, grid: Grid, factor: float) -> Iterator[Item]:
    """What each page shows once it is joined, with its label, and the pieces with their numbers, in mm of the sheet."""
    tiles = tiles_of(sheet, grid)
    lines = tuple(Stroke(placed.placement.points(placed.finished.cutting_line), "map line") for placed in sheet.placed)
    numbers = tuple(_number(placed, factor) for placed in sheet.placed)
    drawn = Drawing((*lines, *numbers)).scaled(factor)
    for tile in tiles:
        left, bottom, right, top = tile.box
        box = (left, bottom, min(right, left + grid.step[0]), top)
        box = box if tile.column < sheet.columns - 1 else tile.box
        box = (box[0], box[1] + (grid.overlap if tile.row < sheet.rows - 1 else 0.0), box[2], box[3])
        yield Stroke(box_loop(box), "frame", closed=True)
        yield _page_label(tile.label, box, drawn, factor)
    yield from lines
    yield from numbers


def _number(placed: Placed, factor: float) -> Text:
    loop = placed.finished.cutting_line[:-1]
    at, room = roomiest(loop)
    x, y = placed.placement.point(at)
    size = min(NUMBER / factor, 1.2 * room)
    return Text((x, y - 0.36 * size), size, str(placed.finished.number), "label")


def _page_label(label: str, box: Box, drawn: Drawing, factor: float) -> Text:
    """A page's label where the page is emptiest on the map."""
    left, bottom, right, top = (factor * side for side in box)
    size = (GLYPH_WIDTH * 1.3 * PAGE_LABEL * len(label), PAGE_LABEL)
    within = (left + 1.0, bottom + 1.0, right - 1.0, top - 1.0)
    x, y = ink_of(drawn, (left, bottom, right, top)).emptiest(size, within, clear=0.0)
    return Text(
        (x / factor, (y + 0.15 * PAGE_LABEL) / factor), PAGE_LABEL / factor, label, "page label", anchor="start"
    )


# --------------------------------------------------------------------------------------------------------------
# words


def _words(plan: Plan, box: Box) -> Iterator[Text]:
    """The list of pieces, how to join the pages, and cautions, in lines that fit the box."""
    left, bottom, right, top = box
    step = LINE
    while len(lines := _lines(plan, (right - left) / (GLYPH_WIDTH * SIZE_OF_LINE * step))) * step > top - bottom:
        step *= MAP_STEP
    for index, (text, is_heading) in enumerate(lines):
        at = (left, top - (index + 1) * step)
        yield Text(at, SIZE_OF_LINE * step, text, "heading" if is_heading else "words", anchor="start")


def _lines(plan: Plan, width: float) -> list[tuple[str, bool]]:
    """Lines of at most `width` glyphs, each with whether it is a heading."""
    pieces = sorted((placed.finished for placed in plan.placed), key=lambda piece: piece.number)
    listed = [f"{piece.number}  {piece.name}: {piece.count}, {piece.fabric.name}" for piece in pieces]
    found: list[tuple[str, bool]] = []
    for heading, texts in (("Pieces", listed), ("Cutting", _cutting(plan)), ("Joining", JOINING), ("Care", CARE)):
        found += [(heading, True)]
        found += [(line, False) for text in texts for line in wrap(text, max(int(width), 20))]
        found += [("", False)]
    return found[:-1]


def _cutting(plan: Plan) -> tuple[str, ...]:
    """Which line is cut, which is sewn, and how far apart they lie on each fabric."""
    if not plan.choices.has_allowances:
        return ("Every line is a stitching line: mark the allowance on the cloth before you cut.",)
    given = {
        fabric.name: {*_given(placed.finished for placed in plan.placed if placed.finished.fabric.name == fabric.name)}
        for fabric in plan.design.fabrics
    }
    said = "; ".join(f"{name} {_amounts(amounts, plan.design.unit)}" for name, amounts in given.items() if amounts)
    return (
        "Cut along the firm line and sew along the dashed one; where there is one alone, it is both.",
        f"Allowance drawn: {said}.",
    )


def _given(pieces: Iterable[Finished]) -> Iterator[float]:
    """The allowances in mm of every edge that is cut; there is none at a fold."""
    for piece in pieces:
        for edge in piece.edges.values():
            if edge.edge.kind not in ("fold", "dart base"):
                yield from (round(part.allowance, 2) for part in edge.stretches)


def _amounts(given: set[float], unit: Unit) -> str:
    """For example: "none", "1/2 in", "none and 1/2 in"."""
    said = dict.fromkeys("none" if amount == 0.0 else show_length(amount, unit) for amount in sorted(given))
    *first, last = said
    return f"{', '.join(first)} and {last}" if first else last
