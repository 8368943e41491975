"""The end of an open dart as it is cut: its cap, its straight base, or cut open along its legs."""

from __future__ import annotations

from typing import Literal, TypeAlias

from core.design.finishes import Pressed
from core.finishing.allowances import beside
from core.geometry.polyline import Points, as_points
from core.pieces.caps import folded_cap, is_outside
from core.pieces.records import Dart, Piece

CapKind: TypeAlias = Literal["cap", "straight", "cut open"]


def cap_of(
    piece: Piece, dart: Dart, allowance: float, *, towards: Pressed = "centre"
) -> tuple[CapKind, tuple[Points, ...]]:
    """How the end of a dart that is pressed to a side is cut, and the lines (N, 2) in loop order for its base.

    A base that was trued is the cap already. "straight" is the base itself, where the cap would lie inside it or has no
    edge to continue. Where the edge is too short for the cap, a dart wide enough for allowances on both its legs is
    "cut open" along them.
    """
    base = piece.edge(dart.base).points
    if len(base) > 2:
        return "cap", (base,)
    edge, leg = beside(piece, dart, towards)
    if edge.kind in ("fold", "dart base"):
        return "straight", (base,)
    halves = folded_cap(piece, dart, leg)
    if halves is None:
        return _cut_open(dart, base, allowance)
    if not is_outside(base, halves[0][-1]):
        return "straight", (base,)
    return "cap", halves


def _cut_open(dart: Dart, base: Points, allowance: float) -> tuple[CapKind, tuple[Points, ...]]:
    if dart.width <= 2 * allowance:
        return "straight", (base,)
    return "cut open", (as_points((base[0], dart.point)), as_points((dart.point, base[-1])))
