"""The cutting list: from each fabric which pieces, how often, by pairs or on the fold, and on which grain."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import degrees, pi, remainder
from typing import Final

import msgspec

from core.design.design import Design
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished
from core.outputs.lay_parts import has_direction
from core.pieces.names import spoken

STRAIGHT: Final = 0.5
"""Degrees off the straight grain within which a piece lies on it: 1 mm on 115 mm, which no hand lays truer."""


class CutRow(msgspec.Struct, frozen=True):
    """A piece as it is cut: `pairs` of left and right, `plies` in all."""

    number: int
    name: str
    count: str
    pairs: int
    plies: int
    grain: str
    remark: str

    @property
    def cells(self) -> tuple[str, ...]:
        """The row of a table."""
        pairs = str(self.pairs) if self.pairs else ""
        return (str(self.number), self.name, self.count, pairs, str(self.plies), self.grain, self.remark)


HEADER: Final = ("No.", "Piece", "Cut", "Pairs", "Plies", "Grain", "Remark")
SHARES: Final = (0.07, 0.19, 0.16, 0.08, 0.08, 0.2, 0.22)


def cutting_list(pieces: Sequence[Finished], design: Design) -> Mapping[Fabric, tuple[CutRow, ...]]:
    """The rows of every fabric that a piece is cut from, in the design's order of fabrics, by number."""
    found = {}
    for fabric in design.fabrics:
        mine = sorted((piece for piece in pieces if piece.fabric.name == fabric.name), key=lambda piece: piece.number)
        if mine:
            found[fabric] = tuple(_row(piece) for piece in mine)
    return found


def _row(piece: Finished) -> CutRow:
    is_pair = piece.piece.cut == "pair"
    return CutRow(
        piece.number,
        piece.name,
        piece.count,
        piece.layers if is_pair else 0,
        piece.layers * (2 if is_pair else 1),
        _grain_words(piece),
        _remark(piece),
    )


def _grain_words(piece: Finished) -> str:
    """How the grain line runs: on the fold, or by its angle to the piece's centre line."""
    fold = next((edge for edge in piece.piece.edges if edge.kind == "fold"), None)
    if fold is not None:
        return f"fold on {spoken(fold.origin.edge)}"
    off = abs(degrees(remainder(piece.piece.grain - pi / 2, pi)))
    if off < STRAIGHT:
        return "straight"
    return "on the bias" if abs(off - 45.0) < STRAIGHT else f"straight, {off:.0f}° off the centre"


def _remark(piece: Finished) -> str:
    said = []
    if piece.doubled:
        said.append("sewn double and turned")
    if piece.fabric.nap:
        said.append("tops all one way")
    if has_direction(piece.fabric):
        said.append("stretch the same way on every ply")
    if all(allowance == 0.0 for allowance in piece.allowances.values()):
        said.append("no allowance: cut on the line")
    return "; ".join(said)
