"""Sheets of paper and their tiles.

A *sheet* is what is joined from pages, measured in full-size mm from its lower left corner; a *tile* is the part of it
that one page shows. Neighbouring tiles share a strip to be glued.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import TypeAlias

import msgspec

from core.finishing.finish import Finished
from core.geometry.placement import Placement
from core.geometry.planar import clipped, covers
from core.outputs.drawing import Box
from core.outputs.papers import OVERLAP, Paper

Turn: TypeAlias = int
"""Whole degrees counter-clockwise."""


class Placed(msgspec.Struct, frozen=True, eq=False):
    """A piece on a sheet: a point p of it lies at p turned by `turn` degrees and shifted by (x, y)."""

    finished: Finished
    sheet: int
    x: float
    y: float
    turn: Turn

    @property
    def placement(self) -> Placement:
        """The same as a placement."""
        return Placement(radians(self.turn), self.x, self.y)


class Sheet(msgspec.Struct, frozen=True, eq=False):
    """A sheet of tiles. Its columns are lettered from `first_column` on, so that every label occurs once."""

    number: int
    columns: int
    rows: int
    first_column: int
    placed: tuple[Placed, ...]


class Tile(msgspec.Struct, frozen=True, eq=False):
    """One page's part of a sheet: column and row (from the top) and its box in full-size mm on the sheet."""

    sheet: Sheet
    column: int
    row: int
    box: Box

    @property
    def label(self) -> str:
        """For example B3: column B, third row from the top."""
        return f"{letters(self.sheet.first_column + self.column)}{self.row + 1}"


class Grid(msgspec.Struct, frozen=True):
    """Live size and step of tiles in full-size mm, for a paper and a scale of print."""

    width: float
    height: float
    overlap: float

    @property
    def step(self) -> tuple[float, float]:
        """From one tile to the next."""
        return (self.width - self.overlap, self.height - self.overlap)

    def size(self, columns: int, rows: int) -> tuple[float, float]:
        """Width and height of a sheet."""
        return (self.width + (columns - 1) * self.step[0], self.height + (rows - 1) * self.step[1])


def grid_for(paper: Paper, scale: float) -> Grid:
    """The grid of tiles; at half scale a page shows twice as much."""
    width, height = paper.live
    return Grid(width / scale, height / scale, OVERLAP / scale)


def letters(index: int) -> str:
    """Column names: A to Z, then AA, AB and so on."""
    name = chr(ord("A") + index % 26)
    return name if index < 26 else letters(index // 26 - 1) + name


# --------------------------------------------------------------------------------------------------------------
# tiles


def tile_boxes(columns: int, rows: int, grid: Grid) -> Iterator[Box]:
    """The tiles' boxes, row by row from the top."""
    for row in range(rows):
        for column in range(columns):
            left, bottom = column * grid.step[0], (rows - 1 - row) * grid.step[1]
            yield (left, bottom, left + grid.width, bottom + grid.height)


def tiles_of(sheet: Sheet, grid: Grid) -> tuple[Tile, ...]:
    """The tiles of a sheet that show any of a piece, row by row from the top; bare ones keep their labels unused."""
    boxes = enumerate(tile_boxes(sheet.columns, sheet.rows, grid))
    found = (Tile(sheet, index % sheet.columns, index // sheet.columns, box) for index, box in boxes)
    return tuple(tile for tile in found if any(shows(tile.box, placed) for placed in sheet.placed))


def shows(box: Box, placed: Placed) -> bool:
    """Whether any of a piece lies in a tile's box."""
    line = placed.placement.points(placed.finished.cutting_line)
    return bool(clipped(line, box)) or covers(line[:-1], ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
