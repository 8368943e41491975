"""What is drawn beside an edge from one place to another: bones, turning gaps, the waist stay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, remainder, sin, tau
from typing import Final

import numpy as np

from core.finishing.edge_marks import EdgeMark
from core.finishing.finish import Finished
from core.finishing.notches import Mate
from core.geometry.polyline import Points, as_points, between, point_at, tangent_at
from core.outputs.drawing import GLYPH_WIDTH, Item, Stroke, Text
from core.pieces.records import Edge

INSIDE: Final = 3.0
BEHIND_NAME: Final = 6.0
"""A strip runs so far inside its edge, in mm on paper; behind the edge's name where it has one."""

BAR: Final = 2.0
"""Half the length of the bars at its ends, in mm on paper."""

WORDS: Final = 2.4


def edge_strips(finished: Finished, size: float) -> Iterator[Item]:
    """A line inside the edge for every mark, a bar at both ends and its words where it has room for them."""
    for mark in finished.marks:
        met = finished.mates.get(mark.edge, ())
        yield from _strip(finished.piece.edge(mark.edge), mark, met, inside=INSIDE if met else BEHIND_NAME, size=size)


def _strip(edge: Edge, mark: EdgeMark, met: Sequence[Mate], *, inside: float, size: float) -> Iterator[Item]:
    yield Stroke(_beside(edge, mark, inside * size), "mark")
    for at in (mark.start, mark.stop):
        way = tangent_at(edge.points, min(at, edge.length - 1e-6)) + pi / 2
        (x, y), reach = point_at(edge.points, at), (inside - BAR, inside + BAR)
        yield Stroke(as_points([(x + r * size * cos(way), y + r * size * sin(way)) for r in reach]), "mark")
    if GLYPH_WIDTH * WORDS * size * len(mark.words) < mark.stop - mark.start:
        yield _words(edge, mark, _word_place(mark, met, size), inside=inside, size=size)


def _beside(edge: Edge, mark: EdgeMark, inside: float) -> Points:
    """The stretch of an edge moved inwards, point by point."""
    path = between(edge.points, mark.start, mark.stop)
    ways = np.gradient(path, axis=0)
    units = ways / np.hypot(*ways.T)[:, None]
    return as_points(path + inside * np.column_stack((-units[:, 1], units[:, 0])))


def _word_place(mark: EdgeMark, met: Sequence[Mate], size: float) -> float:
    """Where along the edge (mm) a mark's words are farthest from the arrows to the edge's mates."""
    half = GLYPH_WIDTH * WORDS * size * len(mark.words) / 2
    places = np.linspace(mark.start + half, mark.stop - half, 5).tolist()
    arrows = [(mate.start + mate.stop) / 2 for mate in met]
    return float(max(places, key=lambda place: min((abs(place - arrow) for arrow in arrows), default=0.0)))


def _words(edge: Edge, mark: EdgeMark, along: float, *, inside: float, size: float) -> Text:
    """On the inner side of the strip, never upside down."""
    (x, y), way = point_at(edge.points, along), tangent_at(edge.points, along)
    upside_down = not -pi / 2 < remainder(way, tau) <= pi / 2 + 1e-9
    off = (inside + (1.3 if upside_down else 0.5) * WORDS) * size
    at = (x + off * cos(way + pi / 2), y + off * sin(way + pi / 2))
    return Text(at, WORDS * size, mark.words, "edge name", remainder(way + (pi if upside_down else 0.0), tau))
