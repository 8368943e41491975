"""Seams resolved to the edges that hold them now: chains, lengths, differences."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from weakref import WeakKeyDictionary

import msgspec

from core.geometry.polyline import Points, backwards, joined
from core.pieces.records import Edge, Garment, Piece, Seam, Side, Span


class Link(msgspec.Struct, frozen=True, eq=False):
    """One edge of a chain. `reversed`: the seam runs against the edge's loop direction."""

    piece: Piece
    edge: Edge
    reversed: bool

    @property
    def points(self) -> Points:
        """The edge's points (N, 2) in the seam's direction, in the piece's own frame."""
        return backwards(self.edge.points) if self.reversed else self.edge.points

    def on_edge(self, along: float) -> float:
        """A distance (mm) along the seam's way over this edge, counted from the edge's own first point."""
        return self.edge.length - along if self.reversed else along


def links(garment: Garment, spans: tuple[Span, ...]) -> tuple[Link, ...]:
    """The edges that hold a chain, in the seam's direction."""
    return tuple(link for span in spans for link in _links_of(garment, span))


def _links_of(garment: Garment, span: Span) -> list[Link]:
    found = [
        Link(piece, edge, (edge.origin.start > edge.origin.stop) != span.backwards)
        for piece, edge in holding(garment, span.edge, span.side)
        if edge.kind != "dart base"
    ]
    return sorted(found, key=lambda link: _middle(link.edge), reverse=span.backwards)


def holding(garment: Garment, origin: str, side: Side = "") -> Sequence[tuple[Piece, Edge]]:
    """The edges that hold a side of an original edge now, each with its piece, in the garment's order."""
    held = _HELD.get(garment)
    if held is None:
        held = _HELD[garment] = _by_origin(garment)
    return held.get((origin, side), ())


def _by_origin(garment: Garment) -> Mapping[tuple[str, Side], Sequence[tuple[Piece, Edge]]]:
    held: dict[tuple[str, Side], list[tuple[Piece, Edge]]] = {}
    for piece, edge in garment.edges():
        held.setdefault((edge.origin.edge, edge.origin.side), []).append((piece, edge))
    return held


_HELD: WeakKeyDictionary[Garment, Mapping[tuple[str, Side], Sequence[tuple[Piece, Edge]]]] = WeakKeyDictionary()
"""Edges of garments that are still held, by what they descend from; garments never change."""


def _middle(edge: Edge) -> float:
    return (edge.origin.start + edge.origin.stop) / 2


def chain_length(chain: tuple[Link, ...]) -> float:
    """Sewn length of a chain in mm; open darts in it are not counted, as they are sewn shut first."""
    return sum(link.edge.length for link in chain)


def on_chain(chain: Sequence[Link], along: float, *, slack: float = 0.0) -> tuple[Link, float]:
    """The link that holds a distance from a chain's first end (mm), and how far along the seam's way over it that is.

    What lies past an end of the chain is held by that end; `slack` mm past a link still belong to it. ValueError for a
    chain without links.
    """
    for link in chain:
        if along <= link.edge.length + slack or link is chain[-1]:
            return link, min(max(along, 0.0), link.edge.length)
        along -= link.edge.length
    raise ValueError("a side of a seam that has lost its edges holds no place")


class Match(msgspec.Struct, frozen=True, eq=False):
    """A seam with its two chains and what they measure, in mm. difference = length_a - length_b - ease."""

    seam: Seam
    a: tuple[Link, ...]
    b: tuple[Link, ...]
    length_a: float
    length_b: float

    @property
    def difference(self) -> float:
        """How much `a` is too long (positive) or too short (negative) for `b`, wanted ease allowed for."""
        return self.length_a - self.length_b - self.seam.ease

    @property
    def pieces(self) -> tuple[str, ...]:
        """Names of the pieces that the seam joins, each once."""
        return tuple(dict.fromkeys(link.piece.name for link in (*self.a, *self.b)))


def match(garment: Garment, seam: Seam) -> Match:
    """The seam as the garment holds it now."""
    a, b = links(garment, seam.a), links(garment, seam.b)
    return Match(seam, a, b, chain_length(a), chain_length(b))


def matches(garment: Garment) -> tuple[Match, ...]:
    """Every seam of the garment, in order; found once for a garment, as many views ask."""
    if garment not in _FOUND:
        _FOUND[garment] = tuple(match(garment, seam) for seam in garment.seams.values())
    return _FOUND[garment]


_FOUND: WeakKeyDictionary[Garment, tuple[Match, ...]] = WeakKeyDictionary()
"""Matches of garments that are still held; garments are compared by identity and never change."""


def seams_of(garment: Garment, edge: Edge) -> tuple[Seam, ...]:
    """The seams in which an edge is sewn."""
    key = (edge.origin.edge, edge.origin.side)
    return tuple(
        seam for seam in garment.seams.values() if key in {(span.edge, span.side) for span in (*seam.a, *seam.b)}
    )


def chain_points(chain: tuple[Link, ...]) -> Points:
    """The chain's points end to end, each edge as it lies in its own piece (N, 2)."""
    return joined([link.points for link in chain])
