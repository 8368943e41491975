"""The end of an open dart as it has to be cut: its cap, so that folded cloth reaches the seam all along.

The dart is folded, pressed towards the centre, cut along the edge that it is pressed against, and unfolded again: the
edge reappears in the wedge mirrored at the sewn leg, and once more mirrored at the dart's middle (cutting.md 25).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal, TypeAlias

import numpy as np

from core.finishing.allowances import beside
from core.geometry.polyline import Point, Points, as_points, backwards, between, crossings, with_ends
from core.pieces.records import Dart, Piece

CapKind: TypeAlias = Literal["cap", "straight", "cut open"]

FAR: Final = 2000.0
"""The dart's middle line is followed this far (mm): farther than any dart is long."""


def cap_of(piece: Piece, dart: Dart, allowance: float) -> tuple[CapKind, tuple[Points, ...]]:
    """How the dart's end is cut, and the lines (N, 2) in loop order that stand for its base.

    "straight" is the base itself, where the cap would lie inside it or has no edge to continue. Where the edge is too
    short for the cap, a dart wide enough for allowances on both its legs is "cut open" along them.
    """
    base = piece.edge(dart.base).points
    edge, leg = beside(piece, dart)
    if edge.kind in ("fold", "dart base"):
        return "straight", (base,)
    leading_away = edge.points if leg else backwards(edge.points)
    half = _first_half(dart, leg, leading_away)
    if half is None:
        return _cut_open(dart, base, allowance)
    if not _lies_outside(base, half[-1]):
        return "straight", (base,)
    other = _mirrored(backwards(half), dart.point, _middle(dart))
    first, last = (half, other) if leg == 0 else (backwards(other), backwards(half))
    return "cap", (with_ends(first, first=base[0]), with_ends(last, last=base[-1]))


def _first_half(dart: Dart, leg: int, edge: Points) -> Points | None:
    """The edge (N, 2, leading away from the leg's end) mirrored into the wedge, as far as the dart's middle."""
    within = _mirrored(edge, dart.point, np.array(dart.legs[leg]))
    middle = np.array(dart.point) + FAR * _unit(_middle(dart) - dart.point)
    met = crossings(within, as_points(np.vstack((dart.point, middle))))
    return between(within, 0.0, met[0][0]) if met and met[0][0] > 0.0 else None


def _cut_open(dart: Dart, base: Points, allowance: float) -> tuple[CapKind, tuple[Points, ...]]:
    if dart.width <= 2 * allowance:
        return "straight", (base,)
    return "cut open", (as_points((base[0], dart.point)), as_points((dart.point, base[-1])))


def _middle(dart: Dart) -> Points:
    """The middle of the dart's base, shape (2,)."""
    middle: Points = (np.array(dart.legs[0]) + dart.legs[1]) / 2
    return middle


def _unit(way: Points) -> Points:
    unit: Points = way / np.hypot(*way)
    return unit


def _mirrored(points: Points, start: Point | Sequence[float], towards: Points) -> Points:
    """The points (N, 2) reflected in the line from one place towards another, in the same order."""
    way = _unit(towards - np.array(start))
    off = points - np.array(start)
    return as_points(np.array(start) + 2 * (off @ way)[:, None] * way - off)


def _lies_outside(base: Points, place: Points) -> bool:
    """Whether a place lies outside the straight line of a base, which runs counter-clockwise round the piece."""
    (dx, dy), (px, py) = base[-1] - base[0], place - base[0]
    return bool(dx * py - dy * px <= 0.0)
