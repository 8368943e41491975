"""A piece's label: number, name, fabric and count, where the piece has most room for them."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, pi, sin
from typing import Final

from core.finishing.finish import Finished
from core.geometry.planar import roomiest
from core.geometry.polyline import Point
from core.outputs.drawing import GLYPH_WIDTH, Box, Drawing, Text
from core.pieces.outline import wedge_of

LARGEST_LABEL, SMALLEST_LABEL = 7.0, 2.2
"""Sizes of the label's first line, in mm on paper."""

LINE_STEP: Final = 1.45
SMALLER: Final = 0.62
"""The lines under a label's first are smaller by this."""

LABEL_CLEAR: Final = 1.5
"""A label keeps this far (mm on paper) from lines."""

ENOUGH_ROOM: Final = 20.0
"""A radius (mm on paper) that holds a whole label in a good size."""


def piece_label(finished: Finished, at: Point, room: float, *, scale: float = 1.0, short: bool = False) -> Drawing:
    """Number, name, fabric and count round a place with `room` mm of clear radius, along the grain.

    In a small piece the name stands under the number in two lines. Where there is room for no more, or in `short`,
    the number and name alone; where there is not even that, the number.
    """
    name, number = f"{finished.number}  {finished.name}", str(finished.number)
    halves, fabric = in_two(finished.name), finished.fabric
    cloth = f"{fabric.name}: {fabric.cloth}" if fabric.cloth else fabric.name
    whole = [[name, cloth, finished.count], [number, *halves, fabric.cloth or fabric.name, finished.count]]
    blocks = [*([] if short else whole), [name], [number, *halves], [number]]
    lines = next((block for block in blocks if _fitting(block, room) * scale >= SMALLEST_LABEL), blocks[-1])
    height = min(LARGEST_LABEL / scale, _fitting(lines, room))
    return Drawing(tuple(_lines(lines, at, height, finished.piece.grain - pi / 2)))


def in_two(name: str) -> tuple[str, ...]:
    """A name in two lines, as nearly of one length as its words allow; in one where it is one word."""
    words = name.split()
    splits = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    return min(splits, key=lambda lines: max(map(len, lines)), default=(name,))


def label_spot(
    finished: Finished, lines: Drawing, *, box: Box | None = None, scale: float = 1.0
) -> tuple[Point, float]:
    """Where a piece, or its part in a box, has most room for a label, and the radius of that room in mm.

    Clear of its darts and of what `lines` draws, of level lines too where that leaves room for the whole label.
    """
    wedges = [wedge_of(finished.piece, dart) for dart in finished.piece.darts]
    blocked = [*wedges, *(text.box for text in lines.texts())]
    drawn = [stroke.points for stroke in lines.strokes("grain", "join arrow", "mark")]
    levels = [stroke.points for stroke in lines.strokes("level")]
    loop, clear = finished.piece.loop, LABEL_CLEAR / scale
    at, room = roomiest(loop, blocked, lines=[*drawn, *levels], clear=clear, box=box)
    if room * scale >= ENOUGH_ROOM:
        return at, room
    return roomiest(loop, blocked, lines=drawn, clear=clear, box=box)


def _fitting(lines: list[str], room: float) -> float:
    """The height of the first line at which the block fits into a circle of radius `room`."""
    wide = max(GLYPH_WIDTH * len(line) * (SMALLER if index else 1.0) for index, line in enumerate(lines))
    high = 1.0 + (len(lines) - 1) * LINE_STEP * SMALLER
    return 2.0 * room / hypot(wide, high)


def _lines(lines: list[str], at: Point, height: float, angle: float) -> Iterator[Text]:
    down = (sin(angle), -cos(angle))
    total = height * (len(lines) - 1) * LINE_STEP * SMALLER
    for index, line in enumerate(lines):
        below = height * 0.35 + index * height * LINE_STEP * SMALLER - total / 2
        place = (at[0] + below * down[0], at[1] + below * down[1])
        yield Text(place, height * (SMALLER if index else 1.0), line, "label", angle)
