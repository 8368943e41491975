"""Rigid placements of the plane: a turn about the origin, then a shift. No flips: mating edges never need one."""

from __future__ import annotations

from math import atan2, cos, hypot, sin

import msgspec
import numpy as np

from core.geometry.polyline import Pair, Point, Points, as_point, as_points


class Placement(msgspec.Struct, frozen=True):
    """Turn by `angle` radians about the origin, then shift by (x, y) mm."""

    angle: float = 0.0
    x: float = 0.0
    y: float = 0.0

    def points(self, points: Points) -> Points:
        """The placed polyline, shape (N, 2)."""
        c, s = cos(self.angle), sin(self.angle)
        placed = points @ np.array(((c, s), (-s, c))) + (self.x, self.y)
        return as_points(placed)

    def point(self, place: Pair) -> Point:
        """One placed point."""
        px, py = as_point(place)
        c, s = cos(self.angle), sin(self.angle)
        return (c * px - s * py + self.x, s * px + c * py + self.y)

    def then(self, after: Placement) -> Placement:
        """This placement followed by another."""
        x, y = after.point((self.x, self.y))
        return Placement(self.angle + after.angle, x, y)

    def inverse(self) -> Placement:
        """The placement that undoes this one."""
        c, s = cos(self.angle), sin(self.angle)
        return Placement(-self.angle, -(c * self.x + s * self.y), s * self.x - c * self.y)


def about(pivot: Pair, angle: float) -> Placement:
    """The turn by `angle` radians (counter-clockwise) that leaves `pivot` where it is."""
    px, py = as_point(pivot)
    c, s = cos(angle), sin(angle)
    return Placement(angle, px - (c * px - s * py), py - (s * px + c * py))


def laying(start: Pair, towards: Pair, *, onto: Pair, onto_towards: Pair) -> Placement:
    """The placement that lays `start` on `onto` with the direction to `towards` along that to `onto_towards`."""
    (ax, ay), (bx, by) = as_point(start), as_point(towards)
    (cx, cy), (dx, dy) = as_point(onto), as_point(onto_towards)
    angle = atan2(dy - cy, dx - cx) - atan2(by - ay, bx - ax)
    turned = Placement(angle).point((ax, ay))
    return Placement(angle, cx - turned[0], cy - turned[1])


def mirrored(points: Points) -> Points:
    """The polyline reflected in x = 0 and travelled the other way, so that a counter-clockwise loop stays one."""
    return as_points(points[::-1] * (-1.0, 1.0))


def reflected(points: Points, start: Pair, towards: Pair) -> Points:
    """The polyline (N, 2) reflected in the line from one place towards another, in the same order."""
    (ax, ay), (bx, by) = as_point(start), as_point(towards)
    size = hypot(bx - ax, by - ay)
    way = np.array(((bx - ax) / size, (by - ay) / size))
    off = points - np.array((ax, ay))
    return as_points(np.array((ax, ay)) + 2 * (off @ way)[:, None] * way - off)


def angle_between(pivot: Pair, first: Pair, second: Pair) -> float:
    """Turn about `pivot` from `first` to `second`, in radians, in (-pi, pi]."""
    (px, py), (ax, ay), (bx, by) = as_point(pivot), as_point(first), as_point(second)
    ux, uy, vx, vy = ax - px, ay - py, bx - px, by - py
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def gap(first: Pair, second: Pair) -> float:
    """Straight distance in mm."""
    (ax, ay), (bx, by) = as_point(first), as_point(second)
    return hypot(bx - ax, by - ay)
