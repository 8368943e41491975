"""What lies under a place on the table. Hovering and pressing ask the same functions, so they always agree.

Places are in mm on the table, and so is `reach`: whoever asks turns pixels into mm by the zoom.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

import msgspec

from app.canvas.laid import Laid
from core.geometry.placement import angle_between
from core.geometry.planar import covers
from core.geometry.polyline import Point, as_points, nearest, point_at
from core.pieces.folded_piece import SLIT
from core.pieces.records import Dart, Edge, Garment, Line, Seam
from core.pieces.seams import seams_of


class EdgeHit(msgspec.Struct, frozen=True, eq=False):
    """An edge near a place: how far along it, and where that is in the frame of the shown piece."""

    laid: Laid
    edge: Edge
    distance: float
    gap: float

    @property
    def place(self) -> Point:
        """The place on the edge, in the frame of the shown piece."""
        return point_at(self.edge.points, self.distance)


class LineHit(msgspec.Struct, frozen=True, eq=False):
    """A drawn line near a place."""

    laid: Laid
    line: Line
    gap: float


class DartHit(msgspec.Struct, frozen=True, eq=False):
    """An open dart under a place."""

    laid: Laid
    dart: Dart


class SeamHit(msgspec.Struct, frozen=True, eq=False):
    """A seam whose edge lies near a place."""

    seam: Seam
    on: EdgeHit


def piece_at(table: Sequence[Laid], at: Point) -> Laid | None:
    """The topmost piece under a place."""
    for item in reversed(table):
        here = item.to_piece(at)
        if _in_box(item, here, 0.0) and covers(item.shown.loop, here):
            return item
    return None


def _in_box(item: Laid, here: Point, reach: float) -> bool:
    low, high = item.shown.loop.min(axis=0), item.shown.loop.max(axis=0)
    return bool((low - reach <= here).all() and (here <= high + reach).all())


def edge_at(table: Iterable[Laid], at: Point, reach: float) -> EdgeHit | None:
    """The edge nearest to a place within reach; dart bases are no edges to take hold of."""
    found = [
        EdgeHit(item, edge, *nearest(edge.points, item.to_piece(at)))
        for item in table
        if _in_box(item, item.to_piece(at), reach)
        for edge in item.shown.edges
        if edge.kind != "dart base"
    ]
    best = min(found, key=lambda hit: hit.gap, default=None)
    return best if best is not None and best.gap <= reach else None


def line_at(table: Iterable[Laid], at: Point, reach: float) -> LineHit | None:
    """The drawn line nearest to a place within reach; level lines are marks of the block and are passed over."""
    found = [
        LineHit(item, line, min(nearest(stretch, item.to_piece(at))[1] for stretch in line.stretches))
        for item in table
        if _in_box(item, item.to_piece(at), reach)
        for line in item.shown.lines
        if line.purpose != "level"
    ]
    best = min(found, key=lambda hit: hit.gap, default=None)
    return best if best is not None and best.gap <= reach else None


def dart_at(table: Iterable[Laid], at: Point, reach: float) -> DartHit | None:
    """The open dart whose wedge or legs lie under a place, the narrowest first; a slit thought open is none."""
    found = [
        DartHit(item, dart)
        for item in table
        if _in_box(item, item.to_piece(at), reach)
        for dart in item.shown.darts
        if not dart.name.endswith(SLIT) and _on_dart(dart, item.to_piece(at), reach)
    ]
    return min(found, key=lambda hit: hit.dart.width, default=None)


def _on_dart(dart: Dart, here: Point, reach: float) -> bool:
    if any(nearest(as_points((dart.pivot, leg)), here)[1] <= reach for leg in dart.legs):
        return True
    away = hypot(here[0] - dart.pivot[0], here[1] - dart.pivot[1])
    if away > dart.leg_length or dart.angle == 0.0:
        return False
    share = angle_between(dart.pivot, dart.legs[0], here) / angle_between(dart.pivot, dart.legs[0], dart.legs[1])
    return 0.0 <= share <= 1.0


def seam_at(garment: Garment, table: Iterable[Laid], at: Point, reach: float) -> SeamHit | None:
    """The seam whose edge is nearest to a place within reach."""
    hit = edge_at(table, at, reach)
    if hit is None:
        return None
    seams = seams_of(garment, hit.edge)
    return SeamHit(seams[0], hit) if seams else None


def nearest_within(at: Point, targets: Sequence[Point], reach: float) -> int | None:
    """The index of the nearest target within reach; of two equally near, the later, which is drawn on top."""
    best: int | None = None
    best_gap = reach
    for index, (x, y) in enumerate(targets):
        off = hypot(x - at[0], y - at[1])
        if off <= best_gap:
            best, best_gap = index, off
    return best
