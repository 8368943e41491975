"""Slashing: a piece cut along a straight line from edge to edge, its parts moved apart over paper, or over each other.

The paper belongs to the edges it lengthens: it holds no length of the original edge, but stands at its place in it, so
seams and places still find their way. Where cloth is folded out, the edges on both sides meet at the middle of what
they lost of the original.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin
from typing import Final

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from core.errors import Refusal
from core.geometry.placement import Placement, about, gap
from core.geometry.planar import inside_path, is_simple_loop
from core.geometry.polyline import (
    Point,
    Points,
    as_point,
    as_points,
    backwards,
    crossings,
    distances,
    length,
    with_ends,
)
from core.geometry.tolerances import ON_EDGE, SAME_POINT
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, closed, merged, named, point_on, run
from core.pieces.parts import Border, Part, part_of_piece, together, two_parts
from core.pieces.records import Edge, Origin, Piece
from core.pieces.turning import with_bases

RUN_ON: Final = 2.0
"""A fold's lines are sought on an edge as far beyond the slash as so many of its widths."""

SHARED_OVER: Final = 40.0
"""A step in an edge is shared out over so much (mm) on both sides."""


def slashed(piece: Piece, opens: OnLoop, other: OnLoop) -> tuple[Part, Part]:
    """The parts on both sides of the straight slash from `opens` to `other`, in loop order from `opens`.

    Refusal when the slash leaves the piece or crosses an open dart.
    """
    ends = (point_on(piece.edges, opens), point_on(piece.edges, other))
    _refuse_path(piece, ends)
    path = as_points(ends)
    first = Border(run(piece.edges, opens, other), as_points(path[::-1]))
    second = Border(run(piece.edges, other, opens), path)
    return two_parts(piece, first, second)


def _refuse_path(piece: Piece, ends: tuple[Point, Point]) -> None:
    if not inside_path(piece.loop, as_points(ends), slack=ON_EDGE):
        raise Refusal(f"The slash leaves piece {piece.name}; choose ends that see each other.", piece=piece.name)
    _refuse_darts(piece, ends)


def _refuse_darts(piece: Piece, ends: tuple[Point, Point]) -> None:
    for dart in piece.darts:
        if dart.is_crossed_by(as_points(ends)):
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
    first, second = _moved(parts, placement)
    loop = (
        *first.edges,
        *_paper(first.edges[-1], second.edges[0]),
        *second.edges,
        *_paper(second.edges[-1], first.edges[0]),
    )
    return _whole(piece, loop, _still_first(parts, (first, second)))


def fold(piece: Piece, opens: OnLoop, other: OnLoop, *, wide: float, parallel: bool) -> tuple[OnLoop, ...]:
    """Where a fold's two lines meet the outline, in loop order: after and before `opens`, before and after `other`.

    `wide` (mm) is measured square to the fold, at `opens` where it comes to nothing at `other`. Refusal when the fold
    runs off an edge.
    """
    start, stop = (point_on(piece.edges, end) for end in (opens, other))
    lines = _strip(start, stop, wide) if parallel else _wedge(start, stop, wide)
    after, before = (_met(piece, opens, line) for line in lines)
    if not parallel:
        return after, before, other, other
    far_before, far_after = (_met(piece, other, line) for line in lines)
    return after, before, far_before, far_after


def _strip(start: Point, stop: Point, wide: float) -> tuple[Points, Points]:
    """Lines on the right and on the left of a slash, parallel to it and run on beyond both of its ends."""
    along = (np.array(stop) - start) / gap(start, stop)
    right = np.array((along[1], -along[0])) * wide / 2
    beyond = RUN_ON * wide * along
    first, second = (as_points((start + side - beyond, stop + side + beyond)) for side in (right, -right))
    return first, second


def _wedge(start: Point, stop: Point, wide: float) -> tuple[Points, Points]:
    """Lines on the right and on the left of a slash, from beyond its start to its end, where they meet."""
    far = gap(start, stop)
    beyond = start - RUN_ON * wide * (np.array(stop) - start) / far
    line = as_points((as_point(beyond), stop))
    turn = asin(min(wide / 2 / far, 1.0))
    return about(stop, turn).points(line), about(stop, -turn).points(line)


def _met(piece: Piece, end: OnLoop, line: Points) -> OnLoop:
    edge = piece.edges[end.index]
    met = [along for along, _ in crossings(edge.points, line)]
    if not met:
        raise Refusal(
            f"A fold so wide runs off the {spoken(edge.origin.edge)} of piece {piece.name}; fold out less, or farther "
            f"from its end.",
            piece=piece.name,
            edge=edge.name,
        )
    return OnLoop(end.index, min(met, key=lambda along: abs(along - end.distance)))


def without_fold(piece: Piece, ends: Sequence[OnLoop]) -> tuple[Part, Part]:
    """The parts on both sides of a fold whose lines meet the outline at `ends`, as `fold` gives them.

    Refusal when the fold leaves the piece, or holds or crosses an open dart.
    """
    after, before, far_before, far_after = ends
    corners = [point_on(piece.edges, end) for end in ends]
    for line in ((corners[0], corners[2]), (corners[1], corners[3])):
        _refuse_path(piece, line)
    first = part_of_piece(piece, Border(run(piece.edges, after, far_before), as_points((corners[2], corners[0]))))
    second = part_of_piece(piece, Border(run(piece.edges, far_after, before), as_points((corners[1], corners[3]))))
    if len(first.darts) + len(second.darts) < len(piece.darts):
        raise Refusal(
            f"The fold takes in an open dart of piece {piece.name}; close the dart, or fold beside it.",
            piece=piece.name,
        )
    return first, second


def laid_over(piece: Piece, parts: tuple[Part, Part], placement: Placement) -> tuple[Piece, float]:
    """The piece with its loose part moved over the fold, and the step (mm) that its edges then meet with.

    Both edges give half of the step. Refusal when cloth would lie over cloth beyond the fold.
    """
    first, second = _moved(parts, placement)
    step = max(_step(first.edges[-1], second.edges[0]), _step(second.edges[-1], first.edges[0]))
    first, second = _meeting(first, second)
    second, first = _meeting(second, first)
    return _whole(piece, (*first.edges, *second.edges), _still_first(parts, (first, second))), step


def _step(before: Edge, after: Edge) -> float:
    return gap(as_point(before.points[-1]), as_point(after.points[0]))


def _meeting(one: Part, other: Part) -> tuple[Part, Part]:
    """The parts with the end of the first and the beginning of the other in one place, on the cloth and in origin."""
    before, after = one.edges[-1], other.edges[0]
    if (before.origin.edge, before.origin.side) != (after.origin.edge, after.origin.side):
        return one, other
    at = (before.points[-1] + after.points[0]) / 2
    place = (before.origin.stop + after.origin.start) / 2
    ended, begun = backwards(_begun_at(backwards(before.points), at)), _begun_at(after.points, at)
    ending = replace(before, points=ended, origin=replace(before.origin, stop=place))
    going_on = replace(after, points=begun, origin=replace(after.origin, start=place))
    return replace(one, edges=(*one.edges[:-1], ending)), replace(other, edges=(going_on, *other.edges[1:]))


def _begun_at(points: Points, at: NDArray[np.float64]) -> Points:
    """The polyline with its first point moved, the move dying away smoothly along it."""
    shift = at - points[0]
    if np.abs(shift).max() <= SAME_POINT:
        return with_ends(points, first=at)
    total = length(points)
    fade = min(SHARED_OVER, total)
    fine = _stationed(points, fade)
    share = np.clip(distances(fine) / fade, 0.0, 1.0)
    faded = fine + (1.0 - share * share * (3.0 - 2.0 * share))[:, None] * shift
    return with_ends(as_points(faded), first=at, last=points[-1])


def _stationed(points: Points, fade: float) -> Points:
    """The polyline with a point at least every 2 mm along the fade, so that a straight edge can bend."""
    along = distances(points)
    stations = np.union1d(along, np.arange(0.0, fade, 2.0))
    stations = stations[np.concatenate(([True], np.diff(stations) > SAME_POINT))]
    return as_points(np.column_stack([np.interp(stations, along, points[:, axis]) for axis in (0, 1)]))


def _moved(parts: tuple[Part, Part], placement: Placement) -> tuple[Part, Part]:
    if loose_first(parts):
        return parts[0].placed(placement), parts[1]
    return parts[0], parts[1].placed(placement)


def _still_first(parts: tuple[Part, Part], now: tuple[Part, Part]) -> tuple[Part, Part]:
    """The part that lies still, then the one that moved."""
    return (now[1], now[0]) if loose_first(parts) else now


def _whole(piece: Piece, loop: Sequence[Edge], parts: tuple[Part, Part]) -> Piece:
    """The piece put together again from a loop and what lies on its parts."""
    darts, lines, landmarks = together(*parts)
    edges = named(closed(merged(loop)))
    order = [dart.name for dart in piece.darts]
    kept = with_bases(tuple(sorted(darts, key=lambda dart: order.index(dart.name))), edges)
    whole = replace(piece, edges=edges, darts=kept, lines=lines, landmarks=landmarks)
    if not is_simple_loop(whole.loop):
        raise Refusal(
            f"Moved so far, piece {piece.name} would lie over itself; take less, or hinge it elsewhere.",
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
