"""From what is typed about an edge to the design's record of it, and back to words."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec

from core.design.finishes import BUTTON_EXTENSION, EdgeFinish, EdgeUse
from core.errors import Refusal
from core.geometry.margins import EndKind
from core.pieces.names import spoken
from core.pieces.places import place_at
from core.pieces.records import Edge, Garment, Piece
from core.units import Unit, parse_length, show_as_meant, show_length

WIDEST: Final = 100.0
"""No allowance is wider, in mm."""

End: TypeAlias = EndKind | Literal[""]


class EdgeWish(msgspec.Struct, frozen=True):
    """What is typed about an edge. Empty texts mean "as usual" and "all of the edge".

    `start` and `stop` are counted from the edge's first point in loop order, or its last where `from_last`. `ends` are
    those of the allowance in loop order.
    """

    use: EdgeUse = "plain"
    allowance: str = ""
    start: str = ""
    stop: str = ""
    from_last: bool = False
    ends: tuple[End, End] = ("", "")
    extension: str = ""


def ends_of(piece: Piece, edge: Edge) -> tuple[str, str]:
    """What lies at an edge's first and last point, as it is spoken."""
    before, after = piece.neighbours(edge.name)
    return spoken(before.name), spoken(after.name)


def edge_finish(garment: Garment, piece: Piece, edge: Edge, *, wish: EdgeWish, unit: Unit) -> EdgeFinish:
    """The record. Refusal, with piece, edge and way out, for what is no length, negative or not on the edge."""
    held = edge.origin
    if edge.kind in ("fold", "dart base"):
        raise Refusal(
            f"The {spoken(edge.name)} of piece {piece.name} is a {edge.kind} and has no finish; choose another edge.",
            piece=piece.name,
            edge=edge.name,
        )
    allowance = _length(wish.allowance, unit, _where(piece, edge))
    if wish.start.strip() or wish.stop.strip():
        if allowance is None:
            raise Refusal(f"Give the allowance of the stretch of the {_where(piece, edge)}.", piece=piece.name)
        first, last = _stretch(piece, edge, wish, unit)
        places = place_at(garment, edge, first), place_at(garment, edge, last)
        return EdgeFinish(piece.name, held.edge, held.side, "plain", allowance, *places)
    ends = wish.ends if held.start <= held.stop else (wish.ends[1], wish.ends[0])
    extension = _length(wish.extension, unit, _where(piece, edge))
    return EdgeFinish(
        piece.name,
        held.edge,
        held.side,
        wish.use,
        allowance,
        ends=ends,
        extension=BUTTON_EXTENSION if extension is None else extension,
    )


def wish_of(edge: Edge, finish: EdgeFinish | None, unit: Unit) -> EdgeWish:
    """What stands in the fields for a finish of a whole edge."""
    if finish is None:
        return EdgeWish(extension=show_as_meant(BUTTON_EXTENSION, unit))
    first, last = finish.ends
    ends = (first, last) if edge.origin.start <= edge.origin.stop else (last, first)
    allowance = "" if finish.allowance is None else show_as_meant(finish.allowance, unit)
    return EdgeWish(finish.use, allowance, ends=ends, extension=show_as_meant(finish.extension, unit))


def _where(piece: Piece, edge: Edge) -> str:
    return f"{spoken(edge.name)} of piece {piece.name}"


def _length(text: str, unit: Unit, where: str) -> float | None:
    if not text.strip():
        return None
    length = parse_length(text, unit)
    if not 0.0 <= length <= WIDEST:
        raise Refusal(
            f"The {where} cannot have {show_length(length, unit)} outside it; give from 0 to "
            f"{show_length(WIDEST, unit)}."
        )
    return length


def _stretch(piece: Piece, edge: Edge, wish: EdgeWish, unit: Unit) -> tuple[float, float]:
    """From where to where in mm from the edge's first point."""
    start = parse_length(wish.start, unit) if wish.start.strip() else 0.0
    stop = parse_length(wish.stop, unit) if wish.stop.strip() else edge.length
    if not 0.0 <= start < stop <= edge.length + 0.5:
        raise Refusal(
            f"There is no stretch of the {_where(piece, edge)} from {show_length(start, unit)} to "
            f"{show_length(stop, unit)}; the edge is {show_length(edge.length, unit)} long.",
            piece=piece.name,
            edge=edge.name,
        )
    stop = min(stop, edge.length)
    return (edge.length - stop, edge.length - start) if wish.from_last else (start, stop)
