"""Sheets of words, tables and small pictures: rows that are set one under the other and parted into pages.

A *row* is a drawing with its origin at its upper left corner, y downwards negative, and its height.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

import msgspec
from msgspec.structs import replace

from core.geometry.placement import Placement
from core.geometry.polyline import as_points
from core.outputs.drawing import GLYPH_WIDTH, Box, Drawing, Role, Stroke, Text
from core.outputs.papers import PAPERS, Paper

EDGE: Final = 15.0
"""mm left bare on every side."""

FOOT: Final = 9.0
SIZE: Final = 3.0
STEP: Final = 4.4
"""mm: letters of plain words, and from line to line."""

TITLE, HEADING = 6.0, 3.6
BOLD: Final = 1.12
"""Bold letters are wider than plain ones by this."""

CELL_GAP: Final = 3.0


class Photo(msgspec.Struct, frozen=True, eq=False):
    """The bytes of a JPEG that is known to be whole, and the box in mm that it fills."""

    image: bytes
    box: Box

    def shifted(self, across: float, up: float) -> Photo:
        """The same picture elsewhere."""
        left, bottom, right, top = self.box
        return replace(self, box=(left + across, bottom + up, right + across, top + up))


class Row(msgspec.Struct, frozen=True, eq=False):
    """One row; where `keeps`, it stays on the page of the row after it."""

    height: float
    drawing: Drawing
    keeps: bool = False
    photos: tuple[Photo, ...] = ()


class WrittenPage(msgspec.Struct, frozen=True, eq=False):
    """A page of a size in mm and what is drawn on it, from its lower left corner; photographs lie under the drawing."""

    width: float
    height: float
    drawing: Drawing
    label: str
    photos: tuple[Photo, ...] = ()


def paper_for(name: str) -> Paper:
    """The paper that sheets of words are written on: A4, or Letter where the design's own is of that family."""
    if name in ("a4", "letter"):
        return PAPERS[name]
    return PAPERS["letter" if name in ("legal", "tabloid") else "a4"]


def column(paper: Paper) -> float:
    """Width in mm of what is written on a paper."""
    return paper.width - 2 * EDGE


# --------------------------------------------------------------------------------------------------------------
# rows


def title(text: str, below: str, width: float) -> tuple[Row, ...]:
    """The sheet's heading and the line under it."""
    size = min(TITLE, width / (BOLD * GLYPH_WIDTH * max(len(text), 1)))
    first = Row(TITLE + 3.0, Drawing((Text((0.0, -TITLE), size, text, "heading", anchor="start"),)), keeps=True)
    return (first, *(Row(row.height, row.drawing, keeps=True) for row in paragraph(below, width)), gap(3.0))


def heading(text: str) -> Row:
    """A heading over what follows."""
    words = Text((0.0, -HEADING - 2.5), HEADING, text, "heading", anchor="start")
    return Row(HEADING + 5.0, Drawing((words,)), keeps=True)


def paragraph(text: str, width: float, *, indent: float = 0.0, role: Role = "words") -> tuple[Row, ...]:
    """Words in lines that fit the width; line ends in the text are kept."""
    lines = [line for part in text.split("\n") for line in (_wrapped(part, width - indent, role) or [""])]
    return tuple(
        Row(STEP, Drawing((Text((indent, -STEP + 1.0), SIZE, line, role, anchor="start"),) if line else ()))
        for line in lines
    )


def listed(mark: str, text: str, width: float, *, indent: float = 8.0) -> Row:
    """A line of a list: its mark, and the words beside it in one row that is never parted."""
    words = stacked(paragraph(text, width, indent=indent))
    first = Text((0.0, -STEP + 1.0), SIZE, mark, "heading", anchor="start")
    return Row(words.height + 1.0, Drawing((first,)) + words.drawing)


def table(header: Sequence[str], rows: Sequence[Sequence[str]], width: float, shares: Sequence[float]) -> Iterator[Row]:
    """A table with a line under each row; `shares` of the width go to the columns. A row is never parted."""
    yield _table_row(header, width, shares, "heading")
    for row in rows:
        yield _table_row(row, width, shares, "words")


def _table_row(cells: Sequence[str], width: float, shares: Sequence[float], role: Role) -> Row:
    drawing, left, deepest = Drawing(), 0.0, STEP
    for cell, share in zip(cells, shares, strict=True):
        words = stacked(paragraph(cell, share * width - CELL_GAP, role=role))
        drawing += words.drawing.placed(Placement(0.0, left, -1.0))
        left, deepest = left + share * width, max(deepest, words.height)
    line = Stroke(as_points(((0.0, -deepest - 1.5), (width, -deepest - 1.5))), "frame")
    return Row(deepest + 2.0, drawing + Drawing((line,)), keeps=role == "heading")


def stacked(rows: Sequence[Row]) -> Row:
    """Rows as one that is never parted."""
    drawing, y = Drawing(), 0.0
    photos: list[Photo] = []
    for row in rows:
        drawing += row.drawing.placed(Placement(0.0, 0.0, y))
        photos += [photo.shifted(0.0, y) for photo in row.photos]
        y -= row.height
    return Row(-y, drawing, photos=tuple(photos))


def picture(drawing: Drawing, box: Box, *, left: float = 0.0) -> Row:
    """A drawing in mm of the paper of which a box is shown."""
    return Row(box[3] - box[1] + 2.0, drawing.placed(Placement(0.0, left - box[0], -box[3])))


def gap(height: float) -> Row:
    """Empty room."""
    return Row(height, Drawing())


def blank_line(label: str, width: float) -> Row:
    """A line to write on by hand, with what belongs there."""
    start = BOLD * GLYPH_WIDTH * SIZE * len(label) + 3.0
    line = Stroke(as_points(((start, -8.0), (width, -8.0))), "map line")
    return Row(10.0, Drawing((Text((0.0, -7.5), SIZE, label, "heading", anchor="start"), line)))


def _wrapped(text: str, width: float, role: Role) -> list[str]:
    wide = GLYPH_WIDTH * SIZE * (BOLD if role == "heading" else 1.0)
    return wrap(text, max(int(width / wide), 6))


# --------------------------------------------------------------------------------------------------------------
# pages


def written_pages(rows: Sequence[Row], paper: Paper, *, name: str, foot: str) -> tuple[WrittenPage, ...]:
    """The rows on as many pages as they take, each with a foot that counts them."""
    parted = list(_parted(rows, paper.height - 2 * EDGE - 4.0))
    pages = []
    for number, part in enumerate(parted, start=1):
        whole = stacked(part)
        drawing = whole.drawing.placed(Placement(0.0, EDGE, paper.height - EDGE))
        photos = tuple(photo.shifted(EDGE, paper.height - EDGE) for photo in whole.photos)
        words = "   ".join(text for text in (foot, f"page {number} of {len(parted)}") if text)
        size = min(2.4, column(paper) / (GLYPH_WIDTH * len(words)))
        below = Text((EDGE, FOOT), size, words, "words", anchor="start")
        pages.append(WrittenPage(paper.width, paper.height, drawing + Drawing((below,)), f"{name} {number}", photos))
    return tuple(pages)


def _parted(rows: Sequence[Row], height: float) -> Iterator[list[Row]]:
    """Rows page by page; a row that keeps to the next goes over with it."""
    page: list[Row] = []
    used = 0.0
    for block in _blocks(rows):
        size = sum(row.height for row in block)
        if page and used + size > height:
            yield page
            page, used = [], 0.0
        page += block
        used += size
    if page:
        yield page


def _blocks(rows: Sequence[Row]) -> Iterator[list[Row]]:
    block: list[Row] = []
    for row in rows:
        block.append(row)
        if not row.keeps:
            yield block
            block = []
    if block:
        yield block
