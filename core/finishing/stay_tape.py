"""Stay tape: which edges of woven cloth are held by one, and how long and wide it is cut.

Held are free edges, and those to which a sheer is sewn, which hold nothing themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import pi
from typing import Final

import msgspec
import numpy as np

from core.finishing.finish import Finished
from core.pieces.records import Edge

STABLE: Final = 8.0
"""Percent: cloth that stretches less in both directions is held by a tape; what stretches more is cut smaller instead
(trade.md C4, D6)."""

OFF_GRAIN: Final = pi / 9
"""An edge that runs more than 20 degrees off both straight grains gives when it is handled (common practice)."""

LEAST: Final = 25.0
"""A shorter stretch off the grain (mm) is let be (common practice)."""

DRAWN_IN: Final = 0.03
"""The tape is 3 mm shorter for each 10 cm off the grain (rule of thumb, trade.md C4); elsewhere, and along a V, it has
the length of the edge on the pattern, and the cloth is eased to it (a dressmaking lesson, C4)."""

NARROW: Final = 6.35
WIDE: Final = 12.7
"""mm: tape of 1/4 in lies round a curve, wider tape holds a straight edge better (a sewing page, trade.md C4; 1/2 in is
common practice)."""

STRAIGHT: Final = pi / 18
"""An edge whose direction turns by less than 10 degrees in all is straight for a tape (common practice)."""


class StayTape(msgspec.Struct, frozen=True):
    """A tape for an edge of a piece, by their names.

    Lengths in mm for one piece as cut, both halves on a fold; `wide` is the tape's width in mm.
    """

    piece: str
    edge: str
    edge_length: float
    length: float
    count: int
    wide: float


def stay_tapes(pieces: Sequence[Finished]) -> tuple[StayTape, ...]:
    """The tapes for openings, and edges a sheer is sewn to, that run off the grain; none on cloth that stretches."""
    sheer = {piece.number for piece in pieces if piece.fabric.role == "sheer"}
    return tuple(
        _tape(piece, edge)
        for piece in pieces
        if max(piece.fabric.stretch_along, piece.fabric.stretch_across) <= STABLE and piece.fabric.role == "main"
        for edge in piece.piece.edges
        if (edge.kind == "opening" or any(mate.number in sheer for mate in piece.mates.get(edge.name, ())))
        and off_grain(edge, piece.piece.grain) >= LEAST
    )


def _tape(piece: Finished, edge: Edge) -> StayTape:
    halves = 2 if piece.piece.cut == "fold" else 1
    drawn_in = 0.0 if edge.name in piece.piece.intended else DRAWN_IN * off_grain(edge, piece.piece.grain)
    count = 2 if piece.piece.cut == "pair" else 1
    wide = WIDE if _turns(edge) < STRAIGHT else NARROW
    return StayTape(piece.name, edge.name, halves * edge.length, halves * (edge.length - drawn_in), count, wide)


def _turns(edge: Edge) -> float:
    """How much an edge's direction turns in all, in radians."""
    spans = np.diff(edge.points, axis=0)
    return float(np.ptp(np.unwrap(np.arctan2(spans[:, 1], spans[:, 0]))))


def off_grain(edge: Edge, grain: float) -> float:
    """How much of an edge in mm runs more than 20 degrees off both straight grains."""
    spans = np.diff(edge.points, axis=0)
    turns = np.mod(np.arctan2(spans[:, 1], spans[:, 0]) - grain, pi / 2)
    off = np.minimum(turns, pi / 2 - turns) > OFF_GRAIN
    return float(np.hypot(*spans[off].T).sum())
