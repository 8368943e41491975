"""How pages are joined: a strip to glue on, an edge to trim, and numbered half diamonds that only fit their other half.

A page is laid over the glue strip of the one to its left and of the one above it, its own left and upper edge trimmed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import pi
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.geometry.polyline import Point, as_points
from core.outputs.drawing import Box, Drawing, Fill, Item, Stroke, Text, box_loop
from core.outputs.ink import covered
from core.outputs.papers import OVERLAP, Paper, live_box
from core.outputs.sheet import Tile

Edge: TypeAlias = Literal["left", "right", "top", "bottom"]

DIAMOND: Final = 5.0
"""Half the width of a joining mark in mm."""

PLACES: Final = (0.28, 0.72)
"""Where a joint's two marks lie, as shares of its length."""

SHIFT: Final = 9.0
"""Marks are shifted from joint to joint by this (mm), so that a wrong neighbour does not fit."""

NUMBER: Final = 3.2
WORDS_SIZE, SMALL_WORDS = 3.0, 2.1
CLEAR: Final = 1.5
FROM_END: Final = 22.0
"""Marks keep so far (mm) from lines where they can, and from the corners of the page."""


class Joint(msgspec.Struct, frozen=True):
    """One side of a joint on a page: which edge, its marks as (mm from the live area's lower left, number), the mate.

    `mate` is the label of the page that comes there.
    """

    edge: Edge
    marks: tuple[tuple[float, int], ...]
    mate: str = ""


def joints_of(tiles: Sequence[Tile], paper: Paper, drawn: Mapping[int, Drawing]) -> Mapping[str, tuple[Joint, ...]]:
    """The joints of every tile, by its label. Both pages at a joint carry the same marks at the same places.

    `drawn` holds what lies on each sheet, by its number, in full-size mm: marks keep clear of it where they can.
    """
    by_place = {(tile.sheet.number, tile.column, tile.row): tile for tile in tiles}
    found: dict[str, list[Joint]] = {tile.label: [] for tile in tiles}
    number = 1
    for (sheet, column, row), tile in by_place.items():
        sides: list[tuple[Edge, Edge, tuple[int, int, int]]] = [
            ("right", "left", (sheet, column + 1, row)),
            ("bottom", "top", (sheet, column, row + 1)),
        ]
        for edge, opposite, place in sides:
            mate = by_place.get(place)
            if mate is not None:
                marks = _marks(number, _crossed(mate.box, opposite, drawn[sheet], paper))
                found[tile.label].append(Joint(edge, marks, mate.label))
                found[mate.label].append(Joint(opposite, marks, tile.label))
                number += len(marks)
    return {label: tuple(joints) for label, joints in found.items()}


def _crossed(box: Box, edge: Edge, drawn: Drawing, paper: Paper) -> NDArray[np.bool_]:
    """Whether a mark at each mm on paper along the left or upper edge of a tile's box would lie on what is drawn."""
    across, along = (0, 1) if edge == "left" else (1, 0)
    line = box[0] if edge == "left" else box[3]
    scale = paper.live[along] / (box[along + 2] - box[along])
    crossed = np.zeros(int(paper.live[along]) + 1, dtype=bool)
    for item in drawn.items:
        places = covered(item)[0]
        near = places[np.abs(places[:, across] - line) * scale <= DIAMOND + CLEAR, along]
        here = np.rint((near - box[along]) * scale).astype(int)
        crossed[here[(here >= 0) & (here < len(crossed))]] = True
    reach = int(DIAMOND + CLEAR)
    return np.convolve(crossed, np.ones(2 * reach + 1), mode="same") > 0.0


def _marks(number: int, crossed: NDArray[np.bool_]) -> tuple[tuple[float, int], ...]:
    """Two marks with their numbers, near their places but clear of what is drawn; on their places where nothing is."""
    length = len(crossed) - 1
    shift = SHIFT * ((number // 2) % 4 - 1.5)
    free = np.flatnonzero(~crossed[int(FROM_END) : length - int(FROM_END)]) + int(FROM_END)
    marks = []
    for index, share in enumerate(PLACES):
        wanted = share * length + shift
        half = free[(free < length / 2) == (share < 0.5)]
        place = float(half[np.argmin(np.abs(half - wanted))]) if len(half) else wanted
        marks.append((place, number + index))
    return tuple(marks)


def glue_strips(joints: Sequence[Joint], paper: Paper) -> Iterator[Item]:
    """The strips on which the pages to the right and below are glued."""
    left, bottom, right, top = live_box(paper)
    for joint in joints:
        if joint.edge == "right":
            yield Fill(box_loop((right - OVERLAP, bottom, right, top)), "glue strip")
        if joint.edge == "bottom":
            yield Fill(box_loop((left, bottom, right, bottom + OVERLAP)), "glue strip")


def frame(joints: Sequence[Joint], paper: Paper) -> Iterator[Item]:
    """The border of the live area, and over it the lines to trim along."""
    box = live_box(paper)
    yield Stroke(box_loop(box), "frame", closed=True)
    for joint in joints:
        if joint.edge in ("left", "top"):
            yield Stroke(as_points(_ends(joint.edge, box)), "trim line")


def joining_words(joints: Sequence[Joint], paper: Paper) -> Iterator[Item]:
    """On each strip the page that is glued there; in the bare margin, what is trimmed off."""
    left, bottom, right, top = live_box(paper)
    base = 0.36 * WORDS_SIZE
    for joint in joints:
        words = f"glue page {joint.mate} here"
        if joint.edge == "right":
            yield Text((right - OVERLAP / 2 + base, (bottom + top) / 2), WORDS_SIZE, words, "joining words", pi / 2)
        if joint.edge == "bottom":
            yield Text(((left + right) / 2, bottom + OVERLAP / 2 - base), WORDS_SIZE, words, "joining words")
    trimmed = [joint.edge for joint in joints if joint.edge in ("left", "top")]
    if trimmed:
        words = f"trim off: {' and '.join(trimmed)}"
        yield Text((left - 0.8, top), SMALL_WORDS, words, "joining words", pi / 2, "end")


def joining_marks(joints: Sequence[Joint], paper: Paper) -> Iterator[Item]:
    """The half diamonds of a page with their numbers."""
    left, bottom, right, top = live_box(paper)
    for joint in joints:
        for distance, number in joint.marks:
            if joint.edge in ("left", "right"):
                x, inward = (left, 1.0) if joint.edge == "left" else (right - OVERLAP, -1.0)
                yield from _half((x, bottom + distance), (inward, 0.0), number)
            else:
                y, inward = (top, -1.0) if joint.edge == "top" else (bottom + OVERLAP, 1.0)
                yield from _half((left + distance, y), (0.0, inward), number)


def _half(place: Point, inward: Point, number: int) -> Iterator[Item]:
    """Half a diamond on the joint's line at a place, its point inwards, with its number at the point."""
    (x, y), (dx, dy) = place, inward
    first, last = (x - DIAMOND * dy, y - DIAMOND * dx), (x + DIAMOND * dy, y + DIAMOND * dx)
    yield Stroke(as_points((first, (x + DIAMOND * dx, y + DIAMOND * dy), last)), "joining mark", closed=True)
    at = (x + 0.38 * DIAMOND * dx, y + 0.38 * DIAMOND * dy - 0.36 * NUMBER)
    yield Text(at, NUMBER * (1.0 if number < 10 else 0.75), str(number), "joining mark")


def _ends(edge: Edge, box: Box) -> tuple[Point, Point]:
    left, bottom, right, top = box
    ends: dict[Edge, tuple[Point, Point]] = {
        "left": ((left, bottom), (left, top)),
        "right": ((right, bottom), (right, top)),
        "top": ((left, top), (right, top)),
        "bottom": ((left, bottom), (right, bottom)),
    }
    return ends[edge]
