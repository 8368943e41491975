"""A check for those who work on the program: what a step made, measured once more by shapely.

It is off for the dressmaker, whose drags it would slow. The tests switch it on before anything is imported, for
themselves and for every process that they start, so that no step of any replay in them goes unmeasured.
"""

from __future__ import annotations

import os
from typing import Final

from core.geometry.planar import area, is_simple_loop, perimeter
from core.geometry.polyline import length, signed_area
from core.pieces.records import Change, Piece

SWITCH: Final = "SHEERWRIGHT_PROOF"
"""The variable of the environment that switches the check on, whatever it holds."""
IS_ON: Final = SWITCH in os.environ
AGREE: Final = 1e-9
"""Two ways of measuring a piece agree to this share of the measure: a hundred thousand times float64's own step."""


def proved(change: Change) -> Change:
    """The change as it is, if every piece in it is sound. AssertionError, naming the piece, for a fault of ours."""
    for piece in (*(piece for pieces in change.pieces.values() for piece in pieces), *change.added):
        wrong = fault(piece)
        assert not wrong, f"{piece.name}: {wrong}"
    return change


def fault(piece: Piece) -> str:
    """What is wrong with an outline, in a few words: open, crossing itself, not as large or long as was worked out."""
    for before, edge in zip((piece.edges[-1], *piece.edges), piece.edges, strict=False):
        if (before.points[-1] != edge.points[0]).any():
            return f"open before {edge.name}"
    if not is_simple_loop(piece.loop):
        return "its outline crosses itself"
    own, around = signed_area(piece.loop), sum(length(edge.points) for edge in piece.edges)
    if abs(own - area(piece.loop)) > AGREE * abs(own):
        return f"{own} mm² by us, {area(piece.loop)} by shapely"
    if abs(around - perimeter(piece.loop)) > AGREE * around:
        return f"{around} mm round by us, {perimeter(piece.loop)} by shapely"
    return ""
