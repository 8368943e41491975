"""Pieces side by side, as an export shows them: in rows, upright, clear of each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from core.finishing.finish import Finished
from core.geometry.placement import Placement
from core.outputs.drawing import bounds

GAP: Final = 30.0
"""mm between pieces and round them all."""

ROW: Final = 1600.0
"""A row of pieces is about so wide (mm), which is a table's width."""


def side_by_side(pieces: Sequence[Finished]) -> tuple[Placement, ...]:
    """Where each piece lies, in mm from the lower left corner of them all, the first at the upper left."""
    corners, x, y, deepest = [], GAP, 0.0, 0.0
    for piece in pieces:
        left, bottom, right, top = bounds(piece.cutting_line)
        width, height = right - left, top - bottom
        if x > GAP and x + width > ROW:
            x, y, deepest = GAP, y - deepest - GAP, 0.0
        corners.append((x - left, y - height - bottom))
        x, deepest = x + width + GAP, max(deepest, height)
    lowest = min((c[1] + bounds(p.cutting_line)[1] for c, p in zip(corners, pieces, strict=True)), default=0.0)
    return tuple(Placement(0.0, x, y - lowest + GAP) for x, y in corners)
