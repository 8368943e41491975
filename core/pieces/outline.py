"""Outlines: cutting edges at a distance, joining descendants of one origin again, names, cloth area."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot, remainder, tau

import msgspec
from msgspec.structs import replace

from core.geometry.placement import Placement, gap
from core.geometry.polyline import (
    Point,
    Points,
    as_points,
    between,
    end_direction,
    joined,
    nearest,
    point_at,
    signed_area,
    with_ends,
)
from core.geometry.tolerances import CORNER_CHORD, SAME_POINT, SMOOTH_JOINT
from core.pieces.names import RIGHT, is_right
from core.pieces.records import Dart, Edge, Line, Origin, Piece

LARGEST_SLIVER = 1e-4
"""A cut this near (mm) to the end of an edge falls on the end: a shorter edge could not be seen or sewn."""

REJOIN_GAP = 1e-5
"""Line stretches whose ends lie nearer than this (mm) met at a slit that is closed again."""


class OnLoop(msgspec.Struct, frozen=True):
    """A place on an outline: index of the edge in the loop and distance in mm from the edge's first point."""

    index: int
    distance: float


def part_of(edge: Edge, start: float, stop: float) -> Edge:
    """The stretch of an edge between two distances, with the stretch of the origin that it holds."""
    total = edge.length
    held = edge.origin
    origin = Origin(held.edge, held.at(start / total), held.at(stop / total), held.side)
    return Edge(edge.name, edge.kind, between(edge.points, start, stop, edge.along), origin)


def settle(edge: Edge, distance: float) -> float:
    """The distance, or the edge's end when it is a sliver away from it."""
    if distance <= LARGEST_SLIVER:
        return 0.0
    return edge.length if distance >= edge.length - LARGEST_SLIVER else distance


def run(edges: Sequence[Edge], start: OnLoop, stop: OnLoop) -> tuple[Edge, ...]:
    """The edges met when walking the loop from one place to another, the first and last cut there.

    From a place to itself is the whole loop, begun there.
    """
    first, last = edges[start.index], edges[stop.index]
    a, b = settle(first, start.distance), settle(last, stop.distance)
    if start.index == stop.index and a < b:
        return (part_of(first, a, b),)
    found = [part_of(first, a, first.length)] if a < first.length else []
    index = (start.index + 1) % len(edges)
    while index != stop.index:
        found.append(edges[index])
        index = (index + 1) % len(edges)
    if b > 0.0:
        found.append(part_of(last, 0.0, b))
    return tuple(found)


def locate(edges: Sequence[Edge], place: Point) -> tuple[OnLoop, float]:
    """The place on the outline nearest to a point, and the gap in mm. Dart bases are passed over for a real edge."""
    boxes = [box_gap(edge, place) for edge in edges]
    likely = boxes.index(min(boxes))
    there = nearest(edges[likely].points, place)
    best, best_gap, best_base = OnLoop(0, 0.0), float("inf"), True
    for index, edge in enumerate(edges):
        if boxes[index] > min(best_gap, there[1]) + SAME_POINT:
            continue
        along, off = there if index == likely else nearest(edge.points, place)
        base = edge.kind == "dart base"
        if off < best_gap - SAME_POINT or (best_base and not base and off <= best_gap + SAME_POINT):
            best, best_gap, best_base = OnLoop(index, along), off, base
    return best, best_gap


def box_gap(edge: Edge, place: Point) -> float:
    """A distance that the edge is at least away from a place: that of its box."""
    left, low, right, high = edge.box
    return hypot(max(left - place[0], 0.0, place[0] - right), max(low - place[1], 0.0, place[1] - high))


def point_on(edges: Sequence[Edge], place: OnLoop) -> Point:
    """The point at a place on the outline."""
    return point_at(edges[place.index].points, place.distance)


def merged(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The loop with neighbours of one origin joined again where they meet smoothly."""
    found = list(edges)
    index = 0
    while len(found) > 1 and index < len(found):
        here, after = found[index], found[(index + 1) % len(found)]
        if _one_edge(here, after):
            found[index] = _together(here, after)
            del found[(index + 1) % len(found)]
            index = max(index - 1, 0)
        else:
            index += 1
    return tuple(found)


def _one_edge(here: Edge, after: Edge) -> bool:
    same = (here.origin.edge, here.origin.side, here.kind) == (after.origin.edge, after.origin.side, after.kind)
    if not same or abs(here.origin.stop - after.origin.start) > 1e-3 or here.kind == "dart base":
        return False
    turn = end_direction(after.points, at_end=False, chord=CORNER_CHORD) - end_direction(
        here.points, at_end=True, chord=CORNER_CHORD
    )
    return abs(remainder(turn, tau)) <= SMOOTH_JOINT


def _together(here: Edge, after: Edge) -> Edge:
    origin = replace(here.origin, stop=after.origin.stop)
    return replace(here, points=joined((here.points, after.points)), origin=origin)


def local_name(origin: str) -> str:
    """The last word of a dotted origin name: "front.armhole" is called "armhole" on a piece."""
    return origin[origin.rfind(".") + 1 :]


def end_name(origin: str) -> str:
    """What an end that lies on an edge or dart is called: "armhole", on the right half "right_armhole"."""
    return f"{RIGHT}_{local_name(origin)}" if is_right(origin) else local_name(origin)


def is_centre(edge: Edge) -> bool:
    """Whether an edge lies on the centre front fold or is the centre back: it lies still while other cloth turns."""
    return edge.kind == "fold" or local_name(edge.origin.edge) == "centre_back"


def named(edges: Iterable[Edge]) -> tuple[Edge, ...]:
    """The loop with names unique in the piece: the origin's own name, numbered in loop order where it comes twice.

    The loop is begun at its centre edge, where it has one, so that the numbers do not depend on how it was made. On the
    right half of an unfolded piece "right." stands before the name.
    """
    edges = _from_centre(tuple(edges))
    names = [_name_of(edge) for edge in edges]
    if names == [edge.name for edge in edges] and len(set(names)) == len(names):
        return edges
    result = []
    for index, (edge, name) in enumerate(zip(edges, names, strict=True)):
        wanted = name if names.count(name) == 1 else f"{name}.{names[: index + 1].count(name)}"
        result.append(edge if edge.name == wanted else Edge(wanted, edge.kind, edge.points, edge.origin))
    return tuple(result)


def _name_of(edge: Edge) -> str:
    name = local_name(edge.origin.edge)
    return f"{RIGHT}.{name}" if is_right(edge.origin.edge) else name


def _from_centre(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    first = next((index for index, edge in enumerate(edges) if is_centre(edge)), 0)
    return edges[first:] + edges[:first]


def closed(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The loop with every edge beginning bit for bit where the one before it ends."""
    result = list(edges)
    for index, edge in enumerate(result):
        before = result[index - 1].points[-1]
        if (edge.points[0] != before).any():
            result[index] = Edge(edge.name, edge.kind, with_ends(edge.points, first=before), edge.origin)
    return tuple(result)


def placed_edge(edge: Edge, placement: Placement) -> Edge:
    """The edge moved with the cloth it bounds."""
    return replace(edge, points=placement.points(edge.points))


def placed_dart(dart: Dart, placement: Placement) -> Dart:
    """The dart moved with the cloth it lies in."""
    legs = (placement.point(dart.legs[0]), placement.point(dart.legs[1]))
    return replace(dart, pivot=placement.point(dart.pivot), legs=legs, point=placement.point(dart.point))


def placed_line(line: Line, placement: Placement) -> Line:
    """The line moved with the cloth it is drawn on."""
    return replace(line, stretches=tuple(placement.points(stretch) for stretch in line.stretches))


def placed_piece(piece: Piece, placement: Placement) -> Piece:
    """The whole piece moved, its grain turning with it."""
    return replace(
        piece,
        edges=tuple(placed_edge(edge, placement) for edge in piece.edges),
        darts=tuple(placed_dart(dart, placement) for dart in piece.darts),
        lines=tuple(placed_line(line, placement) for line in piece.lines),
        landmarks={name: placement.point(place) for name, place in piece.landmarks.items()},
        grain=piece.grain + placement.angle,
    )


def rejoined(line: Line) -> Line:
    """The line with its stretches in order, and those that now meet end to end made one again."""
    stretches: list[Points] = []
    starts: list[float] = []
    for start, stretch in sorted(zip(line.starts, line.stretches, strict=True), key=lambda pair: pair[0]):
        if stretches and gap(stretches[-1][-1], stretch[0]) <= REJOIN_GAP:
            stretches[-1] = joined((stretches[-1], stretch))
        else:
            stretches.append(stretch)
            starts.append(start)
    return replace(line, stretches=tuple(stretches), starts=tuple(starts))


def wedge_of(piece: Piece, dart: Dart) -> Points:
    """The dart's wedge as a loop (N, 2): pivot, then along the base from legs[0] to legs[1]."""
    return as_points([dart.pivot, *piece.edge(dart.base).points])


def cloth_area(piece: Piece) -> float:
    """Area of cloth in mm²: the loop without the wedges of its open darts."""
    return signed_area(piece.loop) - sum(abs(signed_area(wedge_of(piece, dart))) for dart in piece.darts)


def bridge(dart_name: str, first: Point, last: Point) -> Edge:
    """A dart base from leg end to leg end, straight."""
    points = as_points((first, last))
    width = gap(first, last)
    return Edge(dart_name, "dart base", points, Origin(dart_name, 0.0, width))


def along_outline(edges: Sequence[Edge], start: OnLoop, stop: OnLoop) -> float:
    """What a tape laid on the outline reads between two places, the shorter way round, in mm.

    The base of an open dart has no length here: its legs are sewn together before anything is measured.
    """
    whole = sum(edge.length for edge in edges if edge.kind != "dart base")
    there = abs(_from_first(edges, stop) - _from_first(edges, start))
    return min(there, whole - there)


def _from_first(edges: Sequence[Edge], place: OnLoop) -> float:
    before = sum(edge.length for edge in edges[: place.index] if edge.kind != "dart base")
    return before + (0.0 if edges[place.index].kind == "dart base" else place.distance)
