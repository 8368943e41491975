"""Where a page is already drawn on, counted in small squares, so that what comes later finds an empty place."""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.geometry.polyline import Point, distances
from core.outputs.drawing import Box, Drawing, Item, Text

CELL: Final = 2.0
"""Ink is counted in squares of this size in mm."""

HELD_WEIGHT: Final = 8.0
"""What lies where the words of a box go disturbs so many times more than what lies elsewhere in it."""

TEXT_WEIGHT: Final = 8.0
"""A text that is drawn over is worse than a line."""


class Ink(msgspec.Struct, frozen=True, eq=False):
    """How much is drawn in each square of a box, shape (rows, columns), rows from below."""

    box: Box
    amount: NDArray[np.float64]

    def emptiest(
        self, size: tuple[float, float], within: Box, *, clear: float = 0.0, holding: tuple[float, float] = (0.0, 0.0)
    ) -> Point:
        """The lower left corner, in `within`, of the box of a size (mm) with least ink in it and `clear` mm round it.

        A box inside it of the size `holding`, wherever that is emptiest, counts much more.
        """
        column, row = self._corners(size, within)
        held = self._held(row[:, None], column, size, clear)
        if holding[0] > 0.0:
            held = held + HELD_WEIGHT * self._least_inside(row, column, size, holding)
        best = np.unravel_index(np.argmin(np.round(held, 6)), held.shape)
        return (self.box[0] + CELL * float(column[best[1]]), self.box[1] + CELL * float(row[best[0]]))

    def _corners(self, size: tuple[float, float], within: Box) -> tuple[NDArray[np.int_], NDArray[np.int_]]:
        """The columns and rows at which a box of a size may begin."""
        first = [int(np.ceil((within[k] - self.box[k]) / CELL - 1e-9)) for k in (0, 1)]
        last = [int((within[k + 2] - self.box[k] - size[k]) / CELL + 1e-9) for k in (0, 1)]
        return np.arange(first[0], last[0] + 1), np.arange(first[1], last[1] + 1)

    def _least_inside(
        self, row: NDArray[np.int_], column: NDArray[np.int_], size: tuple[float, float], small: tuple[float, float]
    ) -> NDArray[np.float64]:
        """For boxes that begin at rows and columns, the ink of the emptiest small box within each."""
        up, across = (int((size[k] - small[k]) / CELL) for k in (1, 0))
        rows, columns = np.arange(row[0], row[-1] + up + 1), np.arange(column[0], column[-1] + across + 1)
        held = self._held(rows[:, None], columns, small, CELL)
        least = np.lib.stride_tricks.sliding_window_view(held, up + 1, axis=0).min(axis=-1)
        emptiest: NDArray[np.float64] = np.lib.stride_tricks.sliding_window_view(least, across + 1, axis=1).min(axis=-1)
        return emptiest

    def _held(
        self, row: NDArray[np.int_], column: NDArray[np.int_], size: tuple[float, float], clear: float
    ) -> NDArray[np.float64]:
        """The ink in boxes whose lower left squares are given, and round them."""
        sums = np.pad(self.amount.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
        more = int(np.ceil(clear / CELL))
        columns, rows = (int(np.ceil(side / CELL)) for side in size)
        low, west = np.maximum(row - more, 0), np.maximum(column - more, 0)
        high = np.minimum(row + rows + more, sums.shape[0] - 1)
        east = np.minimum(column + columns + more, sums.shape[1] - 1)
        held: NDArray[np.float64] = sums[high, east] - sums[low, east] - sums[high, west] + sums[low, west]
        return held


def ink_of(drawing: Drawing, box: Box) -> Ink:
    """The ink of a drawing inside a box: length of lines in mm, and what texts cover."""
    columns, rows = int(np.ceil((box[2] - box[0]) / CELL)), int(np.ceil((box[3] - box[1]) / CELL))
    amount = np.zeros((rows, columns))
    for item in drawing.items:
        places, weight = covered(item)
        index = np.floor((places - box[:2]) / CELL).astype(int)
        held = ((index >= 0) & (index < (columns, rows))).all(axis=1)
        np.add.at(amount, (index[held, 1], index[held, 0]), weight)
    return Ink(box, amount)


def covered(item: Item) -> tuple[NDArray[np.float64], float]:
    """Places (N, 2) about 1 mm apart that an item covers, and what each weighs."""
    if isinstance(item, Text):
        first, second, _, last = item.box
        across, up = np.mgrid[0:1:12j, 0:1:4j].reshape(2, -1, 1)
        places: NDArray[np.float64] = first + across * (second - first) + up * (last - first)
        return places, TEXT_WEIGHT
    along = distances(item.points)
    stations = np.arange(0.0, along[-1] + 1.0, 1.0)
    return np.column_stack([np.interp(stations, along, item.points[:, axis]) for axis in (0, 1)]), 1.0
