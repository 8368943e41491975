"""Places as a dressmaker says them: "3 1/2 in from the neck along the shoulder", "7 1/2 in below the side neck"."""

from __future__ import annotations

import re
from typing import Final

import msgspec

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.names import spoken
from core.pieces.places import Place, resolved_point
from core.pieces.records import Garment, OriginEdge, Piece
from core.units import Unit, parse_length

LONGEST: Final = 120
"""Characters of a place in words."""

AT_END: Final = 2.0
"""mm from an edge's end within which a landmark names that end."""

WAYS: Final[dict[str, Point]] = {
    "below": (0.0, -1.0),
    "above": (0.0, 1.0),
    "towards the side of": (1.0, 0.0),
    "towards the centre of": (-1.0, 0.0),
}
"""Directions on the front; on the back the side lies the other way."""

EXAMPLES: Final = "“3 1/2 in from the neck along the shoulder”, “mid armhole” or “7 1/2 in below the side neck point”"

_ALONG: Final = re.compile(r"(.+?) from (?:the )?(.+?) along (?:the )?(.+)")
_MIDDLE: Final = re.compile(r"(?:mid|the middle of|middle of)[ -](?:the )?(.+)")
_OFF: Final = re.compile(rf"(.+?) ({'|'.join(WAYS)}) (?:the )?(.+)")
_SQUARE: Final = re.compile(
    r"(.+?) from (?:the )?centre(?: front| back)?,? (?:and )?(.+?) (above|below) (?:the )?waist"
)


class TypedPlace(msgspec.Struct, frozen=True):
    """The point meant, in the piece's mm, and what is stored of it so that it holds when the piece changes."""

    at: Point
    landmark: str = ""
    place: Place | None = None


def typed_place(garment: Garment, piece: Piece, text: str, unit: Unit) -> TypedPlace:
    """The place on a piece that a text means; bare numbers are in `unit`.

    Understood: a landmark; "mid EDGE"; LENGTH "from" END "along" EDGE; LENGTH "below", "above", "towards the side of"
    or "towards the centre of" a landmark; LENGTH "from the centre," LENGTH "above the waist". Refusal, with examples or
    with the names that this piece has, for anything else.
    """
    words = " ".join(text.casefold().split()).rstrip(".")
    if not words or len(words) > LONGEST:
        raise Refusal(f"Type a place like {EXAMPLES}.")
    landmark = _landmark(piece, words)
    if landmark:
        return TypedPlace(piece.landmarks[landmark], landmark=landmark)
    if found := _MIDDLE.fullmatch(words):
        origin = _edge(garment, piece, found[1])
        return _on_edge(garment, piece, Place(origin.name, origin.ends[0], share=0.5))
    if found := _SQUARE.fullmatch(words):
        out, up = parse_length(found[1], unit), parse_length(found[2], unit)
        return TypedPlace((_outward(piece) * out, up if found[3] == "above" else -up))
    if found := _ALONG.fullmatch(words):
        return _along(garment, piece, parse_length(found[1], unit), end=found[2], edge=found[3])
    if found := _OFF.fullmatch(words):
        return _off_landmark(piece, parse_length(found[1], unit), way=found[2], name=found[3])
    raise Refusal(f"“{text.strip()}” is no place that is understood: write it like {EXAMPLES}.")


def _along(garment: Garment, piece: Piece, length: float, *, end: str, edge: str) -> TypedPlace:
    origin = _edge(garment, piece, edge)
    for name in origin.ends:
        at_end = Place(origin.name, name, distance=0.0)
        if end in (spoken(name), f"{spoken(name)} point") or _names_end(garment, piece, at_end, end):
            return _on_edge(garment, piece, Place(origin.name, name, distance=length))
    ends = " and ".join(spoken(name) for name in origin.ends)
    raise Refusal(
        f"The {spoken(origin.name)} of piece {piece.name} ends at {ends}, not at {end}; count from one of them."
    )


def _names_end(garment: Garment, piece: Piece, end: Place, words: str) -> bool:
    """Whether words name a landmark that lies at an end of an edge."""
    name = _landmark(piece, words)
    if not name:
        return False
    try:
        at = resolved_point(garment, piece, end)
    except Refusal:
        return False
    return gap(at, piece.landmarks[name]) <= AT_END


def _off_landmark(piece: Piece, length: float, *, way: str, name: str) -> TypedPlace:
    landmark = _landmark(piece, name)
    if not landmark:
        known = ", ".join(sorted(spoken(mark) for mark in piece.landmarks)) or "none"
        raise Refusal(f"Piece {piece.name} has no landmark {name}; it has {known}.")
    (x, y), (dx, dy) = piece.landmarks[landmark], WAYS[way]
    return TypedPlace((x + length * dx * _outward(piece), y + length * dy))


def _on_edge(garment: Garment, piece: Piece, place: Place) -> TypedPlace:
    return TypedPlace(resolved_point(garment, piece, place), place=place)


def _landmark(piece: Piece, words: str) -> str:
    names = (words, words.removesuffix(" point"), f"{words} point")
    return next((mark for mark in piece.landmarks if spoken(mark) in names), "")


def _edge(garment: Garment, piece: Piece, words: str) -> OriginEdge:
    """The original edge or drawn line of a piece that words name."""
    names = [edge.origin.edge for edge in piece.edges if edge.kind != "dart base"]
    names += [line.name for line in piece.lines]
    known = {spoken(name): name for name in names if name in garment.origins}
    if words not in known:
        raise Refusal(f"Piece {piece.name} has no edge {words}; it has {', '.join(known)}.", piece=piece.name)
    return garment.origins[known[words]]


def _outward(piece: Piece) -> float:
    """Which way the side lies: to larger x on the wearer's left front, to smaller on the left back."""
    return 1.0 if float(piece.loop[:, 0].mean()) >= 0.0 else -1.0
