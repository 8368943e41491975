"""Turning part of a piece about a dart's pivot, like paper about a pin.

The loop has two bases while it turns: that of the dart which closes, and the one where the angle is let in (another
dart's, or a fresh one of no width). The part between them turns, the part with the fold lies still.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import Placement, about, gap
from core.geometry.polyline import Point, Points, as_points
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, bridge, closed, merged, named, point_on, run
from core.pieces.parts import Border, Part, together, two_parts
from core.pieces.records import Dart, Edge, Piece

NO_WIDTH = 1e-6
"""A base narrower than this (mm) is shut."""


class Turned(msgspec.Struct, frozen=True, eq=False):
    """The piece after a turn, and the placement by which the turned part moved."""

    piece: Piece
    moved: Placement


def with_opening(piece: Piece, place: OnLoop, name: str) -> Piece:
    """The piece with a dart base of no width at a place on its outline, ready to take an angle."""
    point = point_on(piece.edges, place)
    edges = named((*run(piece.edges, place, place), bridge(name, point, point)))
    return replace(piece, edges=edges, darts=with_bases(piece.darts, edges))


def turn(piece: Piece, dart: Dart, into: str, *, share: float = 1.0, by_pivot: bool = True) -> Turned:
    """Close a share of a dart by turning the part between its base and the base edge `into`.

    `by_pivot` is False when the dart's pivot no longer lies in the piece and only the remnants of its legs are closed.
    The part with the fold or centre seam lies still; of two loose parts, the longer. Refusal as `refuse_path`, and for
    two bases that lie side by side.
    """
    first, last = _base_index(piece, dart.base), _base_index(piece, into)
    after, before = _run_between(piece, first, last), _run_between(piece, last, first)
    if not after or not before:
        raise Refusal(
            f"The place chosen for the {spoken(dart.name)} of piece {piece.name} lies at its own leg, where nothing "
            f"would turn; choose a place farther from it.",
            piece=piece.name,
        )
    if by_pivot:
        refuse_path(piece, dart, after[-1].points[-1])
        refuse_path(piece, dart, before[0].points[0])
    parts = list(two_parts(piece, *(Border(edges, _way(dart, edges, by_pivot)) for edges in (after, before))))
    after_turns = _lies_still(parts[1], parts[0])
    moved = about(dart.pivot, share * (dart.closing_turn if after_turns else -dart.closing_turn))
    parts[0 if after_turns else 1] = parts[0 if after_turns else 1].placed(moved)
    return Turned(_put_together(piece, dart, into, parts=parts, after_turned=after_turns), moved)


def _base_index(piece: Piece, name: str) -> int:
    return [edge.name for edge in piece.edges].index(name)


def _run_between(piece: Piece, base: int, other: int) -> tuple[Edge, ...]:
    """The edges after one base up to the other."""
    count = len(piece.edges)
    return tuple(piece.edges[(base + 1 + step) % count] for step in range((other - base - 1) % count))


def _way(dart: Dart, edges: Sequence[Edge], by_pivot: bool) -> Points:
    """How a part is closed from its last point back to its first: over the pivot, or straight along the leg."""
    ends = (edges[-1].points[-1], edges[0].points[0])
    middle = [dart.pivot] if by_pivot and gap(dart.pivot, ends[0]) > 1e-6 else []
    return as_points([ends[0], *middle, ends[1]])


def _lies_still(part: Part, other: Part) -> bool:
    if part.is_anchored != other.is_anchored:
        return part.is_anchored
    return sum(edge.length for edge in part.edges) >= sum(edge.length for edge in other.edges)


def refuse_path(piece: Piece, dart: Dart, place: Sequence[float]) -> None:
    """Refuse a straight way from a place to the dart's pivot that crosses the legs of a dart with another pivot."""
    path = as_points((place, dart.pivot))
    for other in piece.darts:
        if gap(other.pivot, dart.pivot) <= 1e-6:
            continue
        if other.is_crossed_by(path):
            raise Refusal(
                f"On piece {piece.name} the way from the pivot of the {spoken(dart.name)} crosses the open "
                f"{spoken(other.name)}; choose a place on this side of it.",
                piece=piece.name,
            )


def _put_together(piece: Piece, dart: Dart, into: str, *, parts: list[Part], after_turned: bool) -> Piece:
    after, before = parts
    still, moved = (before, after) if after_turned else (after, before)
    darts, lines, landmarks = together(still, moved)
    into_base = next(edge for edge in piece.edges if edge.name == into).origin.edge
    closing = _bridged(dart.name, before.edges[-1], after.edges[0])
    opening = _bridged(into_base, after.edges[-1], before.edges[0])
    edges = named(closed(merged((*before.edges, *closing, *after.edges, *opening))))
    kept = _darts_now(piece, darts, edges)
    kept += tuple(_opened(dart, base) for base in opening if base.origin.edge not in {d.name for d in kept})
    return replace(piece, edges=edges, darts=with_bases(kept, edges), lines=lines, landmarks=landmarks)


def _bridged(name: str, before: Edge, after: Edge) -> tuple[Edge, ...]:
    """A base between two edges, or nothing where they meet."""
    first, last = before.points[-1], after.points[0]
    return (bridge(name, _pair(first), _pair(last)),) if gap(first, last) > NO_WIDTH else ()


def _pair(point: Points) -> Point:
    return (float(point[0]), float(point[1]))


def _darts_now(piece: Piece, moved: tuple[Dart, ...], edges: Sequence[Edge]) -> tuple[Dart, ...]:
    """The piece's darts that still have a base, those in a part as they lie now, the two at its ends re-measured."""
    lying = {dart.name: dart for dart in moved}
    bases = {edge.origin.edge: edge for edge in edges if edge.kind == "dart base"}
    return tuple(
        lying.get(dart.name) or _between_legs(dart, bases[dart.name]) for dart in piece.darts if dart.name in bases
    )


def _between_legs(dart: Dart, base: Edge) -> Dart:
    """The dart with its legs at the ends of its base now, its sewn point as far from the pivot as before."""
    legs = (_pair(base.points[0]), _pair(base.points[-1]))
    return replace(dart, legs=legs, point=on_centre_line(dart.pivot, legs, gap(dart.pivot, dart.point)))


def _opened(closing: Dart, base: Edge) -> Dart:
    """The dart that opens afresh at a base: it has the closing dart's pivot and set-back."""
    name = base.origin.edge
    return _between_legs(replace(closing, name=name, base=name), base)


def with_bases(darts: tuple[Dart, ...], edges: Sequence[Edge]) -> tuple[Dart, ...]:
    """The darts that have a base among the edges, each naming its base as it is called now."""
    names = {edge.origin.edge: edge.name for edge in edges if edge.kind == "dart base"}
    return tuple(replace(dart, base=names[dart.name]) for dart in darts if dart.name in names)


def on_centre_line(pivot: Point, legs: tuple[Point, Point], distance: float) -> Point:
    """The point on the line from the pivot midway between the legs, `distance` mm from the pivot."""
    middle = ((legs[0][0] + legs[1][0]) / 2, (legs[0][1] + legs[1][1]) / 2)
    reach = gap(pivot, middle)
    if reach < NO_WIDTH or distance == 0.0:
        return pivot
    share = distance / reach
    return (pivot[0] + share * (middle[0] - pivot[0]), pivot[1] + share * (middle[1] - pivot[1]))
