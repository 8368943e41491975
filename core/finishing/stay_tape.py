"""Stay tape: which free edges of woven cloth are held by one, and how long it is cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi
from typing import Final

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
"""The tape is 3 mm shorter for each 10 cm off the grain (rule of thumb, trade.md C4); elsewhere it has the length of
the edge on the pattern, and the cloth is eased to it (a dressmaking lesson, C4)."""


@dataclass(frozen=True, slots=True)
class StayTape:
    """A tape for an edge of a piece, by their names. Lengths in mm for one piece as cut, both halves on a fold."""

    piece: str
    edge: str
    edge_length: float
    length: float
    count: int


def stay_tapes(pieces: Sequence[Finished]) -> tuple[StayTape, ...]:
    """The tapes for the edges of kind opening that run off the grain; none on cloth that stretches."""
    return tuple(
        _tape(piece, edge)
        for piece in pieces
        if max(piece.fabric.stretch_along, piece.fabric.stretch_across) <= STABLE and piece.fabric.role == "main"
        for edge in piece.piece.edges
        if edge.kind == "opening" and off_grain(edge, piece.piece.grain) >= LEAST
    )


def _tape(piece: Finished, edge: Edge) -> StayTape:
    halves = 2 if piece.piece.cut == "fold" else 1
    taped = halves * (edge.length - DRAWN_IN * off_grain(edge, piece.piece.grain))
    return StayTape(piece.name, edge.name, halves * edge.length, taped, 2 if piece.piece.cut == "pair" else 1)


def off_grain(edge: Edge, grain: float) -> float:
    """How much of an edge in mm runs more than 20 degrees off both straight grains."""
    spans = np.diff(edge.points, axis=0)
    turns = np.mod(np.arctan2(spans[:, 1], spans[:, 0]) - grain, pi / 2)
    off = np.minimum(turns, pi / 2 - turns) > OFF_GRAIN
    return float(np.hypot(*spans[off].T).sum())
