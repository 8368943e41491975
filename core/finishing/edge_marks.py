"""What is marked beside an edge: bones, turning gaps, the waist stay; each from where to where, with its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final, Literal, TypeAlias

import msgspec

from core.design.design import Design
from core.fabrics.catalogue import named
from core.finishing.allowances import FinishedEdge
from core.pieces.outline import local_name
from core.pieces.records import Piece
from core.units import show_length

EdgeMarkKind: TypeAlias = Literal["bone", "turning gap", "waist stay"]

LEAST_STAY: Final = 20.0
"""mm: a shorter edge of a waist has no room for the mark."""


class EdgeMark(msgspec.Struct, frozen=True):
    """A mark along an edge, from and to in mm from the edge's first point in loop order."""

    kind: EdgeMarkKind
    edge: str
    start: float
    stop: float
    words: str


def edge_marks(piece: Piece, edges: Mapping[str, FinishedEdge], design: Design) -> tuple[EdgeMark, ...]:
    """The marks of a piece, edge by edge; lengths in the design's unit."""
    return tuple(mark for finished in edges.values() for mark in _marks(piece, finished, design))


def _marks(piece: Piece, finished: FinishedEdge, design: Design) -> Iterator[EdgeMark]:
    edge, held = finished.edge, finished.edge.origin
    if edge.kind in ("fold", "dart base"):
        return
    if finished.gap is not None:
        start, stop = finished.gap
        yield EdgeMark("turning gap", edge.name, start, stop, f"turn: {show_length(stop - start, design.unit)}")
    for bone in design.finishing.bones:
        long = edge.length - 2 * bone.short
        if (bone.piece, bone.edge, bone.side) == (piece.name, held.edge, held.side) and long > 0.0:
            words = f"bone {show_length(long, design.unit)}"
            yield EdgeMark("bone", edge.name, bone.short, edge.length - bone.short, words)
    is_outer = named(design.fabrics, piece.fabric).role == "main"
    if design.finishing.waist_stay and is_outer and local_name(held.edge) == "waist" and edge.length >= LEAST_STAY:
        yield EdgeMark("waist stay", edge.name, 0.0, edge.length, "waist stay")
