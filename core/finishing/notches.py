"""Notches: where two edges must meet, and where a dart's legs end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Final

from core.geometry.polyline import nearest
from core.geometry.tolerances import AT_PIVOT
from core.pieces.records import Garment, Piece
from core.pieces.seams import Link, Match, chain_length, matches

FROM_BUST_POINT: Final = 50.8
"""Seam notches stand 2 in above and below the bust point: a princess seam is shaped between them (common practice)."""

LONG_SEAM: Final = 150.0
SHARE: Final = 0.4
"""A longer seam (mm) that does not pass the bust point has one notch, out of its middle, so that it cannot be sewn the
wrong way up (common practice, trade.md D2)."""

FROM_CORNER: Final = 6.0
"""Nearer (mm) to a seam's end a notch would weaken the corner."""


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch on an edge, `at` mm from the edge's first point in loop order."""

    edge: str
    at: float


def dart_notches(piece: Piece) -> tuple[Notch, ...]:
    """A notch at both leg ends of every open dart, on its base."""
    return tuple(Notch(dart.base, at) for dart in piece.darts for at in (0.0, piece.edge(dart.base).length))


def seam_notches(garment: Garment) -> dict[str, tuple[Notch, ...]]:
    """The notches of every piece's seams, by the piece's name; opposite each other on both sides of a seam."""
    found: dict[str, list[Notch]] = {name: [] for name in garment.pieces}
    for match in matches(garment):
        for chain, distances in _opposite(match):
            for distance in distances:
                if FROM_CORNER <= distance <= chain_length(chain) - FROM_CORNER:
                    piece, notch = _on_chain(chain, distance)
                    found[piece].append(notch)
    return {name: tuple(notches) for name, notches in found.items()}


def _opposite(match: Match) -> Iterator[tuple[tuple[Link, ...], list[float]]]:
    """Both chains of a seam, each with the distances of its notches from the seam's first end.

    At the bust point each side is measured from its own bust point, so that what is eased lies outside the notches.
    Where two pieces of one side meet, the other side has a notch.
    """
    own = [_bust_point(chain) for chain in (match.a, match.b)]
    known = [place for place in own if place is not None]
    for chain, other, place in ((match.a, match.b, own[0]), (match.b, match.a, own[1])):
        joints = _joints(other)
        if known:
            middle = place if place is not None else known[0]
            yield chain, [middle - FROM_BUST_POINT, middle, middle + FROM_BUST_POINT, *joints]
        elif match.length_b >= LONG_SEAM and not (joints or _joints(chain)):
            yield chain, [SHARE * match.length_b]
        else:
            yield chain, joints


def _joints(chain: Sequence[Link]) -> list[float]:
    """Where along a chain one piece ends and the next begins, in mm."""
    ends = accumulate(link.edge.length for link in chain)
    return [end for end, (here, after) in zip(ends, pairwise(chain), strict=False) if here.piece is not after.piece]


def _bust_point(chain: Sequence[Link]) -> float | None:
    """How far along a chain its piece's bust point lies, in mm; None where the chain does not pass it."""
    reached = 0.0
    for link in chain:
        place = link.piece.landmarks.get("bust_point")
        if place is not None:
            along, off = nearest(link.points, place)
            if off <= AT_PIVOT:
                return reached + along
        reached += link.edge.length
    return None


def _on_chain(chain: Sequence[Link], distance: float) -> tuple[str, Notch]:
    """The piece's name and the notch at a distance from the chain's first end."""
    reached = 0.0
    for link in chain:
        size = link.edge.length
        if distance <= reached + size or link is chain[-1]:
            along = min(distance - reached, size)
            return link.piece.name, Notch(link.edge.name, size - along if link.reversed else along)
        reached += size
    raise ValueError("a chain without edges has no notches")


def mates(garment: Garment, numbers: dict[str, int]) -> dict[tuple[str, str], int]:
    """The number of the piece that each sewn edge meets at its middle, by the names of piece and edge."""
    found: dict[tuple[str, str], int] = {}
    for match in matches(garment):
        for here, there in ((match.a, match.b), (match.b, match.a)):
            if not there:
                continue
            share = chain_length(there) / max(chain_length(here), 1e-9)
            reached = 0.0
            for link in here:
                mate, _ = _on_chain(there, share * (reached + link.edge.length / 2))
                found[link.piece.name, link.edge.name] = numbers[mate]
                reached += link.edge.length
    return found
