"""The drawing of one finished piece, in its own frame and at full size.

Texts are sized for the paper: at a smaller scale of print they are drawn larger here, so that they stay readable.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import atan2, cos, hypot, pi, remainder, sin, tau
from typing import Final

import numpy as np

from core.finishing.finish import Finished
from core.finishing.notches import Notch
from core.geometry.polyline import Point, Points, as_point, as_points, length, nearest, point_at, tangent_at
from core.outputs.drawing import GLYPH_WIDTH, Anchor, Drawing, Item, Role, Stroke, Text
from core.pieces.records import Edge

NOTCH_DEPTH: Final = 5.0
"""A notch is cut about 5 mm deep, and never through the allowance (trade.md D2)."""

NOTCH_SHARE: Final = 0.5
OUTSIDE_TICK: Final = 3.5
"""On an edge without allowance a notch is a tick outside the edge, never a cut (trade.md D2)."""

HOLLOW: Final = 20.0
"""Degrees: a corner more hollow than this is clipped when it is turned."""

LARGEST_LABEL, SMALLEST_LABEL = 7.0, 2.2
EDGE_NAME: Final = 2.8
LEVEL_NAME: Final = 2.2
MATE_NUMBER: Final = 4.0
ARROW: Final = 9.0
"""Sizes of texts and of the join arrow in mm on paper."""

SHORT_EDGE: Final = 24.0
"""An edge shorter than this (mm on paper) has room for neither arrow nor name."""


def piece_drawing(finished: Finished) -> Drawing:
    """The whole drawing of a piece, label included."""
    return piece_lines(finished) + piece_label(finished, finished.label, finished.room)


def piece_lines(finished: Finished, *, scale: float = 1.0) -> Drawing:
    """Stitching and cutting line, darts, marks, notches, grain, and what each edge meets; `scale` is that of print."""
    return Drawing(
        (
            *_marks(finished, 1.0 / scale),
            *_darts(finished),
            *_edges(finished),
            Stroke(finished.cutting_line, "cutting line"),
            *_notches(finished),
            *_clips(finished),
            *_grain(finished, 1.0 / scale),
            *_edge_words(finished, 1.0 / scale),
        )
    )


def piece_label(finished: Finished, at: Point, room: float, *, scale: float = 1.0, short: bool = False) -> Drawing:
    """Number, name, fabric and count round a place with `room` mm of clear radius, along the grain.

    Where there is room for no more, or in `short`, the number and name alone; where there is not even that, the number.
    """
    name, number = f"{finished.number}  {finished.name}", str(finished.number)
    fabric = finished.fabric
    cloth = f"{fabric.name}: {fabric.cloth}" if fabric.cloth else fabric.name
    blocks = ([name, cloth, finished.count], [name], [number])[1 if short else 0 :]
    lines = next((block for block in blocks if _fitting(block, room) * scale >= SMALLEST_LABEL), blocks[-1])
    height = min(LARGEST_LABEL / scale, _fitting(lines, room))
    return Drawing(tuple(_lines(lines, at, height, finished.piece.grain - pi / 2)))


LINE_STEP: Final = 1.45
SMALLER: Final = 0.62
"""The lines under a label's first are smaller by this."""


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


# --------------------------------------------------------------------------------------------------------------
# lines


def _edges(finished: Finished) -> Iterator[Stroke]:
    roles: dict[str, Role] = {"fold": "fold", "dart base": "dart base"}
    for edge in finished.piece.edges:
        yield Stroke(edge.points, roles.get(edge.kind, "stitching line"))


def _darts(finished: Finished) -> Iterator[Stroke]:
    for dart in finished.piece.darts:
        yield Stroke(as_points((dart.legs[0], dart.point, dart.legs[1])), "dart")


def _marks(finished: Finished, size: float) -> Iterator[Item]:
    """Lines drawn on the piece; levels carry their names."""
    for line in finished.piece.lines:
        role: Role = "level" if line.purpose == "level" else "mark"
        yield from (Stroke(stretch, role) for stretch in line.stretches)
        first = line.stretches[0]
        if role == "level" and not line.name.endswith("circle") and length(first) > 20.0 * size:
            yield _along(first, min(6.0 * size, length(first) / 4), LEVEL_NAME * size, _spoken(line.name))


def _along(path: Points, distance: float, height: float, text: str) -> Text:
    """A text that begins just above a line, at a distance from its first point."""
    x, y = point_at(path, distance)
    way = tangent_at(path, distance)
    backwards = cos(way) < 0.0
    angle = way + pi if backwards else way
    off = 0.35 * height
    place = (x - off * sin(angle), y + off * cos(angle))
    return Text(place, height, text, "edge name", remainder(angle, tau), "end" if backwards else "start")


def _spoken(name: str) -> str:
    return name.rsplit(".", 1)[-1].replace("_", " ")


def _grain(finished: Finished, size: float) -> Iterator[Item]:
    first, last = finished.grain
    yield Stroke(as_points(finished.grain), "grain")
    way = atan2(last[1] - first[1], last[0] - first[0])
    yield _arrow_head(first, way + pi, 5.0 * size, "grain")
    yield _arrow_head(last, way, 5.0 * size, "grain")


def _arrow_head(tip: Point, way: float, size: float, role: Role) -> Stroke:
    sides = [(tip[0] - size * cos(way + turn), tip[1] - size * sin(way + turn)) for turn in (0.35, -0.35)]
    return Stroke(as_points((sides[0], tip, sides[1])), role)


# --------------------------------------------------------------------------------------------------------------
# notches and clips


def _notches(finished: Finished) -> Iterator[Stroke]:
    for notch in finished.notches:
        edge = finished.piece.edge(notch.edge)
        allowance = finished.allowances[edge.name]
        place, out = point_at(edge.points, notch.at), _notch_direction(finished, edge, notch)
        if allowance == 0.0:
            inner, outer = 0.0, OUTSIDE_TICK
        else:
            outer = _to_cutting_line(finished, place, out, allowance)
            inner = outer - min(NOTCH_DEPTH, NOTCH_SHARE * allowance)
        ends = [(place[0] + reach * out[0], place[1] + reach * out[1]) for reach in (inner, outer)]
        yield Stroke(as_points(ends), "notch")


def _notch_direction(finished: Finished, edge: Edge, notch: Notch) -> Point:
    """Square out of the edge; at a dart's end, on along the leg."""
    for dart in finished.piece.darts:
        if dart.base == edge.name:
            leg = dart.legs[0 if notch.at < edge.length / 2 else 1]
            way = atan2(leg[1] - dart.point[1], leg[0] - dart.point[0])
            return (cos(way), sin(way))
    way = tangent_at(edge.points, min(notch.at, edge.length - 1e-3)) - pi / 2
    return (cos(way), sin(way))


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
        if turn < -HOLLOW * pi / 180 and min(finished.allowances[e.name] for e in (before, after)) > 3.0:
            corner = as_point(after.points[0])
            along, off = nearest(finished.cutting_line, corner)
            outer = point_at(finished.cutting_line, along)
            share = 2.0 / max(off, 2.0)
            inner = (corner[0] + share * (outer[0] - corner[0]), corner[1] + share * (outer[1] - corner[1]))
            yield Stroke(as_points((outer, inner)), "clip")


def _last_tangent(edge: Edge) -> float:
    dx, dy = edge.points[-1] - edge.points[-2]
    return atan2(dy, dx)


# --------------------------------------------------------------------------------------------------------------
# what each edge is and meets


def _edge_words(finished: Finished, size: float) -> Iterator[Item]:
    deepest = 0.5 * finished.room
    for edge in finished.piece.edges:
        if edge.length < SHORT_EDGE * size or edge.kind == "dart base":
            continue
        if edge.kind == "fold":
            yield from _fold_words(edge, size)
        elif edge.name in finished.mates:
            yield from _join_arrow(edge, finished.mates[edge.name], min(size, deepest / (ARROW + MATE_NUMBER)))
        else:
            yield _inside_text(edge, EDGE_NAME * size, _spoken(edge.origin.edge))


def _join_arrow(edge: Edge, mate: int, size: float) -> Iterator[Item]:
    """An arrow from inside square onto the middle of an edge, with the number of the piece that is sewn there."""
    x, y = point_at(edge.points, edge.length / 2)
    way = tangent_at(edge.points, edge.length / 2) - pi / 2
    tip, tail = _behind((x, y), way, 2.0 * size), _behind((x, y), way, (2.0 + ARROW) * size)
    yield Stroke(as_points((tail, tip)), "join arrow")
    yield _arrow_head(tip, way, 3.0 * size, "join arrow")
    number = _behind((x, y), way, (3.0 + ARROW + 0.6 * MATE_NUMBER) * size)
    yield Text((number[0], number[1] - 0.36 * MATE_NUMBER * size), MATE_NUMBER * size, str(mate), "join arrow")


def _behind(place: Point, way: float, distance: float) -> Point:
    return (place[0] - distance * cos(way), place[1] - distance * sin(way))


def _fold_words(edge: Edge, size: float) -> Iterator[Item]:
    yield _inside_text(edge, EDGE_NAME * size, f"{_spoken(edge.origin.edge)}: place on the fold")


def _inside_text(edge: Edge, height: float, text: str) -> Text:
    """A text along the inside of the middle of an edge, upright or reading upwards."""
    middle = edge.length / 2
    place, way = point_at(edge.points, middle), tangent_at(edge.points, middle)
    anchor: Anchor = "middle"
    upside_down = not -pi / 2 < remainder(way, tau) <= pi / 2 + 1e-9
    angle = way + pi if upside_down else way
    # The inside lies left of the way: above the text's line, or below it where the text runs against the way.
    gap = -1.35 * height if upside_down else 0.6 * height
    at = (place[0] - gap * sin(angle), place[1] + gap * cos(angle))
    return Text(at, height, text, "edge name", remainder(angle, tau), anchor)
