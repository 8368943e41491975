"""Placing pieces on sheets: large ones each on a sheet of its own, small ones wherever a whole page has room for them.

A piece that fits on one page is never cut by a joint. Taken room is counted in squares.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, radians
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from core.finishing.finish import Finished
from core.geometry.placement import Placement
from core.geometry.planar import inside
from core.geometry.polyline import Points, as_points
from core.outputs.drawing import Box, bounds
from core.outputs.sheet import Grid, Placed, Sheet, Turn, tile_boxes

ROOM: Final = 4.0
"""mm on paper between two pieces, and between a piece and the border of its page."""

CELL: Final = 6.0
"""Size in mm on paper of the squares in which taken room is counted."""

TURNS: Final[tuple[Turn, ...]] = (0, 90, 180, 270)

Taken: TypeAlias = NDArray[np.bool_]


def sheets_of(pieces: Sequence[Finished], grid: Grid, *, scale: float = 1.0) -> tuple[Sheet, ...]:
    """Every piece placed once, those that take most pages first."""
    table = _Table(grid, ROOM / scale, CELL / scale)
    for piece in sorted(pieces, key=lambda piece: (-table.fewest(piece)[0], -max(_size(piece, 0)))):
        table.add(piece)
    found, columns = [], 0
    for number, sheet in enumerate(table.sheets, start=1):
        found.append(Sheet(number, sheet.columns, sheet.rows, columns, tuple(sheet.placed)))
        columns += sheet.columns
    return tuple(found)


def _size(piece: Finished, turn: Turn) -> tuple[float, float]:
    left, bottom, right, top = bounds(piece.cutting_line)
    return (right - left, top - bottom) if turn % 180 == 0 else (top - bottom, right - left)


def _count(length: float, live: float, step: float) -> int:
    """How many tiles in a row show a length."""
    return 1 if length <= live else 1 + ceil((length - live) / step)


@dataclass(eq=False, slots=True)
class _OpenSheet:
    """A sheet while pieces are being placed on it; its taken squares by row from below and column."""

    columns: int
    rows: int
    taken: Taken
    placed: list[Placed] = field(default_factory=list)


@dataclass(eq=False, slots=True)
class _Table:
    """The sheets laid out so far; room between pieces and size of the squares in full-size mm."""

    grid: Grid
    room: float
    cell: float
    sheets: list[_OpenSheet] = field(default_factory=list)

    def fewest(self, piece: Finished) -> tuple[int, Turn]:
        """The fewest tiles that a piece takes, and the turn for it: upright unless lying down saves paper."""
        counts: dict[Turn, int] = {turn: int(np.prod(self._tiles(piece, turn))) for turn in TURNS[:2]}
        turn = min(counts, key=lambda turn: (counts[turn], turn))
        return counts[turn], turn

    def _tiles(self, piece: Finished, turn: Turn) -> tuple[int, int]:
        width, height = (size + 2 * self.room for size in _size(piece, turn))
        grid = self.grid
        return _count(width, grid.width, grid.step[0]), _count(height, grid.height, grid.step[1])

    def add(self, piece: Finished) -> None:
        """Place a piece: on a page with room for the whole of it, or in the upper left corner of a new sheet."""
        count, turn = self.fewest(piece)
        if count == 1 and self._found_room(piece):
            return
        columns, rows = self._tiles(piece, turn)
        width, height = self.grid.size(columns, rows)
        taken = np.zeros((ceil(height / self.cell), ceil(width / self.cell)), dtype=bool)
        self.sheets.append(_OpenSheet(columns, rows, taken))
        self._put(piece, turn, len(self.sheets) - 1, (self.room, height - self.room - _size(piece, turn)[1]))

    def _put(self, piece: Finished, turn: Turn, index: int, corner: tuple[float, float]) -> None:
        """Place a piece on a sheet with the lower left corner of its box at a place."""
        left, bottom, _, _ = bounds(Placement(radians(turn)).points(piece.cutting_line))
        placed = Placed(piece, index + 1, corner[0] - left, corner[1] - bottom, turn)
        sheet = self.sheets[index]
        sheet.placed.append(placed)
        sheet.taken |= self._squares(placed.placement.points(piece.cutting_line), sheet.taken.shape, self.room)

    def _squares(self, loop: Points, shape: tuple[int, ...], room: float) -> Taken:
        """Which squares of a field of (rows, columns) from the origin a closed loop takes, with room round it."""
        rows, columns = shape
        x, y = ((np.arange(count) + 0.5) * self.cell for count in (columns, rows))
        centres = as_points(np.column_stack((np.tile(x, rows), np.repeat(y, columns))))
        return inside(loop[:-1], centres, slack=room + 0.75 * self.cell).reshape(shape)

    def _found_room(self, piece: Finished) -> bool:
        """Whether one page of the sheets there are has room for the whole piece; it is placed there then."""
        for turn in TURNS:
            shape = self._shape(piece, turn)
            for index, sheet in enumerate(self.sheets):
                for tile in tile_boxes(sheet.columns, sheet.rows, self.grid):
                    corner = self._free_corner(sheet.taken, shape, tile)
                    if corner is not None:
                        self._put(piece, turn, index, corner)
                        return True
        return False

    def _shape(self, piece: Finished, turn: Turn) -> Taken:
        """The squares that a turned piece takes, counted from the lower left corner of its box."""
        loop = Placement(radians(turn)).points(piece.cutting_line)
        left, bottom, right, top = bounds(loop)
        shape = (ceil((top - bottom) / self.cell), ceil((right - left) / self.cell))
        return self._squares(as_points(loop - (left, bottom)), shape, 0.0)

    def _free_corner(self, taken: Taken, shape: Taken, tile: Box) -> tuple[float, float] | None:
        """Where in a tile the shape's lower left corner finds room, the highest place first and then the leftmost."""
        left, bottom = (ceil((side + self.room) / self.cell) for side in tile[:2])
        right, top = (int((side - self.room) / self.cell) for side in tile[2:])
        part = taken[bottom:top, left:right]
        if part.shape[0] < shape.shape[0] or part.shape[1] < shape.shape[1]:
            return None
        windows = np.lib.stride_tricks.sliding_window_view(part, shape.shape)
        free = np.argwhere(~(windows & shape).any(axis=(2, 3)))
        if not len(free):
            return None
        row, column = max(free.tolist(), key=lambda place: (place[0], -place[1]))
        return ((left + column) * self.cell, (bottom + row) * self.cell)
