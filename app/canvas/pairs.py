"""Pieces that lie together at a seam, as paper is laid edge to edge: which, and where each is turned and laid by it.

It is the table's own business: no pair is part of the design. A pair names its seam and finds its pieces anew whenever
the garment changes; while the garment has no such seam the pieces lie apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

import msgspec
from msgspec.structs import replace

from core.checks.walk import Contact, contact, from_end, with_sides_changed
from core.geometry.placement import Placement
from core.pieces.records import Garment, Piece
from core.pieces.seams import Match, match


class Pair(msgspec.Struct, frozen=True):
    """Two pieces that lie together at a seam, touching `along` mm from its first end (0) or its last (1).

    The piece on the seam's second side lies at that on its first, or the other way about with `turns_first`.
    """

    seam: str
    end: int = 0
    along: float = 0.0
    turns_first: bool = False

    def told(self, garment: Garment) -> Match | None:
        """The seam told from the end where they meet, the piece that lies still first; None when a side is gone."""
        if self.seam not in garment.seams:
            return None
        found = match(garment, garment.seam(self.seam))
        if not found.a or not found.b:
            return None
        found = from_end(found, self.end)
        return with_sides_changed(found) if self.turns_first else found

    def contact(self, garment: Garment) -> Contact | None:
        """How the second piece lies at the first; None when the garment does not hold such a pair."""
        found = self.told(garment)
        met = contact(found, self.along) if found is not None else None
        return None if met is None or met.still.piece is met.moving.piece else met


Held: TypeAlias = tuple[Pair, Contact]
"""A pair that the garment holds, with how its second piece lies at the first."""


class Pairs(msgspec.Struct, frozen=True, eq=False):
    """The pairs that lie on a table now; no piece lies at two others, and none lies at itself by way of others."""

    pairs: tuple[Pair, ...] = ()

    def contacts(self, garment: Garment) -> list[Held]:
        """The pairs that the garment holds, each with how its second piece lies."""
        found = [(pair, pair.contact(garment)) for pair in self.pairs]
        return [(pair, met) for pair, met in found if met is not None]

    def with_pair(self, garment: Garment, pair: Pair) -> Pairs:
        """With a pair laid; a piece that lies loose comes to one that lies together with others."""
        others = Pairs(tuple(old for old in self.pairs if old.seam != pair.seam))
        met = pair.contact(garment)
        if met is None:
            return self
        held = pieces_of(others.contacts(garment))
        still, moving = met.still.piece.name, met.moving.piece.name
        if moving in held and still not in held:
            pair = replace(pair, turns_first=not pair.turns_first)
            still, moving = moving, still
        lies_at = others._lies_at(garment)
        gone = {lies_at[moving][1]} if moving in lies_at else set()
        while still in lies_at:
            upper, by = lies_at.pop(still)
            if upper == moving:
                gone.add(by)
            still = upper
        return Pairs((*(old for old in others.pairs if old.seam not in gone), pair))

    def without(self, seam: str) -> Pairs:
        """With the pieces of a seam lying apart again."""
        return Pairs(tuple(pair for pair in self.pairs if pair.seam != seam))

    def _lies_at(self, garment: Garment) -> dict[str, tuple[str, str]]:
        """The piece that each turned piece lies at, and by which seam."""
        found = self.contacts(garment)
        return {met.moving.piece.name: (met.still.piece.name, pair.seam) for pair, met in found}

    def root(self, garment: Garment, piece: str) -> str:
        """The piece that a piece goes with: where that is moved, all that lies together with it goes along."""
        lies_at = self._lies_at(garment)
        while piece in lies_at:
            piece = lies_at.pop(piece)[0]
        return piece


def pieces_of(held: Sequence[Held]) -> frozenset[str]:
    """The pieces that lie together with another."""
    return frozenset(link.piece.name for _, met in held for link in (met.still, met.moving))


def laid_by(held: Sequence[Held], places: Mapping[str, Placement]) -> dict[str, Placement]:
    """How every piece lies, from how it would lie apart: a piece after the one that it lies at."""
    found, left = dict(places), [met for _, met in held]
    while left:
        wanted = {met.moving.piece.name for met in left}
        ready = [met for met in left if met.still.piece.name not in wanted]
        for met in ready:
            found[met.moving.piece.name] = met.placement.then(found[met.still.piece.name])
        left = [met for met in left if met not in ready] if ready else []
    return found


def darts_in(piece: Piece, edges: Iterable[str]) -> tuple[str, ...]:
    """The darts whose bases lie between two of the named edges of a piece: sewn before the seam is."""
    names = set(edges)
    return tuple(
        dart.name for dart in piece.darts if all(beside.name in names for beside in piece.neighbours(dart.base))
    )
