"""A tape laid along the edges of two pieces through the seam between them, as it will lie once they are sewn."""

from __future__ import annotations

from typing import TypeAlias

from core.geometry.polyline import as_point
from core.pieces.outline import OnLoop, along_outline, locate
from core.pieces.records import Piece
from core.pieces.seams import Match

Held: TypeAlias = tuple[Piece, OnLoop]
"""A place on the outline of a piece."""


def through_seam(found: Match, first: Held, second: Held) -> tuple[float, str] | None:
    """The shorter way in mm along both outlines by an end of the seam, and the name of that end.

    `first` lies on side a's piece, `second` on side b's; open darts on the way count as closed. None where neither end
    of the seam lies on both pieces.
    """
    ways = []
    for index, end in ((0, found.seam.ends[0]), (-1, found.seam.ends[1])):
        links = found.a[index], found.b[index]
        if all(link.piece is piece for link, (piece, _) in zip(links, (first, second), strict=True)):
            total = 0.0
            for link, (piece, on) in zip(links, (first, second), strict=True):
                corner, _ = locate(piece.edges, as_point(link.points[index]))
                total += along_outline(piece.edges, on, corner)
            ways.append((total, end))
    return min(ways, default=None)
