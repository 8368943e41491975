"""Outlines and their edges: loops that close and do not cross, edges that nothing is sewn to."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import msgspec

from core.fabrics.catalogue import Fabric
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import signed_area
from core.pieces.records import Edge, Garment, Piece


class Fault(msgspec.Struct, frozen=True):
    """Something that would spoil the cutting: one sentence, and where it is."""

    sentence: str
    piece: str
    edge: str = ""


def unsewn(garment: Garment) -> tuple[Fault, ...]:
    """A fault for every edge of kind seam that is not sewn exactly once and not left open on purpose."""
    sewn = Counter((span.edge, span.side) for seam in garment.seams.values() for span in (*seam.a, *seam.b))
    return tuple(
        _unsewn(piece, edge, sewn[edge.origin.edge, edge.origin.side])
        for piece, edge in garment.edges()
        if edge.kind == "seam" and sewn[edge.origin.edge, edge.origin.side] != 1 and not _is_open(garment, edge)
    )


def _is_open(garment: Garment, edge: Edge) -> bool:
    return edge.origin.edge in garment.open_edges


def _unsewn(piece: Piece, edge: Edge, times: int) -> Fault:
    words = edge.name.replace("_", " ")
    if times:
        sentence = f"The edge {words} of piece {piece.name} is sewn {times} times; leave it in one seam only."
    else:
        sentence = (
            f"The edge {words} of piece {piece.name} is in no seam; give it a mate, or mark it as open on purpose."
        )
    return Fault(sentence, piece.name, edge.name)


def fabricless(fabrics: tuple[Fabric, ...], garment: Garment) -> tuple[Fault, ...]:
    """A fault for every piece whose fabric the design does not have: it could not be finished or printed."""
    known = {fabric.name for fabric in fabrics}
    return tuple(
        Fault(f"Piece {piece.name} is to be cut from {piece.fabric}, which this design does not have.", piece.name)
        for piece in garment.pieces.values()
        if piece.fabric not in known
    )


def outline_faults(garment: Garment) -> tuple[Fault, ...]:
    """A fault for every outline with a gap, running clockwise, or crossing itself."""
    return tuple(fault for piece in garment.pieces.values() for fault in _faults_of(piece))


def _faults_of(piece: Piece) -> list[Fault]:
    gaps = [
        Fault(f"The outline of piece {piece.name} has a gap before its edge {after.name}.", piece.name, after.name)
        for before, after in pairwise((piece.edges[-1], *piece.edges))
        if (before.points[-1] != after.points[0]).any()
    ]
    if gaps:
        return gaps
    if not is_simple_loop(piece.loop):
        return [Fault(f"The outline of piece {piece.name} crosses itself; undo the step that did it.", piece.name)]
    if signed_area(piece.loop) <= 0.0:
        return [Fault(f"The outline of piece {piece.name} runs clockwise: the piece lies wrong side up.", piece.name)]
    return []
