"""The two test squares of every page, at true size whatever the scale, in the emptiest place of the page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.geometry.polyline import Point, distances
from core.outputs.drawing import Box, Drawing, Item, Stroke, Text, box_loop

SIDE: Final = 100.0
SIDE_IN_INCHES: Final = 101.6
"""4 in; the international inch is exactly 25.4 mm."""

CELL: Final = 2.0
"""Ink is counted in squares of this size in mm."""

WORDS: Final = (
    "Measure both squares, across and up. Solid: 100 mm. Dashed: 4 in.",
    "100 reads 100: right. Reads 94 to 97: turn off “Fit”, print anew.",
    "Reads anything else: print at 100 %, also called actual size.",
)
SIZE: Final = 2.5
LABEL_SIZE: Final = 11.0
BLOCK: Final = (78.0, 25.0)
"""Width and height in mm of the words with the page's label over them."""


@dataclass(frozen=True, eq=False, slots=True)
class Ink:
    """How much is drawn in each square of a box, shape (rows, columns), rows from below."""

    box: Box
    amount: NDArray[np.float64]

    def emptiest(self, size: tuple[float, float], within: Box) -> Point:
        """The lower left corner, inside `within`, of the box of a size (mm) that holds least ink."""
        left, bottom = (int(np.ceil((within[k] - self.box[k]) / CELL - 1e-9)) for k in (0, 1))
        columns, rows = (int(np.ceil(side / CELL)) for side in size)
        right, top = (int((within[k + 2] - self.box[k] - size[k]) / CELL + 1e-9) for k in (0, 1))
        sums = np.pad(self.amount.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
        row, column = np.mgrid[bottom : top + 1, left : right + 1]
        high, wide = np.minimum(row + rows, sums.shape[0] - 1), np.minimum(column + columns, sums.shape[1] - 1)
        held = sums[high, wide] - sums[row, wide] - sums[high, column] + sums[row, column]
        best = np.unravel_index(np.argmin(np.round(held, 6)), held.shape)
        return (self.box[0] + CELL * float(column[best]), self.box[1] + CELL * float(row[best]))


def ink_of(drawing: Drawing, box: Box) -> Ink:
    """The ink of a drawing inside a box: length of lines in mm, and what texts cover."""
    columns, rows = int(np.ceil((box[2] - box[0]) / CELL)), int(np.ceil((box[3] - box[1]) / CELL))
    amount = np.zeros((rows, columns))
    for item in drawing.items:
        places, weight = _covered(item)
        index = np.floor((places - box[:2]) / CELL).astype(int)
        held = ((index >= 0) & (index < (columns, rows))).all(axis=1)
        np.add.at(amount, (index[held, 1], index[held, 0]), weight)
    return Ink(box, amount)


def _covered(item: Item) -> tuple[NDArray[np.float64], float]:
    """Places (N, 2) about 1 mm apart that an item covers, and what each weighs."""
    if isinstance(item, Text):
        first, second, _, last = item.box
        across, up = np.mgrid[0:1:12j, 0:1:4j].reshape(2, -1, 1)
        covered: NDArray[np.float64] = first + across * (second - first) + up * (last - first)
        return covered, 4.0
    along = distances(item.points)
    stations = np.arange(0.0, along[-1] + 1.0, 1.0)
    return np.column_stack([np.interp(stations, along, item.points[:, axis]) for axis in (0, 1)]), 1.0


def squares(ink: Ink, live: Box, label: str, notes: Sequence[str]) -> Drawing:
    """Both squares where the page is emptiest, the words how to read them, the page's label, and further notes."""
    left, bottom = ink.emptiest((SIDE_IN_INCHES, SIDE_IN_INCHES), live)
    solid = (left, bottom, left + SIDE, bottom + SIDE)
    dashed = (left, bottom, left + SIDE_IN_INCHES, bottom + SIDE_IN_INCHES)
    inner = (left + 4.0, bottom + 4.0, left + SIDE - 2.0, bottom + SIDE - 2.0)
    at = ink.emptiest((BLOCK[0], BLOCK[1] + 3.4 * len(notes)), inner)
    return Drawing(
        (
            Stroke(box_loop(solid), "test square", closed=True),
            Stroke(box_loop(dashed), "test square in inches", closed=True),
            *_words(at, label, notes),
        )
    )


def _words(at: Point, label: str, notes: Sequence[str]) -> Iterator[Text]:
    x, y = at
    lines = (*WORDS, *notes)
    for index, line in enumerate(reversed(lines)):
        yield Text((x, y + 0.8 + index * 1.36 * SIZE), SIZE, line, "test words", anchor="start")
    top = y + 0.8 + len(lines) * 1.36 * SIZE
    yield Text((x, top + 1.0), LABEL_SIZE, label, "page label", anchor="start")
