"""The cloth round the bust point as a cone: polar coordinates that no pivot changes.

With every dart at the bust point sewn shut, the cloth round it is a cone. A place on it has a *radius*, its distance
from the bust point in mm, and a *closed angle* in radians, counted over cloth alone: 0 level towards the centre front,
rising over the top to the side, falling below the level. Pivoting about the bust point moves neither.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import atan2, pi, tau
from typing import Final

import msgspec
import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_points
from core.pieces.names import is_right
from core.pieces.records import Dart, Piece

Values = NDArray[np.float64]

AT_POINT: Final = 1e-6
"""A dart whose pivot lies nearer (mm) to the bust point than this is one at the bust point."""


class Cone(msgspec.Struct, frozen=True, eq=False):
    """The cone of a block.

    `up` is the closed angle of its upper dart; `low` and `high` are that of its lower dart, counted over the centre
    front and over the side.
    """

    centre: Point
    up: float
    low: float
    high: float

    @property
    def cloth(self) -> float:
        """All the cloth round the bust point, in radians: the full turn less both darts."""
        return self.high - self.low

    @property
    def intake(self) -> float:
        """What both darts take out, in radians."""
        return tau - self.cloth

    @property
    def top(self) -> float:
        """The closed angle of the line that runs straight over the point, as much cloth on either side of it.

        At either end it lies as far off the dart there as at the other: on a block straight up and straight down.
        """
        return (2.0 * self.up + self.low + self.high) / 4.0

    @property
    def down(self) -> float:
        """The other end of that line, counted over the centre front."""
        return self.top - self.cloth / 2.0

    def round(self, closed: ArrayLike) -> Values:
        """Closed angles counted from `down` on, once round."""
        return self.down + np.mod(np.asarray(closed, dtype=np.float64) - self.down, self.cloth)

    def polar(
        self, points: Points, wedges: Sequence[tuple[float, float]] = (), *, gap_at: float | None = None
    ) -> tuple[Values, Values]:
        """Radius and closed angle, each (N,), of places (N, 2) on a piece whose centre front lies as on the block.

        `wedges` are the piece's open darts at the bust point, as `open_wedges` gives them. Where darts have been closed
        or cut away, cloth is wanting round the point somewhere off the piece: `gap_at` is a direction there, counted as
        closed angles are, cloth or not; by default the lower dart.
        """
        off = points - self.centre
        raw = np.mod(pi - np.arctan2(off[:, 1], off[:, 0]), tau)
        closed = raw - sum((width * (raw > start + width / 2) for start, width in wedges), np.zeros(len(raw)))
        whole = tau - sum(width for _, width in wedges)
        is_past = closed > self.high + AT_POINT if gap_at is None else raw > gap_at % tau
        return np.hypot(off[:, 0], off[:, 1]), np.where(is_past, closed - whole, closed)

    def places(self, radii: ArrayLike, closed: ArrayLike, wedges: Sequence[tuple[float, float]] = ()) -> Points:
        """The places (N, 2) of radii and closed angles on such a piece: the other way from `polar`."""
        angle = np.mod(np.asarray(closed, dtype=np.float64), tau - sum(width for _, width in wedges))
        for start, width in sorted(wedges):
            angle = np.where(angle > start, angle + width, angle)
        way = pi - angle
        return as_points(np.column_stack((radii * np.cos(way), radii * np.sin(way))) + self.centre)


@lru_cache(maxsize=8)
def cone_of(block: Piece) -> Cone:
    """The cone of a block's front, remembered while the block is the same.

    Refusal when it has no bust point, or not one dart above it and one below.
    """
    if "bust_point" not in block.landmarks:
        raise Refusal(
            f"The block {block.name} has no bust point, so no cup can be drafted from it; name the front block.",
            piece=block.name,
        )
    centre = block.landmarks["bust_point"]
    darts = darts_at(block, centre)
    if len(darts) != 2:
        raise Refusal(
            f"The block {block.name} has {len(darts)} darts at the bust point; a cup needs one above it and one below.",
            piece=block.name,
        )
    upper, lower = sorted(darts, key=lambda dart: -dart.legs[0][1])
    ways = [atan2(y - centre[1], x - centre[0]) for x, y in (*upper.legs, *lower.legs)]
    up = (pi - ways[1]) % tau
    return Cone(centre, up, up - (ways[2] - ways[1]) % tau, up + (ways[0] - ways[3]) % tau)


def darts_at(piece: Piece, place: Point) -> tuple[Dart, ...]:
    """The open darts whose pivot is at a place."""
    return tuple(dart for dart in piece.darts if gap(dart.pivot, place) <= AT_POINT)


def open_wedges(piece: Piece, centre: Point) -> tuple[tuple[float, float], ...]:
    """The open darts at the bust point as (start, width) in radians, counted as closed angles are, cloth or not."""
    found = []
    for dart in darts_at(piece, centre):
        first = [(pi - atan2(leg[1] - centre[1], leg[0] - centre[0])) % tau for leg in dart.legs]
        found.append(((first[1] if (first[0] - first[1]) % tau < pi else first[0]), dart.angle))
    return tuple(found)


def away_from(piece: Piece, centre: Point) -> float:
    """The direction from the bust point that leads away from a piece's middle, counted as closed angles are."""
    x, y = (piece.loop.min(axis=0) + piece.loop.max(axis=0)) / 2 - centre
    return float(-atan2(y, x) % tau)


def lies_as_drafted(piece: Piece, block: str) -> bool:
    """Whether a piece holds the centre front, which no step turns: it then lies as on the block."""
    if piece.block != block:
        return False
    names = [edge.origin.edge for edge in piece.edges]
    return f"{block}.centre_front" in names or (
        piece.is_single and any(map(is_right, names)) and not all(map(is_right, names))
    )


@lru_cache(maxsize=8)
def circle_on(block: Piece, cone: Cone) -> tuple[Values, Values]:
    """The block's bust circle as closed angles, rising, and radii (mm), each (N,)."""
    points = np.vstack(block.line(f"{block.name}.bust_circle").stretches)
    radii, closed = cone.polar(as_points(points), open_wedges(block, cone.centre))
    order = np.argsort(closed, kind="stable")
    return closed[order], radii[order]
