"""How far edges lie off straight grain: off the warp or the weft, whichever is nearer; 45 degrees is true bias."""

from __future__ import annotations

from math import atan2, pi
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.fabrics.catalogue import Fabric
from core.geometry.polyline import Points
from core.pieces.names import RIGHT
from core.pieces.records import Edge, Garment, Piece

Lie: TypeAlias = Literal["straight", "off", "bias"]

STRAIGHT: Final = 5.0
"""Degrees off the warp or the weft up to which an edge is as good as straight (common practice, no source)."""

BIAS: Final = 20.0
"""Degrees from which an edge gives when it is handled (common practice, no source)."""


class EdgeLie(msgspec.Struct, frozen=True):
    """How one edge lies, in degrees off straight grain: `ends` by the line between its two ends, `most` at its worst.

    `bias` is how much of it (mm) lies more than 20 degrees off.
    """

    edge: str
    ends: float
    most: float
    bias: float

    @property
    def lie(self) -> Lie:
        """In a word, by its two ends."""
        return lie_of(self.ends)


def lie_of(off: float) -> Lie:
    """What so many degrees off straight grain are called."""
    return "straight" if off <= STRAIGHT else "off" if off <= BIAS else "bias"


def off_straight(points: Points, grain: float) -> NDArray[np.float64]:
    """Degrees off the warp or weft, 0 to 45, of each chord of a polyline (N, 2): shape (N - 1,). `grain` in radians."""
    spans = np.diff(points, axis=0)
    turned = np.mod(np.degrees(np.arctan2(spans[:, 1], spans[:, 0]) - grain), 90.0)
    found: NDArray[np.float64] = np.minimum(turned, 90.0 - turned)
    return found


def edge_lie(edge: Edge, grain: float) -> EdgeLie:
    """How an edge lies on a grain (radians)."""
    off = off_straight(edge.points, grain)
    spans = np.hypot(*np.diff(edge.points, axis=0).T)
    ends = float(off_straight(edge.points[[0, -1]], grain)[0])
    return EdgeLie(edge.name, ends, float(off.max()), float(spans[off > BIAS].sum()))


def grain_between_ends(edge: Edge) -> float:
    """The grain, in radians from 0 to pi, on which an edge's two ends lie parallel to the selvedge."""
    dx, dy = edge.points[-1] - edge.points[0]
    return atan2(dy, dx) % pi


def turn_between(before: float, after: float) -> float:
    """The least turn from one grain to another, in radians over -pi/2 to pi/2: a grain has no head."""
    return (after - before + pi / 2) % pi - pi / 2


def stretch_way(piece: Piece, fabric: Fabric) -> float | None:
    """The direction in radians, from 0 to pi, in which a piece's cloth gives most; None where it gives alike both ways.

    Net has no grain that must be kept, but gives more in its width and is to give the same way left and right (trade.md
    D6): a piece's grain says where its length lies, so the width lies square to it.
    """
    if abs(fabric.stretch_along - fabric.stretch_across) <= SAME_STRETCH:
        return None
    across = fabric.stretch_across > fabric.stretch_along
    return (piece.grain + (pi / 2 if across else 0.0)) % pi


SAME_STRETCH: Final = 1.0
"""Percent: a lesser difference between along and across is none."""


def other_half(garment: Garment, name: str) -> Piece | None:
    """The piece of the other half, where both are drawn out: "right side front" for "side front", and back."""
    other = name.removeprefix(f"{RIGHT} ") if name.startswith(f"{RIGHT} ") else f"{RIGHT} {name}"
    return garment.pieces.get(other)
