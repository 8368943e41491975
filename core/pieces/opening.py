"""The opening: the edge of the main cloth that a sheer line leaves, as it lies round the bust point."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import msgspec
import numpy as np

from core.geometry.polyline import Points, as_points, distances
from core.pieces.cone import Cone, Values, away_from, lies_as_drafted, open_wedges
from core.pieces.names import is_right
from core.pieces.records import Edge, Garment, Line, Piece
from core.pieces.seams import Link, links

SPACING: Final = 1.0
"""The opening is read at places no farther apart than this (mm)."""


class Opening(msgspec.Struct, frozen=True, eq=False):
    """A sheer line about the bust point: distance along it from its first end (mm), radius (mm), closed angle; (N,)."""

    line: str
    along: Values
    radii: Values
    closed: Values

    @property
    def length(self) -> float:
        """Its whole length in mm."""
        return float(self.along[-1])

    def at(self, distance: float) -> tuple[float, float]:
        """Radius and closed angle at a distance along it."""
        return float(np.interp(distance, self.along, self.radii)), float(np.interp(distance, self.along, self.closed))


def sheer_lines(garment: Garment, block: str) -> tuple[str, ...]:
    """The names of the sheer lines of a block, cut or only drawn, in the order they were made."""
    drawn = [
        line.name
        for piece in garment.pieces.values()
        if piece.block == block
        for line in piece.lines
        if line.purpose == "sheer"
    ]
    cut = [name for name in garment.seams if name.startswith(f"{block}.sheer_line")]
    return tuple(dict.fromkeys((*cut, *drawn)))


def opening_pieces(garment: Garment, block: str, line: str) -> tuple[Piece, ...]:
    """The pieces from which the opening is read; none where no piece along it holds the centre front."""
    chain = _chain(garment, block, line)
    if chain:
        return tuple(dict.fromkeys(link.piece for link in chain))
    drawn = _drawn_on(garment, block, line)
    return (drawn[0],) if drawn else ()


def opening_of(garment: Garment, block: str, cone: Cone, line: str) -> Opening | None:
    """The opening along a sheer line, or None where no piece along it holds the centre front.

    Such a piece never turned, so places on it are counted round the bust point as on the block.
    """
    chain = _chain(garment, block, line)
    if chain:
        return _read_along(line, cone, tuple((link.piece, link.edge, link.reversed) for link in chain))
    drawn = _drawn_on(garment, block, line)
    if drawn is None:
        return None
    return _read(line, cone, [(drawn[0], stretch) for stretch in drawn[1].stretches])


@lru_cache(maxsize=8)
def _read_along(line: str, cone: Cone, chain: tuple[tuple[Piece, Edge, bool], ...]) -> Opening:
    """The opening along edges, remembered: while only the cup is altered it stays."""
    return _read(line, cone, [(piece, Link(piece, edge, turned).points) for piece, edge, turned in chain])


def _chain(garment: Garment, block: str, line: str) -> tuple[Link, ...]:
    """The side of the cut line that lies as it was drafted; where both do, the one of fewer pieces."""
    seam = garment.seams.get(line)
    if seam is None:
        return ()
    sides = [links(garment, seam.a), links(garment, seam.b)]
    sides = [
        tuple(link for link in side if not is_right(link.edge.origin.edge))
        for side in sides
        if side and all(lies_as_drafted(link.piece, block) for link in side)
    ]
    return min((side for side in sides if side), key=len, default=())


def _drawn_on(garment: Garment, block: str, line: str) -> tuple[Piece, Line] | None:
    for piece in garment.pieces.values():
        for drawn in piece.lines:
            if drawn.name == line and lies_as_drafted(piece, block):
                return piece, drawn
    return None


def _read(line: str, cone: Cone, paths: list[tuple[Piece, Points]]) -> Opening:
    along: list[Values] = []
    polar: list[tuple[Values, Values]] = []
    reached = 0.0
    for piece, path in paths:
        known = distances(path)
        here = np.linspace(0.0, known[-1], max(int(known[-1] / SPACING), 1) + 1)
        places = as_points(np.column_stack([np.interp(here, known, path[:, i]) for i in (0, 1)]))
        wedges, gap_at = open_wedges(piece, cone.centre), away_from(piece, cone.centre)
        polar.append(cone.polar(places, wedges, gap_at=gap_at))
        along.append(reached + here)
        reached += float(known[-1])
    return Opening(
        line,
        np.concatenate(along),
        np.concatenate([radii for radii, _ in polar]),
        np.concatenate([closed for _, closed in polar]),
    )
