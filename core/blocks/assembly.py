"""Putting a drafted block together: edges with their origins, turning the back over, seams."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from core.geometry.placement import mirrored
from core.geometry.polyline import Point, Points, as_points, length
from core.pieces.outline import bridge, named
from core.pieces.records import Dart, Edge, EdgeKind, Line, Origin, OriginEdge, Piece
from core.pieces.turning import on_centre_line


class Run(msgspec.Struct, frozen=True, eq=False):
    """One run of an outline before it is named: what it is called on the block, its kind, its points in loop order."""

    name: str
    kind: EdgeKind
    points: Points

    def turned_over(self) -> Run:
        """The run on the wearer's other side, travelled the other way."""
        return Run(self.name, self.kind, mirrored(self.points))


class Wedge(msgspec.Struct, frozen=True, eq=False):
    """A dart before it is named: pivot, legs in loop order, how far from the pivot the sewing ends (mm)."""

    name: str
    pivot: Point
    legs: tuple[Point, Point]
    set_back: float

    def turned_over(self) -> Wedge:
        """The dart on the wearer's other side."""
        return Wedge(self.name, over(self.pivot), (over(self.legs[1]), over(self.legs[0])), self.set_back)


class Drawing(msgspec.Struct, frozen=True, eq=False):
    """A block as drafted: runs in loop order, the centre first, darts, marks by name, landmarks."""

    runs: tuple[Run, ...]
    wedges: tuple[Wedge, ...]
    marks: Mapping[str, tuple[Points, ...]]
    landmarks: Mapping[str, Point]

    def turned_over(self) -> Drawing:
        """The drawing on the wearer's other side, its loop counter-clockwise again."""
        return Drawing(
            tuple(run.turned_over() for run in (self.runs[0], *reversed(self.runs[1:]))),
            tuple(wedge.turned_over() for wedge in self.wedges),
            {name: tuple(as_points(part * (-1.0, 1.0)) for part in parts) for name, parts in self.marks.items()},
            {name: over(place) for name, place in self.landmarks.items()},
        )


class Blocks(msgspec.Struct, frozen=True, eq=False):
    """The two pieces of a new block, and what the drafting wants to say about them in plain sentences."""

    front: Piece
    back: Piece
    notes: tuple[str, ...]


def over(place: Point) -> Point:
    """The point reflected in the centre line."""
    return (-place[0], place[1])


def segment(first: Point, last: Point) -> Points:
    """A straight run."""
    return as_points((first, last))


def piece_of(block: str, drawing: Drawing) -> Piece:
    """The piece: edges named and numbered, each with the stretch of its origin it holds, darts closed."""
    edges: list[Edge] = []
    reached: dict[str, float] = {}
    for run in drawing.runs:
        origin = f"{block}.{run.name}"
        if run.kind == "dart base":
            edges.append(bridge(origin, *((float(x), float(y)) for x, y in run.points)))
            continue
        start = reached.get(origin, 0.0)
        reached[origin] = start + length(run.points)
        edges.append(Edge(run.name, run.kind, run.points, Origin(origin, start, reached[origin])))
    return Piece(
        block,
        block,
        named(edges),
        tuple(_dart(block, wedge) for wedge in drawing.wedges),
        tuple(Line(f"{block}.{name}", "level", parts) for name, parts in drawing.marks.items()),
        _with_pivots(drawing),
    )


def _with_pivots(drawing: Drawing) -> dict[str, Point]:
    """The landmarks, and the pivots of darts that are none yet: a line drawn to a dart follows it to another body."""
    found = dict(drawing.landmarks)
    for wedge in drawing.wedges:
        if wedge.pivot not in found.values():
            found[f"{wedge.name}_pivot"] = wedge.pivot
    return found


def _dart(block: str, wedge: Wedge) -> Dart:
    point = on_centre_line(wedge.pivot, wedge.legs, wedge.set_back)
    return Dart(f"{block}.{wedge.name}", wedge.pivot, wedge.legs, wedge.name, point)


def origins_of(piece: Piece) -> dict[str, OriginEdge]:
    """The original edges of a new block, darts closed; each end is called after the edge that lies there."""
    edges = [edge for edge in piece.edges if edge.kind != "dart base"]
    order = list(dict.fromkeys(edge.origin.edge for edge in edges))
    words = [name.rsplit(".", 1)[-1] for name in order]
    return {
        name: OriginEdge(name, _whole(edges, name), (words[index - 1], words[(index + 1) % len(order)]))
        for index, name in enumerate(order)
    }


def _whole(edges: Sequence[Edge], origin: str) -> float:
    return max(edge.origin.stop for edge in edges if edge.origin.edge == origin)
