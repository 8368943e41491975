"""Slashing: a piece cut along a straight line from edge to edge, its parts moved, and the gap filled with paper.

The paper belongs to the edges it lengthens: it holds no length of the original edge, but stands at its place in it, so
seams and places still find their way.
"""

from __future__ import annotations

from dataclasses import replace

from core.errors import Refusal
from core.geometry.placement import Placement, gap
from core.geometry.planar import inside_path, is_simple_loop
from core.geometry.polyline import Point, as_point, as_points, crossings
from core.geometry.tolerances import ON_EDGE
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, closed, merged, named, point_on, run
from core.pieces.parts import Border, Part, together, two_parts
from core.pieces.records import Edge, Origin, Piece
from core.pieces.turning import with_bases


def slashed(piece: Piece, opens: OnLoop, other: OnLoop) -> tuple[Part, Part]:
    """The parts on both sides of the straight slash from `opens` to `other`, in loop order from `opens`.

    Refusal when the slash leaves the piece or crosses an open dart.
    """
    ends = (point_on(piece.edges, opens), point_on(piece.edges, other))
    path = as_points(ends)
    if not inside_path(piece.loop, path, slack=ON_EDGE):
        raise Refusal(f"The slash leaves piece {piece.name}; choose ends that see each other.", piece=piece.name)
    _refuse_darts(piece, ends)
    first = Border(run(piece.edges, opens, other), as_points(path[::-1]))
    second = Border(run(piece.edges, other, opens), path)
    return two_parts(piece, first, second)


def _refuse_darts(piece: Piece, ends: tuple[Point, Point]) -> None:
    for dart in piece.darts:
        if any(crossings(as_points(ends), as_points((dart.pivot, leg))) for leg in dart.legs):
            raise Refusal(
                f"The slash crosses the open {spoken(dart.name)} of piece {piece.name}; close that dart first.",
                piece=piece.name,
            )


def loose_first(parts: tuple[Part, Part]) -> bool:
    """Whether the first part is the one that moves: the one without the centre edge, else the smaller."""
    first, second = parts
    if first.is_anchored != second.is_anchored:
        return second.is_anchored
    return sum(edge.length for edge in first.edges) < sum(edge.length for edge in second.edges)


def spread(piece: Piece, parts: tuple[Part, Part], placement: Placement) -> Piece:
    """The piece with its loose part moved and paper in the gaps. Refusal when cloth would lie over cloth."""
    moves_first = loose_first(parts)
    first, second = (parts[0].placed(placement), parts[1]) if moves_first else (parts[0], parts[1].placed(placement))
    still, moved = (second, first) if moves_first else (first, second)
    darts, lines, landmarks = together(still, moved)
    loop = (
        *first.edges,
        *_paper(first.edges[-1], second.edges[0]),
        *second.edges,
        *_paper(second.edges[-1], first.edges[0]),
    )
    edges = named(closed(merged(loop)))
    order = [dart.name for dart in piece.darts]
    kept = with_bases(tuple(sorted(darts, key=lambda dart: order.index(dart.name))), edges)
    whole = replace(piece, edges=edges, darts=kept, lines=lines, landmarks=landmarks)
    if not is_simple_loop(whole.loop):
        raise Refusal(
            f"Spreading so far would lay piece {piece.name} over itself; spread less, or hinge it elsewhere.",
            piece=piece.name,
        )
    return whole


def _paper(before: Edge, after: Edge) -> tuple[Edge, ...]:
    """The edge across a gap, of the kind of the edge it continues; nothing where the parts still meet."""
    first, last = as_point(before.points[-1]), as_point(after.points[0])
    if gap(first, last) <= 1e-6:
        return ()
    origin = Origin(before.origin.edge, before.origin.stop, before.origin.stop, before.origin.side)
    return (Edge(before.name, before.kind, as_points((first, last)), origin),)
