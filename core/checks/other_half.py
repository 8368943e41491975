"""Pieces that are cut once, for one half of the body, while nothing is cut for the other half."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Final

from core.pieces.names import RIGHT
from core.pieces.records import Edge, Garment, Piece, Side

SHARED: Final = 1e-3
"""Stretches of an edge that share less (mm) only touch."""


def lacking_other_half(garment: Garment) -> Iterator[tuple[str, Side]]:
    """The names of such pieces, each with the wearer's half that it is for.

    Judged by the edges that no drawn line left, as those are on both halves of a body: one whose every stretch no piece
    holds for the other half has no mate. A panel that is bounded by drawn lines alone may be meant for one half.
    """
    held = defaultdict(list)
    for piece in garment.pieces.values():
        for edge in _given(piece):
            held[_of_both(edge)].append((piece, edge))
    for piece in garment.pieces.values():
        halves = {half_of(edge) for edge in _given(piece)}
        if piece.is_single and len(halves) == 1:
            mates = (other for edge in _given(piece) for other in held[_of_both(edge)] if _lies_beyond(edge, *other))
            if next(mates, None) is None:
                yield piece.name, halves.pop()


def half_of(edge: Edge) -> Side:
    """The half of the body on which an edge of a block is worn: turned over, it is travelled the other way."""
    return "left" if edge.origin.start < edge.origin.stop else "right"


def _given(piece: Piece) -> list[Edge]:
    """The edges of a block or a cup, which have no side as those have that a drawn line or a dart's leg left."""
    return [edge for edge in piece.edges if not edge.origin.side and edge.kind not in ("fold", "dart base")]


def _of_both(edge: Edge) -> str:
    """The name of its origin that the left and the right half share."""
    return ".".join(word for word in edge.origin.edge.split(".") if word != RIGHT)


def _lies_beyond(edge: Edge, piece: Piece, other: Edge) -> bool:
    """Whether a piece holds some of the same stretch for the other half, or for both halves."""
    (low, high), (start, stop) = (
        sorted((edge.origin.start, edge.origin.stop)),
        sorted((other.origin.start, other.origin.stop)),
    )
    return min(high, stop) - max(low, start) > SHARED and (not piece.is_single or half_of(other) != half_of(edge))
