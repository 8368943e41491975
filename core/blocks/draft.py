"""Drafting a block: the methods by name, and the garment that a new block is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import msgspec

from core.blocks.armhole_dart import armhole_dart
from core.blocks.assembly import Blocks, origins_of
from core.blocks.ease import Ease, refuse_absurd
from core.blocks.shoulder_dart import shoulder_dart
from core.blocks.tape import tape
from core.body.body import Measured
from core.errors import Refusal
from core.geometry.planar import is_simple_loop
from core.pieces.records import Garment, Piece, Seam, Span


class Method(msgspec.Struct, frozen=True):
    """A way of drafting: its name in files and on the command line, plain words, and the recipe."""

    name: str
    words: str
    recipe: Callable[[Measured, Ease], Blocks]


METHODS: Final[Mapping[str, Method]] = {
    method.name: method
    for method in (
        Method("tape", "From the client's own measurements, each length laid down as the tape read it.", tape),
        Method(
            "shoulder-dart",
            "Close-fitting, shoulder dart: a handbook's neck, shoulders and armholes on the client's own lengths.",
            shoulder_dart,
        ),
        Method(
            "armhole-dart",
            "Armhole dart, six waist darts: by proportion from bust, waist and back waist length; of the ease it takes "
            "that of bust, waist and shoulder.",
            armhole_dart,
        ),
    )
}


class Draft(msgspec.Struct, frozen=True, eq=False):
    """A new garment, and what the drafting wants to say about it in plain sentences."""

    garment: Garment
    notes: tuple[str, ...]


def draft(measured: Measured, ease: Ease, method: str = "tape") -> Garment:
    """The front and back bodice block to the waist for a measured body.

    Refusal for an unknown method, for an absurd ease, and for measurements that cannot be drafted, by their names.
    """
    return drafted(measured, ease, method).garment


def drafted(measured: Measured, ease: Ease, method: str = "tape") -> Draft:
    """As `draft`, with the notes."""
    if method not in METHODS:
        raise Refusal(f"There is no drafting method {method}; choose one of: {', '.join(METHODS)}.")
    refuse_absurd(ease)
    blocks = METHODS[method].recipe(measured, ease)
    return Draft(garment_of(blocks, ease), blocks.notes)


def garment_of(blocks: Blocks, ease: Ease) -> Garment:
    """The garment that two drafted pieces are: seams, open edges, origins. Refusal for an outline that crosses."""
    pieces = {piece.name: piece for piece in (blocks.front, blocks.back)}
    for piece in pieces.values():
        _refuse_crossing(piece)
    return Garment(
        pieces=pieces,
        seams={seam.name: seam for seam in _seams(ease)},
        origins=origins_of(blocks.front) | origins_of(blocks.back),
        open_edges={
            "front.waist": "sewn to the skirt",
            "back.waist": "sewn to the skirt",
            "back.centre_back": "closed by the zip or buttons",
        },
        blocks=pieces,
    )


def _refuse_crossing(piece: Piece) -> None:
    if not is_simple_loop(piece.loop):
        raise Refusal(
            f"The outline of the {piece.name} would cross itself; check the measurements shoulder length, across "
            "front, across back and armhole girth.",
            piece=piece.name,
        )


def _seams(ease: Ease) -> tuple[Seam, Seam]:
    back, front = Span("back.shoulder", backwards=True), Span("front.shoulder")
    return (
        Seam("shoulder", (back,), (front,), ("armhole", "neck"), ease.shoulder),
        Seam("side", (Span("front.side"),), (Span("back.side", backwards=True),), ("waist", "armhole")),
    )
