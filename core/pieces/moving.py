"""Moving an edge parallel to itself: the edges beside it are run on or cut off along themselves."""

from __future__ import annotations

from math import cos, sin
from typing import Final

import msgspec
import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import inside, is_simple_loop
from core.geometry.polyline import (
    Points,
    as_point,
    as_points,
    backwards,
    between,
    crossings,
    end_direction,
    joined,
    length,
    nearest,
    with_ends,
)
from core.geometry.tolerances import ON_EDGE
from core.pieces.names import spoken_in_full
from core.pieces.outline import closed, named
from core.pieces.parts import Border, part_of_piece
from core.pieces.records import Edge, Line, Origin, Piece
from core.pieces.turning import with_bases

RUN_ON: Final = 5.0
"""An edge is run on by at most this many times the amount moved: down to corners of 12 degrees with its neighbour."""

ON_CORNER: Final = 1e-3
"""A mark or a line's end within this (mm) of the old edge goes with it."""

END_CHORD: Final = 1.0
"""An edge is run on in the direction of its last 1 mm."""


def moved_edge(piece: Piece, name: str, amount: float) -> Piece:
    """The piece with an edge moved outwards by `amount` mm, or inwards when it is negative.

    Lines that ended on the edge are run on or cut off, marks at its corners go with them; what is cut off is gone.
    Refusal for a fold, a dart's base or an edge beside one, and where the moved edge meets its neighbours no more.
    """
    edge = piece.edge(name)
    before, after = piece.neighbours(name)
    _refuse_kinds(piece, edge, (before, after))
    reach = RUN_ON * abs(amount)
    course = _run_on(backwards(_run_on(backwards(_parallel(edge.points, amount)), reach)), reach)
    first = _met(piece, edge, before, course=course, reach=reach)
    last = _met(piece, edge, _reversed(after), course=backwards(course), reach=reach)
    stop = length(course) - last.along
    if stop - first.along < ON_EDGE:
        raise _too_far(piece, edge)
    row = with_ends(between(course, first.along, stop), first=first.beside.points[-1], last=last.beside.points[-1])
    now = {before.name: first.beside, name: replace(edge, points=row), after.name: _reversed(last.beside)}
    loop = closed([now.get(other.name, other) for other in piece.edges])
    if not is_simple_loop(as_points(joined([other.points for other in loop])[:-1])):
        raise _too_far(piece, edge)
    return _with_contents(piece, loop, edge, row, reach=reach)


def _refuse_kinds(piece: Piece, edge: Edge, beside: tuple[Edge, Edge]) -> None:
    words = f"The {spoken_in_full(edge.name)} of piece {piece.name}"
    if edge.kind in ("fold", "dart base"):
        way_out = "unfold the piece first" if edge.kind == "fold" else "pivot or cut the dart first"
        raise Refusal(f"{words} is a {edge.kind} and is not moved; {way_out}.", piece=piece.name, edge=edge.name)
    if any(other.kind == "dart base" for other in beside):
        raise Refusal(
            f"{words} ends at an open dart, whose legs would no longer be equal; pivot or cut the dart first.",
            piece=piece.name,
            edge=edge.name,
        )
    if beside[0] is beside[1]:
        raise Refusal(
            f"{words} has the same edge at both ends; draw and cut along a line instead.",
            piece=piece.name,
            edge=edge.name,
        )


def _too_far(piece: Piece, edge: Edge) -> Refusal:
    return Refusal(
        f"Moved so far, the {spoken_in_full(edge.name)} of piece {piece.name} no longer meets the edges beside it, or "
        f"crosses the outline or an open dart; move it less.",
        piece=piece.name,
        edge=edge.name,
    )


def _parallel(points: Points, amount: float) -> Points:
    """The polyline moved to its right by an amount, its corners where the moved straight parts meet."""
    ways = np.diff(points, axis=0)
    ways = ways / np.hypot(ways[:, 0], ways[:, 1])[:, None]
    right = np.column_stack((ways[:, 1], -ways[:, 0]))
    ahead, behind = np.vstack((right, right[-1:])), np.vstack((right[:1], right))
    both = ahead + behind
    # The mitre at a corner: both sides' normals added, so long that it reaches `amount` square to each.
    return as_points(points + amount * 2.0 * both / (both * both).sum(axis=1)[:, None])


def _run_on(points: Points, reach: float) -> Points:
    """The polyline with its end moved straight on; a last part that is long enough to be straight stays one."""
    way = end_direction(points, at_end=True, chord=END_CHORD)
    end = points[-1] + reach * np.array((cos(way), sin(way)))
    kept = points[:-1] if length(points[-2:]) >= END_CHORD else points
    return as_points([*kept, end])


class _Met(msgspec.Struct, frozen=True, eq=False):
    """An edge that leads to the moved one, as long as it has to be now, and where it meets its course (mm)."""

    beside: Edge
    along: float


def _met(piece: Piece, edge: Edge, beside: Edge, *, course: Points, reach: float) -> _Met:
    """Where the edge before it, run on, meets the course of the moved edge; nearest to the old corner."""
    line = _run_on(beside.points, reach)
    found = crossings(line, course)
    if not found:
        raise _too_far(piece, edge)
    on_beside, along = min(found, key=lambda met: abs(met[0] - beside.length))
    if on_beside < ON_EDGE:
        raise _too_far(piece, edge)
    held = beside.origin
    origin = replace(held, stop=held.at(on_beside / beside.length))
    return _Met(Edge(beside.name, beside.kind, between(line, 0.0, on_beside), origin), along)


def _reversed(edge: Edge) -> Edge:
    held = edge.origin
    return Edge(edge.name, edge.kind, backwards(edge.points), Origin(held.edge, held.stop, held.start, held.side))


def _with_contents(piece: Piece, loop: tuple[Edge, ...], edge: Edge, row: Points, *, reach: float) -> Piece:
    """The piece with its new loop, and the darts, lines and landmarks that lie in it."""
    index = next(i for i, other in enumerate(loop) if other.name == edge.name)
    others = (*loop[index + 1 :], *loop[:index])
    long = replace(piece, lines=tuple(_line_run_on(line, edge.points, row, reach) for line in piece.lines))
    part = part_of_piece(replace(long, edges=loop), Border(others, row))
    if len(part.darts) < len(piece.darts) or not _holds_pivots(piece, loop):
        raise _too_far(piece, edge)
    edges = named(loop)
    corners = {
        name: as_point(row[end])
        for name, place in piece.landmarks.items()
        for end in (0, -1)
        if gap(place, edge.points[end]) <= ON_CORNER
    }
    return replace(
        piece,
        edges=edges,
        darts=with_bases(part.darts, edges),
        lines=part.lines,
        landmarks={**part.landmarks, **corners},
    )


def _holds_pivots(piece: Piece, loop: tuple[Edge, ...]) -> bool:
    outline = as_points(joined([other.points for other in loop])[:-1])
    return not piece.darts or bool(inside(outline, as_points([dart.pivot for dart in piece.darts])).all())


def _line_run_on(line: Line, old: Points, row: Points, reach: float) -> Line:
    """The line, run on straight to the moved edge where it ended on the old one and the new lies beyond."""
    stretches = list(line.stretches)
    stretches[-1] = _stretch_run_on(stretches[-1], old, row, reach)
    stretches[0] = backwards(_stretch_run_on(backwards(stretches[0]), old, row, reach))
    return replace(line, stretches=tuple(stretches), starts=())


def _stretch_run_on(stretch: Points, old: Points, row: Points, reach: float) -> Points:
    if nearest(old, stretch[-1])[1] > ON_CORNER:
        return stretch
    line = _run_on(stretch, reach)
    beyond = [along for along, _ in crossings(line, row) if along > length(stretch)]
    return between(line, 0.0, min(beyond)) if beyond else stretch
