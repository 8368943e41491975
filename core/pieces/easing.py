"""Easing: a dart's angle sewn as ease or gathers along a stretch of its edge, so that no dart is left there.

The paper between the legs stays, the edge is drawn fair over the stretch, and is longer than it is sewn by the amount.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.pieces.filling import filled
from core.pieces.names import spoken
from core.pieces.outline import closed
from core.pieces.records import Dart, Eased, EaseKind, Edge, Piece
from core.pieces.truing import faired

MOST_EASE: Final = 0.1
"""Share of a stretch that woven cloth takes as ease without a pucker (common practice, no source); more is gathered."""

SHORTEST_REACH: Final = 10.0
"""Spread less far than this (mm) on each side, a dart is no ease but a pleat."""


class EasedIn(msgspec.Struct, frozen=True, eq=False):
    """The piece without the dart, and the record of what its edge holds in its place."""

    piece: Piece
    held: Eased


def eased_in(piece: Piece, dart: Dart, *, reach: float, kind: EaseKind) -> EasedIn:
    """The piece with a dart sewn as ease or gathers over `reach` mm of its edge on both sides of the dart.

    Refusal at a corner, when the edge does not go so far, and for more ease than a tenth of the stretch.
    """
    before, after = piece.neighbours(dart.base)
    paper = filled(piece, dart.name)
    _refuse_reach(piece, dart, reach, most=min(before.length, after.length))
    points = faired(paper.edge.points, paper.start - reach, paper.stop + reach, [])
    edge = replace(paper.edge, points=points)
    amount = edge.length - before.length - after.length
    if kind == "ease":
        _refuse_amount(piece, dart, reach, amount)
    start, stop = before.length - reach, edge.length - after.length + reach
    held = Eased(
        edge.origin.edge, edge.origin.side, _origin_at(edge, start), _origin_at(edge, stop), amount, dart.angle, kind
    )
    edges = closed([edge if other is paper.edge else other for other in paper.piece.edges])
    return EasedIn(replace(paper.piece, edges=edges, eased=(*_others(piece, before, after, edge), held)), held)


def eased_on(piece: Piece, edge: Edge) -> tuple[Eased, ...]:
    """What an edge of a piece holds as ease or gathers; of a stretch that was cut through, the part on this edge."""
    low, high = sorted((edge.origin.start, edge.origin.stop))
    found = []
    for held in piece.eased:
        start, stop = sorted(max(min(place, high), low) for place in (held.start, held.stop))
        if (held.edge, held.side) == (edge.origin.edge, edge.origin.side) and stop > start:
            share = (stop - start) / abs(held.stop - held.start)
            found.append(replace(held, start=start, stop=stop, amount=share * held.amount, angle=share * held.angle))
    return tuple(found)


def limits_on(edge: Edge, held: Eased) -> tuple[float, float]:
    """From where to where (mm along the edge as it lies) ease or gathers go that the edge holds."""
    span = edge.origin.stop - edge.origin.start
    first, last = sorted((place - edge.origin.start) / span * edge.length for place in (held.start, held.stop))
    return first, last


def _origin_at(edge: Edge, distance: float) -> float:
    return edge.origin.at(distance / edge.length)


def _others(piece: Piece, before: Edge, after: Edge, now: Edge) -> list[Eased]:
    """The piece's older records, those on the edge that has grown measured along it as it is now."""
    own = (now.origin.edge, now.origin.side)
    found = [held for held in piece.eased if (held.edge, held.side) != own]
    for edge, shift in ((before, 0.0), (after, now.length - after.length)):
        found += [_moved(held, limits_on(edge, held), now, shift=shift) for held in eased_on(piece, edge)]
    return found


def _moved(held: Eased, limits: Sequence[float], now: Edge, *, shift: float) -> Eased:
    start, stop = (_origin_at(now, place + shift) for place in limits)
    return replace(held, start=start, stop=stop)


def _refuse_reach(piece: Piece, dart: Dart, reach: float, *, most: float) -> None:
    if most < SHORTEST_REACH:
        raise Refusal(
            f"The {spoken(dart.name)} of piece {piece.name} opens {most:.0f} mm from the end of its edge, too near to "
            f"be eased or gathered there; choose a place farther along the edge.",
            piece=piece.name,
        )
    if not SHORTEST_REACH <= reach <= most:
        raise Refusal(
            f"The {spoken(dart.name)} of piece {piece.name} can be spread over {SHORTEST_REACH:.0f} mm to "
            f"{most:.0f} mm on each side, not {reach:.0f} mm; give a reach between.",
            piece=piece.name,
        )


def _refuse_amount(piece: Piece, dart: Dart, reach: float, amount: float) -> None:
    most = MOST_EASE * 2 * reach
    if amount > most:
        raise Refusal(
            f"The {spoken(dart.name)} of piece {piece.name} would be {amount:.0f} mm of ease on {2 * reach:.0f} mm, "
            f"more than the {most:.0f} mm that cloth takes without a pucker; gather it, spread it farther, or pivot a "
            f"smaller share.",
            piece=piece.name,
        )
