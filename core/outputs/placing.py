"""Placing pieces on sheets: large ones each on a sheet of its own, small ones wherever a whole page has room for them.

A piece that fits on one page is never cut by a joint. One that does not is laid beside others where that saves a page.
Taken room is counted in squares.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, radians
from typing import Final, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.finishing.finish import Finished
from core.geometry.placement import Placement
from core.geometry.planar import inside
from core.geometry.polyline import Points, as_points
from core.outputs.drawing import Box, bounds
from core.outputs.sheet import Grid, Placed, Sheet, Turn, tile_boxes
from core.progress import Progress

ROOM: Final = 4.0
"""mm on paper between two pieces, and between a piece and the border of its page."""

CELL: Final = 6.0
"""Size in mm on paper of the squares in which taken room is counted."""

TURNS: Final[tuple[Turn, ...]] = (0, 90, 180, 270)
SLANTS: Final[tuple[Turn, ...]] = (*range(5, 90, 5), *range(275, 360, 5))
"""Turns that are tried for a piece that no page holds upright or lying: paper has no grain to keep to."""

Taken: TypeAlias = NDArray[np.bool_]


def sheets_of(
    pieces: Sequence[Finished],
    grid: Grid,
    *,
    scale: float,
    is_roll: bool,
    progress: Progress,
) -> tuple[Sheet, ...]:
    """Every piece placed once, those that take most pages first: upright where they can be, on a roll as high up.

    `progress` is called with (pieces placed, pieces in all); what it raises ends the work.
    """
    table = _Table(grid, ROOM / scale, CELL / scale, is_roll)
    fewest = [(piece, *table.fewest(piece)) for piece in pieces]
    ordered = sorted(fewest, key=lambda found: (-found[1], -max(_size(found[0], 0))))
    for done, (piece, count, turn) in enumerate(ordered):
        progress(done, len(ordered))
        table.add(piece, count, turn)
    found, columns = [], 0
    for number, sheet in enumerate(table.sheets, start=1):
        found.append(Sheet(number, sheet.columns, sheet.rows, columns, tuple(sheet.placed)))
        columns += sheet.columns
    return tuple(found)


def _size(piece: Finished, turn: Turn) -> tuple[float, float]:
    left, bottom, right, top = bounds(Placement(radians(turn)).points(piece.cutting_line))
    return (right - left, top - bottom)


def _count(length: float, live: float, step: float) -> int:
    """How many tiles in a row show a length."""
    return 1 if length <= live else 1 + ceil((length - live) / step)


class _OpenSheet(msgspec.Struct, eq=False):
    """A sheet while pieces are being placed on it; its taken squares by row from below and column."""

    columns: int
    rows: int
    taken: Taken
    placed: list[Placed] = msgspec.field(default_factory=list)


class _Table(msgspec.Struct, eq=False):
    """The sheets laid out so far; room between pieces and size of the squares in full-size mm."""

    grid: Grid
    room: float
    cell: float
    is_roll: bool
    sheets: list[_OpenSheet] = msgspec.field(default_factory=list)

    def fewest(self, piece: Finished) -> tuple[int, Turn]:
        """The fewest tiles that a piece takes, and the turn for it: upright unless lying or aslant saves paper."""
        counts = {turn: self._pages(piece, turn) for turn in TURNS[:2]}
        if min(counts.values()) > 1:
            counts |= {turn: self._pages(piece, turn) for turn in SLANTS}
        turn = min(counts, key=lambda turn: (counts[turn], turn % 90 != 0, min(turn, 360 - turn)))
        return counts[turn], turn

    def _pages(self, piece: Finished, turn: Turn) -> int:
        columns, rows = self._tiles(piece, turn)
        return columns * rows

    def _tiles(self, piece: Finished, turn: Turn) -> tuple[int, int]:
        width, height = (size + 2 * self.room for size in _size(piece, turn))
        grid = self.grid
        return _count(width, grid.width, grid.step[0]), _count(height, grid.height, grid.step[1])

    def add(self, piece: Finished, count: int, turn: Turn) -> None:
        """Place a piece: where it needs no page of its own, else in the upper left corner of a new sheet.

        `count` and `turn` are its fewest tiles. A piece that fits on a page is never cut by a joint, and one that does
        not is cut no more often than it must.
        """
        turns = TURNS if turn % 90 == 0 else (turn, (turn + 180) % 360)
        if self._found_page(piece, turns) if count == 1 else self._found_room(piece, turns, count):
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
        self._take(sheet.taken, placed.placement.points(piece.cutting_line))

    def _take(self, taken: Taken, loop: Points) -> None:
        """Mark the squares of a field that a loop takes, with room round it; the rest of the field is not looked at."""
        left, bottom, right, top = bounds(loop)
        first = [max(int((side - 2 * self.room) / self.cell) - 1, 0) for side in (bottom, left)]
        last = [int((side + 2 * self.room) / self.cell) + 2 for side in (top, right)]
        part = taken[first[0] : last[0], first[1] : last[1]]
        part |= self._squares(as_points(loop - (first[1] * self.cell, first[0] * self.cell)), part.shape, self.room)

    def _squares(self, loop: Points, shape: tuple[int, ...], room: float) -> Taken:
        """Which squares of a field of (rows, columns) from the origin a closed loop takes, with room round it."""
        rows, columns = shape
        x, y = ((np.arange(count) + 0.5) * self.cell for count in (columns, rows))
        centres = as_points(np.column_stack((np.tile(x, rows), np.repeat(y, columns))))
        return inside(loop[:-1], centres, slack=room + 0.75 * self.cell).reshape(shape)

    def _found_page(self, piece: Finished, turns: Sequence[Turn]) -> bool:
        """Whether one page of the sheets there are has room for the whole piece; it is placed there then."""
        shapes = {turn: self._shape(piece, turn) for turn in turns}
        for index, sheet in enumerate(self.sheets):
            for tile in tile_boxes(sheet.columns, sheet.rows, self.grid):
                places = {turn: self._free_place(sheet.taken, shape, tile) for turn, shape in shapes.items()}
                free = {turn: place for turn, place in places.items() if place is not None}
                if free:
                    turn = max(free, key=lambda turn: free[turn][0]) if self.is_roll else min(free)
                    row, column = free[turn]
                    self._put(piece, turn, index, (column * self.cell, row * self.cell))
                    return True
        return False

    def _found_room(self, piece: Finished, turns: Sequence[Turn], most: int) -> bool:
        """Whether a piece of several pages lies over no more than `most` of a sheet there is, some of them in use."""
        shapes = {turn: self._shape(piece, turn) for turn in turns} if self.sheets else {}
        for index, sheet in enumerate(self.sheets):
            tiles = list(tile_boxes(sheet.columns, sheet.rows, self.grid))
            used = [self._is_used(sheet, tile) for tile in tiles]
            for turn, shape in shapes.items():
                whole = (0.0, 0.0, *self.grid.size(sheet.columns, sheet.rows))
                free = np.array(self._free_places(sheet.taken, shape, whole)).reshape(-1, 2)
                corners = self.cell * free[:, ::-1]
                over = np.array([_over(corners, corners + _size(piece, turn), tile) for tile in tiles])
                fits = (over.sum(axis=0) <= most) & (over[used].any(axis=0))
                if fits.any():
                    x, y = corners[np.argmax(fits)].tolist()
                    self._put(piece, turn, index, (x, y))
                    return True
        return False

    def _is_used(self, sheet: _OpenSheet, tile: Box) -> bool:
        left, bottom, right, top = (int(side / self.cell) for side in tile)
        return bool(sheet.taken[bottom : top + 1, left : right + 1].any())

    def _shape(self, piece: Finished, turn: Turn) -> Taken:
        """The squares that a turned piece takes, counted from the lower left corner of its box."""
        loop = Placement(radians(turn)).points(piece.cutting_line)
        left, bottom, right, top = bounds(loop)
        shape = (ceil((top - bottom) / self.cell), ceil((right - left) / self.cell))
        return self._squares(as_points(loop - (left, bottom)), shape, 0.0)

    def _free_place(self, taken: Taken, shape: Taken, tile: Box) -> tuple[int, int] | None:
        """Row and column in a tile where the shape finds room, the highest place first and then the leftmost."""
        return next(iter(self._free_places(taken, shape, tile)), None)

    def _free_places(self, taken: Taken, shape: Taken, tile: Box) -> list[tuple[int, int]]:
        """All rows and columns in a tile at which the shape finds room, the highest first and then the leftmost."""
        left, bottom = (ceil((side + self.room) / self.cell) for side in tile[:2])
        right, top = (int((side - self.room) / self.cell) for side in tile[2:])
        part = taken[bottom:top, left:right]
        # Below what is taken all is free: no place lower than just under it is ever wanted.
        skipped = max(int(np.argmax(part.any(axis=1))) if part.any() else len(part), 0)
        skipped = max(min(skipped - len(shape), len(part) - len(shape)), 0)
        part = part[skipped:]
        if part.shape[0] < shape.shape[0] or part.shape[1] < shape.shape[1]:
            return []
        free = np.argwhere(_overlaps(part, shape) == 0)
        order = np.lexsort((free[:, 1], -free[:, 0]))
        return [(bottom + skipped + int(row), left + int(column)) for row, column in free[order]]


def _overlaps(part: Taken, shape: Taken) -> NDArray[np.int_]:
    """How many squares of a shape meet taken ones, for every place of it inside the part: a correlation by FFT."""
    size = part.shape
    product = np.fft.rfft2(part) * np.conj(np.fft.rfft2(shape, s=size))
    rows, columns = (whole - held + 1 for whole, held in zip(size, shape.shape, strict=True))
    counts: NDArray[np.int_] = np.rint(np.fft.irfft2(product, s=size)[:rows, :columns]).astype(int)
    return counts


def _over(low: NDArray[np.float64], high: NDArray[np.float64], tile: Box) -> NDArray[np.bool_]:
    """Which boxes, by lower left and upper right corners (N, 2), have more than a border in common with a tile."""
    return np.asarray(((low < tile[2:]) & (high > tile[:2])).all(axis=1), dtype=np.bool_)
