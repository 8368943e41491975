"""The cap of a dart: the line in which its base has to end, so that folded cloth reaches the seam all along.

The dart is folded at its sewn point, pressed to one side, cut along the edge that it is pressed against, and unfolded
again: that edge reappears in the wedge mirrored at the sewn leg, and once more mirrored at the dart's middle
(cutting.md 25).
"""

from __future__ import annotations

from typing import Final

import numpy as np

from core.geometry.placement import reflected
from core.geometry.polyline import Points, as_points, backwards, between, crossings, with_ends
from core.pieces.records import Dart, Piece

FAR: Final = 2000.0
"""The dart's middle line is followed this far (mm): farther than any dart is long."""


def folded_cap(piece: Piece, dart: Dart, leg: int) -> tuple[Points, Points] | None:
    """The two halves (N, 2) of the cap in loop order, from legs[0] to the middle and on to legs[1].

    `leg` (0 or 1) is the one on the side to which the dart is pressed. None where the edge beside it ends before the
    dart's middle is reached.
    """
    base, edge = piece.edge(dart.base).points, piece.neighbours(dart.base)[leg].points
    half = _first_half(dart, leg, edge if leg else backwards(edge))
    if half is None:
        return None
    other = reflected(backwards(half), dart.point, dart.mouth)
    first, last = (half, other) if leg == 0 else (backwards(other), backwards(half))
    return with_ends(first, first=base[0]), with_ends(last, last=base[-1])


def is_outside(base: Points, place: Points) -> bool:
    """Whether a place lies outside the straight line of a base (N, 2), which runs counter-clockwise round the piece."""
    (dx, dy), (px, py) = base[-1] - base[0], place - base[0]
    return bool(dx * py - dy * px <= 0.0)


def _first_half(dart: Dart, leg: int, edge: Points) -> Points | None:
    """The edge (N, 2, leading away from the leg's end) mirrored into the wedge, as far as the dart's middle."""
    within = reflected(edge, dart.point, dart.legs[leg])
    middle = np.array(dart.point) + FAR * _unit(np.array(dart.mouth) - dart.point)
    met = crossings(within, as_points(np.vstack((dart.point, middle))))
    return between(within, 0.0, met[0][0]) if met and met[0][0] > 0.0 else None


def _unit(way: Points) -> Points:
    unit: Points = way / np.hypot(*way)
    return unit
