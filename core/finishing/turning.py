"""Pieces cut double, sewn closed round their edge and turned: where the hand gets in, and what is said of it."""

from __future__ import annotations

from core.design.finishes import LEAST_GAP, Doubled
from core.errors import Refusal
from core.pieces.names import spoken
from core.pieces.records import Edge, Garment, Piece
from core.units import Unit, show_length


def turned(garment: Garment, name: str, *, through: str = "shoulder", unit: Unit, gap: float = LEAST_GAP) -> Doubled:
    """A piece cut double and turned through the edge of that name, with the usual allowances.

    Refusal, with the edges that would do, where the piece has no such edge, as a yoke that runs over the shoulder
    without a seam there (cutting.md 26), or the edge or the gap is shorter than 60 mm.
    """
    piece = garment.piece(name)
    if gap < LEAST_GAP:
        raise Refusal(
            f"A turning gap of {show_length(gap, unit)} in piece {name} is too short for a hand; give "
            f"{show_length(LEAST_GAP, unit)} or more.",
            piece=name,
        )
    found = [edge for edge in piece.edges if through in (edge.name, spoken(edge.origin.edge), edge.origin.edge)]
    long_enough = [edge for edge in found if _takes(edge, gap)]
    if not long_enough:
        why = f"it is shorter than the gap of {show_length(gap, unit)}" if found else "it has none"
        raise Refusal(
            f"Piece {name} cannot be turned through the {spoken(through)}: {why}; {_way_out(piece, gap)}.",
            piece=name,
            edge=through,
        )
    edge = max(long_enough, key=lambda one: one.length)
    return Doubled(name, edge.origin.edge, edge.origin.side, gap)


def gap_places(piece: Piece, gap: float = LEAST_GAP) -> tuple[Edge, ...]:
    """The edges of a piece that are long enough for a turning gap, a shoulder first, then the longest."""
    found = [edge for edge in piece.edges if _takes(edge, gap)]
    return tuple(sorted(found, key=lambda edge: ("shoulder" not in edge.origin.edge, -edge.length)))


def _takes(edge: Edge, gap: float) -> bool:
    return edge.kind not in ("fold", "dart base") and edge.length >= gap


def _way_out(piece: Piece, gap: float) -> str:
    places = ", ".join(spoken(edge.name) for edge in gap_places(piece, gap))
    return f"leave the gap in another edge ({places})" if places else "bind its edge instead, or cut it single"


def turning_words(doubled: Doubled, piece: Piece, unit: Unit) -> tuple[str, ...]:
    """How the piece is sewn, one sentence a step."""
    shown = show_length(doubled.gap, unit)
    edge = next((e for e in piece.edges if (e.origin.edge, e.origin.side) == (doubled.through, doubled.side)), None)
    where = spoken(edge.name if edge else doubled.through)
    words = [
        f"Cut {piece.name} double and lay the two layers right sides together, the stretch of both the same way.",
        f"Sew round the edge and leave a turning gap of {shown} in the {where}.",
    ]
    if doubled.allowance > doubled.trimmed:
        trimmed = show_length(doubled.trimmed, unit)
        words.append(f"Trim the allowance from {show_length(doubled.allowance, unit)} to {trimmed}, not at the gap.")
    words.append(f"Turn it through the gap, roll the seam to the edge, and close the {where} when it is sewn in.")
    return tuple(words)
