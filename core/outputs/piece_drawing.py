"""The drawing of one finished piece, in its own frame and at full size.

Texts are sized for the paper: at a smaller scale of print they are drawn larger here, so that they stay readable.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, hypot, pi, remainder, sin, tau
from typing import Final

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from core.finishing.finish import Finished
from core.finishing.notches import Notch
from core.geometry.planar import distance_between
from core.geometry.polyline import Point, Points, as_point, as_points, between, length, nearest, point_at, tangent_at
from core.outputs.drawing import GLYPH_WIDTH, Drawing, Item, Role, Stroke, Text
from core.outputs.edge_strips import edge_strips
from core.outputs.edge_words import arrow_head, edge_words
from core.outputs.piece_label import label_spot, piece_label
from core.pieces.names import spoken
from core.pieces.records import Edge

NOTCH_DEPTH: Final = 5.0
"""A notch is cut about 5 mm deep, and never through the allowance (trade.md D2)."""

NOTCH_SHARE: Final = 0.5
OUTSIDE_TICK: Final = 3.5
LEAST_NOTCHED: Final = 5.0
"""On an edge without allowance a notch is a tick outside the edge, never a cut (trade.md D2); so it is on one with less
than the depth of a notch."""

DRILL_INSIDE: Final = 12.7
DRILL: Final = 1.2
"""The hole for a dart's end lies 1/2 in inside it, so that sewing covers it (a factory pattern-maker's page, C2); the
radius of its ring, in mm."""

DOUBLE: Final = 6.0
"""The two ticks of a double notch stand so far apart, in mm (common practice)."""

HOLLOW: Final = 20.0
"""Degrees: a corner more hollow than this is clipped when it is turned."""

TEXTS_GROW: Final = 0.6
"""On a smaller print texts and arrows take more of a piece, yet grow smaller: this power of how much smaller it is."""

LINE_NAME: Final = 2.2
NAME_FROM_END: Final = 22.0
"""Size of a line's name, and how far it keeps from the line's end, in mm on paper."""

CLEAR: Final = 1.0
"""So far (mm on paper) a line's name keeps from other words."""


def piece_drawing(finished: Finished) -> Drawing:
    """The whole drawing of a piece, label included."""
    lines = piece_lines(finished)
    return lines + piece_label(finished, *label_spot(finished, lines))


def piece_lines(finished: Finished, *, scale: float = 1.0) -> Drawing:
    """Stitching and cutting line, darts, marks, notches, grain, and what each edge meets; `scale` is that of print."""
    size = scale**-TEXTS_GROW
    words = (*edge_words(finished, size), *edge_strips(finished, size))
    return Drawing(
        (
            *_marks(finished, size, [item.box for item in words if isinstance(item, Text)]),
            *_darts(finished),
            *_drills(finished),
            *_edges(finished),
            *_cutting_line(finished),
            *_notches(finished),
            *_clips(finished),
            *_grain(finished, size),
            *words,
        )
    )


# --------------------------------------------------------------------------------------------------------------
# lines


def _edges(finished: Finished) -> Iterator[Stroke]:
    for edge in finished.piece.edges:
        if edge.kind != "fold":
            yield Stroke(edge.points, "dart base" if edge.kind == "dart base" else "stitching line")


def _cutting_line(finished: Finished) -> Iterator[Stroke]:
    """The cutting line; the part that runs along a fold is drawn as the fold, for it is not to be cut."""
    line = finished.cutting_line
    folded = np.zeros(len(line) - 1, dtype=bool)
    for edge in finished.piece.edges:
        if edge.kind == "fold":
            folded |= _along_line(line, edge.points)
    ends = [0, *(np.flatnonzero(np.diff(folded)) + 1), len(folded)]
    for first, last in pairwise(ends):
        yield Stroke(as_points(line[first : last + 1]), "fold" if folded[first] else "cutting line")


def _along_line(path: Points, straight: Points) -> NDArray[np.bool_]:
    """Which segments of a path (N, 2) run along the straight line through another's ends, shape (N - 1,)."""
    (dx, dy), offs = straight[-1] - straight[0], path - straight[0]
    on: NDArray[np.bool_] = np.abs(dx * offs[:, 1] - dy * offs[:, 0]) / hypot(dx, dy) < 1e-6
    return np.logical_and(on[:-1], on[1:])


def _darts(finished: Finished) -> Iterator[Stroke]:
    for dart in finished.piece.darts:
        yield Stroke(as_points((dart.legs[0], dart.point, dart.legs[1])), "dart")


def _drills(finished: Finished) -> Iterator[Stroke]:
    """A small ring in every dart, 1/2 in short of where its sewing ends: there the awl goes through."""
    for dart in finished.piece.darts:
        middle = np.array(dart.mouth) - dart.point
        reach = float(np.hypot(*middle))
        if reach > 2 * DRILL_INSIDE:
            x, y = np.array(dart.point) + DRILL_INSIDE / reach * middle
            ring = [(x + DRILL * cos(turn), y + DRILL * sin(turn)) for turn in np.linspace(0.0, tau, 13)]
            yield Stroke(as_points(ring), "mark")


def _marks(finished: Finished, size: float, taken: Sequence[Points]) -> Iterator[Item]:
    """Lines drawn on the piece, with their names where they are long enough; lines of whole circles have none."""
    for line in finished.piece.lines:
        role: Role = "level" if line.purpose == "level" else "mark"
        yield from (Stroke(stretch, role) for stretch in line.stretches)
        first = line.stretches[0]
        if not line.name.endswith("circle") and length(first) > 2.5 * NAME_FROM_END * size:
            yield _line_name(first, spoken(line.name), size, taken)


def _line_name(path: Points, name: str, size: float, taken: Sequence[Points]) -> Text:
    """A line's name near its first end, or farther on where other words lie there."""
    places = (NAME_FROM_END * size, *(share * length(path) for share in (0.3, 0.5, 0.65)))
    found = [_along(path, place, LINE_NAME * size, name) for place in places]
    clear = (text for text in found if all(distance_between(text.box, box) > CLEAR * size for box in taken))
    return next(clear, found[0])


def _along(path: Points, distance: float, height: float, text: str) -> Text:
    """A text that begins just above a line, at a distance from its first point, clear of it where it bends."""
    x, y = point_at(path, distance)
    way = tangent_at(path, distance)
    backwards = cos(way) < 0.0
    angle = way + pi if backwards else way
    beside = between(path, distance, min(distance + GLYPH_WIDTH * height * len(text), length(path)))
    off = 0.35 * height + float(((beside - (x, y)) @ (-sin(angle), cos(angle))).max())
    place = (x - off * sin(angle), y + off * cos(angle))
    return Text(place, height, text, "edge name", remainder(angle, tau), "end" if backwards else "start")


def _grain(finished: Finished, size: float) -> Iterator[Item]:
    first, last = finished.grain
    yield Stroke(as_points(finished.grain), "grain")
    way = atan2(last[1] - first[1], last[0] - first[0])
    yield arrow_head(first, way + pi, 5.0 * size, "grain")
    yield arrow_head(last, way, 5.0 * size, "grain")


# --------------------------------------------------------------------------------------------------------------
# notches and clips


def _notches(finished: Finished) -> Iterator[Stroke]:
    """A tick for every notch, two beside each other for a double one."""
    for notch in finished.notches:
        edge = finished.piece.edge(notch.edge)
        for shift in (-DOUBLE / 2, DOUBLE / 2) if notch.is_double else (0.0,):
            at = min(max(notch.at + shift, 0.0), edge.length)
            yield _tick(finished, edge, replace(notch, at=at))


def _tick(finished: Finished, edge: Edge, notch: Notch) -> Stroke:
    """A cut in from the cutting line, or a tick outside it where the allowance has no room for a cut."""
    allowance = finished.edges[edge.name].allowance_at(notch.at)
    place, out = point_at(edge.points, notch.at), _notch_direction(finished, edge, notch)
    outer = _to_cutting_line(finished, place, out, allowance) if allowance > 0.0 else 0.0
    if allowance < LEAST_NOTCHED:
        inner, outer = outer, outer + OUTSIDE_TICK
    else:
        inner = outer - min(NOTCH_DEPTH, NOTCH_SHARE * allowance)
    return Stroke(
        as_points([(place[0] + reach * out[0], place[1] + reach * out[1]) for reach in (inner, outer)]), "notch"
    )


def _notch_direction(finished: Finished, edge: Edge, notch: Notch) -> Point:
    """Square out of the edge; at a corner halfway between both edges' normals, at a dart's end on along the leg."""
    for dart in finished.piece.darts:
        if dart.base == edge.name:
            leg = dart.legs[0 if notch.at < edge.length / 2 else 1]
            way = atan2(leg[1] - dart.point[1], leg[0] - dart.point[0])
            return (cos(way), sin(way))
    before, after = finished.piece.neighbours(edge.name)
    ways = [tangent_at(edge.points, notch.at) if notch.at < edge.length - AT_CORNER else _last_tangent(edge)]
    if notch.at <= AT_CORNER:
        ways.append(_last_tangent(before))
    elif notch.at >= edge.length - AT_CORNER:
        ways.append(tangent_at(after.points, 0.0))
    x, y = sum(sin(way) for way in ways), -sum(cos(way) for way in ways)
    return (x / hypot(x, y), y / hypot(x, y))


AT_CORNER: Final = 1e-3


def _to_cutting_line(finished: Finished, place: Point, out: Point, allowance: float) -> float:
    """How far (mm) the cutting line lies from a place in a direction; the allowance where it is not met at all."""
    start, way = np.array(place), np.array(out)
    ends = finished.cutting_line - start
    a, b = ends[:-1], ends[1:]
    aside_a, aside_b = way[0] * a[:, 1] - way[1] * a[:, 0], way[0] * b[:, 1] - way[1] * b[:, 0]
    crossed = (aside_a <= 0.0) != (aside_b <= 0.0)
    share = aside_a[crossed] / (aside_a[crossed] - aside_b[crossed])
    reach = ((a[crossed] + share[:, None] * (b[crossed] - a[crossed])) @ way).tolist()
    return min((r for r in reach if 0.5 * allowance < r < 4.0 * allowance), default=allowance)


def _clips(finished: Finished) -> Iterator[Stroke]:
    """A tick from the cutting line towards every hollow corner, stopping 2 mm short of it."""
    edges = finished.piece.edges
    for before, after in pairwise((edges[-1], *edges)):
        turn = remainder(tangent_at(after.points, 0.0) - _last_tangent(before), tau)
        if turn < -HOLLOW * pi / 180 and _corner_allowance(finished, before, after) > 3.0:
            corner = as_point(after.points[0])
            along, off = nearest(finished.cutting_line, corner)
            outer = point_at(finished.cutting_line, along)
            share = 2.0 / max(off, 2.0)
            inner = (corner[0] + share * (outer[0] - corner[0]), corner[1] + share * (outer[1] - corner[1]))
            yield Stroke(as_points((outer, inner)), "clip")


def _corner_allowance(finished: Finished, before: Edge, after: Edge) -> float:
    """The smaller of two edges' allowances where they meet, in mm."""
    return min(finished.edges[before.name].stretches[-1].allowance, finished.edges[after.name].stretches[0].allowance)


def _last_tangent(edge: Edge) -> float:
    dx, dy = edge.points[-1] - edge.points[-2]
    return atan2(dy, dx)
