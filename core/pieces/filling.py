"""Filling: an open dart's gap bridged with paper, so that the edges beside it are one edge and no dart is left."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.polyline import joined
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, closed, named
from core.pieces.records import Dart, Edge, Piece
from core.pieces.truing import faired
from core.pieces.turning import turn, with_bases, with_opening


class Filled(msgspec.Struct, frozen=True, eq=False):
    """The piece without the dart, the edge that now runs over the paper, and where the paper lies along it (mm)."""

    piece: Piece
    edge: Edge
    start: float
    stop: float


def filled(piece: Piece, dart_name: str) -> Filled:
    """The piece with a dart's base filled with paper; the dart is gone.

    Refusal when the base lies between two different edges, at a corner.
    """
    index = next(i for i, edge in enumerate(piece.edges) if edge.origin.edge == dart_name)
    around = [piece.edges[(index + step) % len(piece.edges)] for step in range(-1, len(piece.edges) - 1)]
    before, base, after, *rest = around
    if (before.origin.edge, before.origin.side) != (after.origin.edge, after.origin.side):
        raise Refusal(
            f"The {spoken(dart_name)} of piece {piece.name} opens at a corner, where it cannot be filled; open it "
            f"farther along an edge.",
            piece=piece.name,
        )
    points = joined((before.points, base.points, after.points))
    whole = Edge(before.name, before.kind, points, replace(before.origin, stop=after.origin.stop))
    start = before.length
    return _with_whole(piece, whole, tuple(rest), span=(start, start + base.length))


def let_out(piece: Piece, dart: Dart, place: OnLoop, *, name: str, reach: float) -> Filled:
    """The piece with a dart closed, its angle let out at a place on its outline, and paper in the gap that opens there.

    The edge is drawn fair over `reach` mm on both sides of the paper, or as far as it goes. Refusal as for `turn`.
    """
    opened = with_opening(piece, place, name)
    into = next(edge for edge in opened.edges if edge.origin.edge == name)
    gap = filled(turn(opened, opened.dart(dart.name), into.name).piece, name)
    start, stop = max(gap.start - reach, 0.0), min(gap.stop + reach, gap.edge.length)
    fair = replace(gap.edge, points=faired(gap.edge.points, start, stop, []))
    edges = closed([fair if edge is gap.edge else edge for edge in gap.piece.edges])
    return Filled(replace(gap.piece, edges=edges), fair, gap.start, gap.stop)


def _with_whole(piece: Piece, whole: Edge, rest: tuple[Edge, ...], *, span: tuple[float, float]) -> Filled:
    edges = named(closed((whole, *rest)))
    edge = next(edge for edge in edges if edge.points is whole.points)
    darts = with_bases(piece.darts, edges)
    return Filled(replace(piece, edges=edges, darts=darts), edge, *span)
