"""Notches: where two edges must meet, and where a dart's legs end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, pairwise
from typing import Final

import msgspec

from core.geometry.polyline import nearest
from core.pieces.easing import eased_on, limits_on
from core.pieces.names import RIGHT
from core.pieces.records import Garment, Piece
from core.pieces.seams import Link, Match, chain_length, matches, on_chain, seams_of

FROM_BUST_POINT: Final = 50.8
"""Seam notches stand 2 in above and below the bust point: a princess seam is shaped between them (common practice)."""

NEAR_BUST_POINT: Final = 25.4
"""A seam that passes the bust point no farther away than this (mm) is shaped by it: 1 in (trade.md C5)."""

LONG_SEAM: Final = 150.0
SHARE: Final = 0.4
"""A longer seam (mm) that does not pass the bust point has one notch, out of its middle, so that it cannot be sewn the
wrong way up (common practice, trade.md D2)."""

FROM_END: Final = 254.0
"""Longer still it is notched 10 in from its ends (a factory pattern-maker's rule, at second hand, trade.md D2)."""

FROM_CORNER: Final = 6.0
"""Nearer (mm) to the end of a seam or an edge a notch would weaken the corner."""

APART: Final = 25.0
"""Notches of one seam keep so far apart, in mm (common practice)."""


class Notch(msgspec.Struct, frozen=True):
    """A notch on an edge, `at` mm from the edge's first point in loop order.

    Front seams have single notches, back seams double ones (the trade's convention, trade.md D2).
    """

    edge: str
    at: float
    is_double: bool = False


def dart_notches(piece: Piece) -> tuple[Notch, ...]:
    """A notch at both leg ends of every open dart, on its base."""
    return tuple(Notch(dart.base, at) for dart in piece.darts for at in (0.0, piece.edge(dart.base).length))


def seam_notches(garment: Garment) -> dict[str, tuple[Notch, ...]]:
    """The notches of every piece's seams, by the piece's name; opposite each other on both sides of a seam."""
    found: dict[str, list[Notch]] = {name: list(_unsewn_limits(garment, name)) for name in garment.pieces}
    for match in matches(garment):
        is_double = bool(match.a and match.b) and all(link.piece.block == "back" for link in (*match.a, *match.b))
        for chain, distances in _opposite(match):
            for distance in distances:
                if FROM_CORNER <= distance <= chain_length(chain) - FROM_CORNER:
                    link, along = on_chain(chain, distance)
                    found[link.piece.name].append(Notch(link.edge.name, link.on_edge(along), is_double))
    return {name: tuple(notches) for name, notches in found.items()}


def _unsewn_limits(garment: Garment, name: str) -> Iterator[Notch]:
    """The notches of a piece where ease or gathers begin and end on edges that are in no seam, as at the skirt."""
    piece = garment.pieces[name]
    for edge in piece.edges:
        held = eased_on(piece, edge)
        if held and not seams_of(garment, edge):
            yield from (Notch(edge.name, at) for one in held for at in limits_on(edge, one))


def _opposite(match: Match) -> Iterator[tuple[tuple[Link, ...], list[float]]]:
    """Both chains of a seam, each with the distances of its notches from the seam's first end.

    At the bust point each side is measured from its own bust point, so that what is eased lies outside the notches.
    Where two pieces of one side meet, the other side has a notch, and where ease begins and ends, both have.
    """
    own = [_bust_point(chain) for chain in (match.a, match.b)]
    known = [place for place in own if place is not None]
    for chain, other, place in ((match.a, match.b, own[0]), (match.b, match.a, own[1])):
        joints = [*_joints(other), *_limits(chain, other)]
        if known:
            middle = place if place is not None else known[0]
            yield chain, [middle - FROM_BUST_POINT, middle, middle + FROM_BUST_POINT, *joints]
        elif joints or _joints(chain):
            yield chain, joints
        else:
            yield chain, _along(min(match.length_a, match.length_b))


def _limits(chain: Sequence[Link], other: Sequence[Link]) -> list[float]:
    """Where along a chain ease or gathers begin and end that it or its mate holds, in mm.

    Opposite what the mate holds it is measured from the end on the same side, as the longer side's extra lies between.
    """
    shorter = chain_length(tuple(other)) - chain_length(tuple(chain))
    return [*(at for pair in _eased(chain) for at in pair), *(x for a, b in _eased(other) for x in (a, b - shorter))]


def _eased(chain: Sequence[Link]) -> Iterator[tuple[float, float]]:
    """From where to where along a chain its edges hold ease or gathers, in mm from its first end."""
    reached = 0.0
    for link in chain:
        for held in eased_on(link.piece, link.edge):
            first, last = limits_on(link.edge, held)
            if link.reversed:
                first, last = link.edge.length - last, link.edge.length - first
            yield reached + first, reached + last
        reached += link.edge.length


def _along(size: float) -> list[float]:
    """The notches of a seam that long which passes no bust point and has no joints; not the same from both ends."""
    if size < LONG_SEAM:
        return []
    uneven = SHARE * size
    if size < FROM_END + APART or abs(FROM_END - size / 2) < APART:
        return [uneven]
    if size < 2 * FROM_END:
        return [FROM_END]
    # Two alone, each as far from its end, would be the same from both.
    third = uneven if abs(uneven - FROM_END) >= APART else FROM_END - APART
    return sorted([FROM_END, third, size - FROM_END])


def _joints(chain: Sequence[Link]) -> list[float]:
    """Where along a chain one piece ends and the next begins, in mm."""
    ends = accumulate(link.edge.length for link in chain)
    return [end for end, (here, after) in zip(ends, pairwise(chain), strict=False) if here.piece is not after.piece]


def _bust_point(chain: Sequence[Link]) -> float | None:
    """How far along a chain its piece's bust point lies, in mm; None where the chain does not pass it."""
    reached = 0.0
    for link in chain:
        for name in ("bust_point", f"{RIGHT}.bust_point"):
            place = link.piece.landmarks.get(name)
            if place is not None:
                along, off = nearest(link.points, place)
                if off <= NEAR_BUST_POINT:
                    return reached + along
        reached += link.edge.length
    return None


class Mate(msgspec.Struct, frozen=True):
    """The number of a piece that is sewn to an edge, and from where to where along it, in mm in loop order."""

    number: int
    start: float
    stop: float


def mates(garment: Garment, numbers: Mapping[str, int]) -> dict[tuple[str, str], tuple[Mate, ...]]:
    """The pieces that each sewn edge meets, in loop order, by the names of piece and edge.

    One that meets less than 6 mm of an edge is left out beside another: what one side is longer moves ends that far.
    """
    found: dict[tuple[str, str], tuple[Mate, ...]] = {}
    for match in matches(garment):
        for here, there in ((match.a, match.b), (match.b, match.a)):
            if not there:
                continue
            runs = _runs(there, chain_length(here) / max(chain_length(there), 1e-9))
            reached = 0.0
            for link in here:
                found[link.piece.name, link.edge.name] = tuple(_met(link, reached, runs, numbers))
                reached += link.edge.length
    return found


def _runs(chain: Sequence[Link], share: float) -> list[tuple[str, float, float]]:
    """The pieces along a chain, each from where to where (mm times `share`); neighbouring edges of one are one run."""
    runs: list[tuple[str, float, float]] = []
    reached = 0.0
    for link in chain:
        start, reached = reached, reached + share * link.edge.length
        if runs and runs[-1][0] == link.piece.name:
            start = runs.pop()[1]
        runs.append((link.piece.name, start, reached))
    return runs


def _met(
    link: Link, reached: float, runs: Sequence[tuple[str, float, float]], numbers: Mapping[str, int]
) -> Iterator[Mate]:
    """What an edge that begins at `reached` along its chain meets of the runs of the other one."""
    size = link.edge.length
    parts = [(name, max(start - reached, 0.0), min(stop - reached, size)) for name, start, stop in runs]
    longest = max(stop - start for _, start, stop in parts)
    for name, start, stop in reversed(parts) if link.reversed else parts:
        if stop - start >= min(FROM_CORNER, longest):
            first, last = (size - stop, size - start) if link.reversed else (start, stop)
            yield Mate(numbers[name], first, last)
