"""Truing: edges drawn again between corners that stay where they are.

Every function returns the piece with the new edges; darts, lines and landmarks lie as they lay. Distances are in mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import cos, pi, radians, remainder, sin, tau
from typing import Final

import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.curve import fair_curve
from core.geometry.planar import area, inside, is_simple_loop, shared_area
from core.geometry.polyline import (
    Point,
    Points,
    as_point,
    as_points,
    backwards,
    between,
    cut_at,
    end_direction,
    joined,
    length,
    nearest,
    point_at,
    with_ends,
)
from core.geometry.tolerances import CORNER_CHORD, ON_EDGE
from core.pieces.caps import folded_cap
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import closed, merged, named
from core.pieces.records import Dart, Edge, Piece
from core.pieces.turning import with_bases

TANGENT_CHORD: Final = 1.0
"""Inside an edge its direction is that of the chord over this much (mm) of the side in question."""

LEAST_SQUARE, MOST_SQUARE = 5.0, 10.0
"""A corner is square for 5 to 10 mm, then fades back (trade.md D5)."""

FARTHEST_OFF_SQUARE: Final = radians(30.0)
"""A corner farther off 90 degrees than this is a shape that was meant, not a slip of the pencil."""


def straightened(piece: Piece, names: Sequence[str]) -> Piece:
    """The piece with neighbouring edges laid on the chord from the first one's beginning to the last one's end.

    Refusal when they are not neighbours in loop order, or cannot be redrawn.
    """
    edges = _neighbours(piece, names)
    ends = as_points((edges[0].points[0], edges[-1].points[-1]))
    return _with(piece, _dealt_out(ends, edges))


def smoothed(piece: Piece, name: str, share: tuple[float, float], points: int) -> Piece:
    """The piece with a stretch of an edge drawn as the fair curve through a few points of the old one.

    The stretch lies between two shares of the edge's length; `points` even ones inside it are kept, and the directions
    at its ends, so that the new line runs out into the old.
    """
    (edge,) = _neighbours(piece, (name,))
    start, stop = (part * edge.length for part in share)
    inner = [point_at(edge.points, along) for along in np.linspace(start, stop, points + 2)[1:-1].tolist()]
    return _with(piece, {name: faired(edge.points, start, stop, inner)})


def joint_smoothed(piece: Piece, names: tuple[str, str], reach: float, *, through: bool = False) -> Piece:
    """The piece with the joint of two neighbouring edges drawn as one fair curve over `reach` on both sides of it.

    `through` the joint itself the curve only adds paper beside an outward corner, as a seam is rounded at the bust
    point (cutting.md 12); else it cuts the corner. Refusal when an edge is shorter than the reach.
    """
    edges = _neighbours(piece, names)
    for edge in edges:
        if edge.length < reach:
            raise Refusal(
                f"The {spoken_in_full(edge.name)} of piece {piece.name} is {edge.length:.0f} mm long, shorter than the "
                f"{reach:.0f} mm over which the joint is smoothed; smooth it over less.",
                piece=piece.name,
                edge=edge.name,
            )
    here, joint = edges[0].length, as_point(edges[1].points[0])
    curve = faired(joined([edge.points for edge in edges]), here - reach, here + reach, [joint] if through else [])
    middle = here - reach + (length(curve) - here - edges[1].length + 2 * reach) / 2
    first, last = cut_at(curve, [nearest(curve, joint)[0] if through else middle])
    return _with(piece, {names[0]: first, names[1]: last})


def squared(piece: Piece, name: str, beside: str, *, square: float, fade: float) -> Piece:
    """The piece with one edge leaving the corner with its neighbour squarely.

    It runs straight for `square`, then curves back to its old line, which it reaches `fade` from the corner. Refusal
    when the two edges share no corner, or when it is over 30 degrees off.
    """
    edge = _redrawable(piece, name)
    before, after = piece.neighbours(name)
    at_first = before.name == beside
    if not at_first and after.name != beside:
        raise Refusal(
            f"The {spoken_in_full(name)} and the {spoken_in_full(beside)} of piece {piece.name} share no corner; name "
            f"two neighbours.",
            piece=piece.name,
        )
    away = edge.points if at_first else backwards(edge.points)
    other = backwards(before.points) if at_first else after.points
    now = _square_start(piece, edge, away, other=other, runs=(square, fade))
    return _with(piece, {name: now if at_first else backwards(now)})


def _square_start(piece: Piece, edge: Edge, away: Points, *, other: Points, runs: tuple[float, float]) -> Points:
    """The edge, leading away from its corner, begun at a right angle to the other edge, which leads away too."""
    square, fade = runs[0], min(runs[1], edge.length)
    if fade <= square:
        raise Refusal(
            f"The {spoken_in_full(edge.name)} of piece {piece.name} is too short to run square for {square:.0f} mm and "
            f"fade back; take less, or smooth it by hand.",
            piece=piece.name,
            edge=edge.name,
        )
    along = end_direction(away, at_end=False, chord=CORNER_CHORD)
    across = end_direction(other, at_end=False, chord=CORNER_CHORD)
    wanted = min((across + pi / 2, across - pi / 2), key=lambda way: abs(remainder(along - way, tau)))
    off = abs(remainder(along - wanted, tau))
    if off > FARTHEST_OFF_SQUARE:
        raise Refusal(
            f"The corner of the {spoken_in_full(edge.name)} on piece {piece.name} is {np.degrees(off):.0f} degrees off "
            f"square, too far for a slip of the pencil; redraw the edge.",
            piece=piece.name,
            edge=edge.name,
        )
    corner = as_point(away[0])
    end = (corner[0] + square * cos(wanted), corner[1] + square * sin(wanted))
    back = fair_curve(
        [end, point_at(away, fade)], start_direction=wanted, end_direction=_direction(away, fade, ahead=True)
    )
    rest = [between(away, fade, edge.length)] if fade < edge.length else []
    return with_ends(joined([as_points((corner, end)), back, *rest]), last=away[-1])


def base_trued(piece: Piece, dart: Dart, leg: int) -> Piece:
    """The piece with a dart's base cut as the cap of the dart folded and pressed to the side of its leg 0 or 1.

    Refusal when no edge goes on there, or when it is too short to be followed to the dart's middle.
    """
    beside = piece.neighbours(dart.base)[leg]
    if beside.kind in ("fold", "dart base"):
        raise Refusal(
            f"The {spoken(dart.name)} of piece {piece.name} meets a {beside.kind} on that side and has no edge to "
            f"be pressed against; press it to the other side.",
            piece=piece.name,
        )
    halves = folded_cap(piece, dart, leg)
    if halves is None:
        raise Refusal(
            f"Folded to that side, the {spoken(dart.name)} of piece {piece.name} reaches past the "
            f"{spoken_in_full(beside.name)}; press it to the other side, or leave it to be cut open.",
            piece=piece.name,
            edge=beside.name,
        )
    base = piece.edge(dart.base)
    edges = tuple(replace(edge, points=joined(halves)) if edge is base else edge for edge in piece.edges)
    return _checked(piece, replace(piece, edges=closed(edges)))


def straight_again(before: Piece, after: Piece) -> tuple[Dart, ...]:
    """The darts, as they are now, whose base was trued before and is a straight line again."""
    trued = {dart.name for dart in before.darts if len(before.edge(dart.base).points) > 2}
    return tuple(dart for dart in after.darts if dart.name in trued and len(after.edge(dart.base).points) == 2)


def faired(points: Points, start: float, stop: float, inner: Sequence[Point]) -> Points:
    """The polyline (N, 2) with the stretch between two distances drawn as the fair curve through its ends and `inner`.

    The curve leaves and meets what is left of the old line, or the direction of its last 5 mm, without a corner.
    """
    total = length(points)
    ends = point_at(points, start), point_at(points, stop)
    curve = fair_curve(
        [ends[0], *inner, ends[1]],
        start_direction=_direction(points, start, ahead=False),
        end_direction=_direction(points, stop, ahead=True),
    )
    head = [between(points, 0.0, start)] if start > ON_EDGE else []
    tail = [between(points, stop, total)] if stop < total - ON_EDGE else []
    return with_ends(joined([*head, curve, *tail]), first=points[0], last=points[-1])


def paper(before: Piece, after: Piece) -> tuple[float, float]:
    """Areas in mm² of paper that was added to a piece and that was taken off it."""
    both = shared_area(before.loop, after.loop)
    return max(area(after.loop) - both, 0.0), max(area(before.loop) - both, 0.0)


def _redrawable(piece: Piece, name: str) -> Edge:
    edge = piece.edge(name)
    if edge.kind in ("fold", "dart base"):
        raise Refusal(
            f"The {spoken_in_full(name)} of piece {piece.name} is a {edge.kind} and is not redrawn; choose an "
            f"edge that is cut.",
            piece=piece.name,
            edge=name,
        )
    return edge


def _neighbours(piece: Piece, names: Sequence[str]) -> list[Edge]:
    """Edges by name; each must follow the one before it in the loop."""
    edges = [_redrawable(piece, name) for name in names]
    for here, after in pairwise(edges):
        if piece.neighbours(here.name)[1] is not after:
            raise Refusal(
                f"On piece {piece.name} the {spoken_in_full(after.name)} does not follow the "
                f"{spoken_in_full(here.name)} counter-clockwise; name neighbours in that order.",
                piece=piece.name,
                edge=after.name,
            )
    return edges


def _direction(points: Points, along: float, *, ahead: bool) -> float:
    """Direction of travel (radians) at a distance, of what lies ahead or of what leads there.

    At an end it is that of the corner's chord, so that the corner keeps its angle.
    """
    total = length(points)
    if along <= TANGENT_CHORD or along >= total - TANGENT_CHORD:
        return end_direction(points, at_end=along > total / 2, chord=CORNER_CHORD)
    side = between(points, along, total) if ahead else between(points, 0.0, along)
    return end_direction(side, at_end=not ahead, chord=TANGENT_CHORD)


def _dealt_out(points: Points, edges: Sequence[Edge]) -> dict[str, Points]:
    """A line dealt out to edges by their shares of the old length, by name."""
    stops = np.cumsum([edge.length for edge in edges])
    parts = cut_at(points, (stops[:-1] / stops[-1] * length(points)).tolist())
    return {edge.name: part for edge, part in zip(edges, parts, strict=True)}


def _with(piece: Piece, now: Mapping[str, Points]) -> Piece:
    """The piece with some edges redrawn; descendants of one edge that now run on are one edge again."""
    redrawn = tuple(replace(edge, points=now[edge.name]) if edge.name in now else edge for edge in piece.edges)
    edges = named(merged(closed(redrawn)))
    return _checked(piece, replace(piece, edges=edges, darts=with_bases(piece.darts, edges)))


def _checked(before: Piece, after: Piece) -> Piece:
    pivots = as_points([dart.pivot for dart in after.darts]) if after.darts else None
    holds = pivots is None or bool(inside(after.loop, pivots, slack=ON_EDGE).all())
    if not holds or not is_simple_loop(after.loop):
        raise Refusal(
            f"Redrawn so, the outline of piece {before.name} would cross itself or leave a dart outside; redraw a "
            f"shorter stretch.",
            piece=before.name,
        )
    return after
