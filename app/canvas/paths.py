"""Polylines in millimetres as Qt's polygons in pixels, quickly and with no more points than can be seen."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from math import sqrt
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath, QPolygonF
from shiboken6 import VoidPtr

from core.geometry.placement import Placement
from core.geometry.polyline import Point, Points, joined
from core.geometry.tolerances import CHORD_ERROR

SEEN: Final = 0.15
"""A chord may leave the curve by so many pixels before the eye takes it for a corner."""

SHARP: Final = 0.05
"""Radians: at a sharper turn the point is always kept."""

FEW: Final = 20
"""So few points are drawn as fast as they are thinned."""

BYTES: Final = 16
"""A QPointF is two float64."""


class Frame(msgspec.Struct, frozen=True, dict=True, weakref=True):
    """From mm (y up) to pixels (y down): `scale` pixels a mm, turned by `turn` about the mm origin at pixel (x, y)."""

    scale: float
    x: float = 0.0
    y: float = 0.0
    turn: float = 0.0
    """Radians, counter-clockwise as it is seen."""

    def point(self, place: Point) -> QPointF:
        """One place in pixels."""
        if self.turn:
            place = Placement(self.turn).point(place)
        return QPointF(self.x + place[0] * self.scale, self.y - place[1] * self.scale)

    def polygon(self, points: Points) -> QPolygonF:
        """A polyline in pixels, thinned to what can be seen at this scale."""
        return polygon(self.pixels(thinned(points, self.stride)))

    def pixels(self, points: Points) -> Points:
        """A polyline in pixels as an array (N, 2)."""
        if self.turn:
            points = Placement(self.turn).points(points)
        return points * self._scales + self._origin

    @cached_property
    def _scales(self) -> NDArray[np.float64]:
        return np.array((self.scale, -self.scale))

    @cached_property
    def _origin(self) -> NDArray[np.float64]:
        return np.array((self.x, self.y))

    @cached_property
    def stride(self) -> int:
        """Every how many points of a polyline of the core's chord error are enough."""
        return max(1, int(sqrt(SEEN / (CHORD_ERROR * self.scale))))

    def path(self, stretches: Iterable[Points]) -> QPainterPath:
        """Open polylines as one path."""
        found = QPainterPath()
        for stretch in stretches:
            found.addPolygon(self.polygon(stretch))
        return found

    def loop(self, edges: Iterable[Points]) -> QPolygonF:
        """Polylines that meet end to end as one closed polygon; each is thinned by itself, so corners stay."""
        return polygon(self.pixels(joined([thinned(points, self.stride) for points in edges])))

    def moved(self, place: Placement) -> Frame:
        """The frame of something that lies turned and shifted."""
        lies = place.then(Placement(self.turn)) if self.turn else place
        return Frame(self.scale, self.x + lies.x * self.scale, self.y - lies.y * self.scale, lies.angle)

    def seen(self, direction: float) -> float:
        """A direction of what lies in the frame (radians) as it is seen."""
        return direction + self.turn

    def own(self, way: Point) -> Point:
        """A way as it is seen, y up, in the directions of what lies in the frame."""
        return Placement(-self.turn).point(way)


def thinned(points: Points, stride: int) -> Points:
    """Every `stride`-th point, both ends, and every point where the polyline turns sharply."""
    if stride < 2 or len(points) < FEW:
        return points
    x, y = points.T
    dx, dy = x[1:] - x[:-1], y[1:] - y[:-1]
    cross = dx[:-1] * dy[1:] - dy[:-1] * dx[1:]
    dot = dx[:-1] * dx[1:] + dy[:-1] * dy[1:]
    keep = np.empty(len(points), dtype=bool)
    keep[1:-1] = np.abs(cross) > SHARP * np.abs(dot)
    keep[::stride] = True
    keep[-1] = True
    return points[keep]


def polygon(pixels: Points) -> QPolygonF:
    """An array (N, 2) in pixels as a polygon, copied in one go: a hundred times as fast as point by point."""
    found = QPolygonF()
    found.resize(len(pixels))
    if len(pixels):
        memory = VoidPtr(found.data(), len(pixels) * BYTES, True)  # type: ignore[arg-type, call-arg] # the stubs know one form only
        np.frombuffer(memory, dtype=np.float64).reshape(-1, 2)[:] = pixels  # type: ignore[call-overload] # it is a buffer
    return found
