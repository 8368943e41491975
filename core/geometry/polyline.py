"""Polylines: read-only arrays of shape (N, 2), N >= 2, in millimetres.

A *distance* is arc length from the first point. Functions return new read-only arrays and never alter their arguments.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.geometry.tolerances import SAME_POINT

Points: TypeAlias = NDArray[np.float64]
Point: TypeAlias = tuple[float, float]
Pair: TypeAlias = Sequence[float] | NDArray[np.float64]
"""A place given as two numbers, in mm."""


def as_points(points: ArrayLike) -> Points:
    """A read-only float64 copy of shape (N, 2); ValueError for any other shape or for a value that is not finite."""
    array = np.array(points, dtype=np.float64)
    if array.ndim != 2 or array.shape[1] != 2:
        raise ValueError(f"points of shape (N, 2) wanted, not {array.shape}")
    if not np.isfinite(array).all():
        raise ValueError("a coordinate is not a finite number")
    return _read_only(array)


def _read_only(array: Points) -> Points:
    array.flags.writeable = False
    return array


def as_point(point: Pair) -> Point:
    """A pair of plain floats."""
    x, y = point
    return (float(x), float(y))


def distances(points: Points) -> NDArray[np.float64]:
    """Arc length from the first point to each point, shape (N,), in mm."""
    spans = points[1:] - points[:-1]
    along = np.empty(len(points))
    along[0] = 0.0
    np.cumsum(np.hypot(spans[:, 0], spans[:, 1]), out=along[1:])
    return along


def length(points: Points) -> float:
    """Arc length in mm."""
    spans = points[1:] - points[:-1]
    return float(np.hypot(spans[:, 0], spans[:, 1]).sum())


def point_at(points: Points, distance: float) -> Point:
    """The point at `distance` mm; distances outside are clamped to the ends."""
    along = distances(points)
    return _at(points, along, distance)


def _at(points: Points, along: NDArray[np.float64], distance: float) -> Point:
    """The point at a distance, the distances of the vertices being known."""
    index = min(max(int(along.searchsorted(distance)), 1), len(along) - 1)
    step = along[index] - along[index - 1]
    share = min(max((distance - along[index - 1]) / step, 0.0), 1.0) if step > 0.0 else 0.0
    (ax, ay), (bx, by) = points[index - 1].tolist(), points[index].tolist()
    if share == 1.0:
        return (bx, by)
    return (ax + float(share) * (bx - ax), ay + float(share) * (by - ay))


def tangent_at(points: Points, distance: float) -> float:
    """Direction of travel in radians at `distance` mm; at a vertex, that of the segment which follows it."""
    along = distances(points)
    index = int(np.clip(np.searchsorted(along, distance, side="right") - 1, 0, len(points) - 2))
    dx, dy = points[index + 1] - points[index]
    return float(np.arctan2(dy, dx))


def end_direction(points: Points, *, at_end: bool, chord: float) -> float:
    """Direction of travel (radians) of the chord over the first or last `chord` mm."""
    total = length(points)
    reach = min(chord, total)
    a, b = (total - reach, total) if at_end else (0.0, reach)
    (ax, ay), (bx, by) = point_at(points, a), point_at(points, b)
    return float(np.arctan2(by - ay, bx - ax))


def nearest(points: Points, place: Pair) -> tuple[float, float]:
    """(distance along, gap) of the place on the polyline that is nearest to the point, both in mm."""
    tx, ty = as_point(place)
    fx, fy = tx - points[:-1, 0], ty - points[:-1, 1]
    sx, sy = points[1:, 0] - points[:-1, 0], points[1:, 1] - points[:-1, 1]
    squared = np.maximum(sx * sx + sy * sy, 1e-300)
    share = np.minimum(np.maximum((fx * sx + fy * sy) / squared, 0.0), 1.0)
    gaps = np.hypot(share * sx - fx, share * sy - fy)
    best = int(gaps.argmin())
    spans = np.sqrt(squared[: best + 1])
    spans[best] *= share[best]
    return float(spans.sum()), float(gaps[best])


def between(points: Points, start: float, stop: float, along: NDArray[np.float64] | None = None) -> Points:
    """The stretch from distance `start` to distance `stop` (start < stop, in mm), its ends exactly there.

    `along` are the `distances` of the points where they are known already.
    """
    along = distances(points) if along is None else along
    inner = points[along.searchsorted(start + SAME_POINT, side="right") : along.searchsorted(stop - SAME_POINT)]
    cut = np.empty((len(inner) + 2, 2))
    cut[0] = points[0] if start <= 0.0 else _at(points, along, start)
    cut[1:-1] = inner
    cut[-1] = points[-1] if stop >= along[-1] else _at(points, along, stop)
    return _read_only(cut)


def cut_at(points: Points, cuts: Sequence[float]) -> list[Points]:
    """The stretches between the ends and the given rising distances; neighbours share their point bit for bit."""
    along = distances(points)
    return [between(points, a, b, along) for a, b in pairwise([0.0, *cuts, float(along[-1])])]


def backwards(points: Points) -> Points:
    """The same polyline travelled the other way."""
    return as_points(points[::-1])


def joined(parts: Iterable[Points]) -> Points:
    """One polyline through all parts in turn; a first point that repeats the point before it is dropped."""
    rows: list[Points] = []
    for part in parts:
        row = part[1:] if rows and _is_same(rows[-1][-1], part[0]) else part
        if len(row):
            rows.append(row)
    return _read_only(np.concatenate(rows))


def _is_same(first: Points, second: Points) -> bool:
    return bool(np.abs(first - second).max() <= SAME_POINT)


def with_ends(points: Points, *, first: Pair | None = None, last: Pair | None = None) -> Points:
    """The polyline with its end points replaced, so that neighbours can close bit for bit."""
    moved = np.array(points)
    if first is not None:
        moved[0] = first
    if last is not None:
        moved[-1] = last
    return as_points(moved)


def crossings(first: Points, second: Points) -> list[tuple[float, float]]:
    """Where two polylines cross or touch: (distance along first, distance along second), rising along the first."""
    near_first = _near(first, second)
    if not len(near_first):
        return []
    near_second = _near(second, first[near_first[0] : near_first[-1] + 2])
    if not len(near_second):
        return []
    p, r = first[near_first], first[near_first + 1] - first[near_first]
    q, s = second[near_second], second[near_second + 1] - second[near_second]
    rx, ry, sx, sy = r[:, 0, None], r[:, 1, None], s[None, :, 0], s[None, :, 1]
    gx, gy = q[None, :, 0] - p[:, 0, None], q[None, :, 1] - p[:, 1, None]
    denominator = rx * sy - ry * sx
    with np.errstate(divide="ignore", invalid="ignore"):
        t, u = (gx * sy - gy * sx) / denominator, (gx * ry - gy * rx) / denominator
    slack_t = SAME_POINT / np.maximum(np.hypot(rx, ry), SAME_POINT)
    slack_u = SAME_POINT / np.maximum(np.hypot(sx, sy), SAME_POINT)
    hit = (np.abs(denominator) > 1e-12) & (t >= -slack_t) & (t <= 1 + slack_t) & (u >= -slack_u) & (u <= 1 + slack_u)
    rows = np.argwhere(hit)
    if not len(rows):
        return []
    along_first, along_second = distances(first), distances(second)
    found = [
        (
            _part_way(along_first, int(near_first[i]), float(t[i, j])),
            _part_way(along_second, int(near_second[j]), float(u[i, j])),
        )
        for i, j in rows.tolist()
    ]
    return _without_repeats(sorted(found))


def _near(points: Points, other: Points) -> NDArray[np.intp]:
    """Indices of the segments whose own box meets the other polyline's box."""
    (left, low), (right, high) = other.min(axis=0) - SAME_POINT, other.max(axis=0) + SAME_POINT
    x, y = points[:, 0], points[:, 1]
    clear_x = (np.maximum(x[1:], x[:-1]) < left) | (np.minimum(x[1:], x[:-1]) > right)
    clear_y = (np.maximum(y[1:], y[:-1]) < low) | (np.minimum(y[1:], y[:-1]) > high)
    return np.flatnonzero(~(clear_x | clear_y))


def _part_way(along: NDArray[np.float64], index: int, share: float) -> float:
    return float(along[index] + min(max(share, 0.0), 1.0) * (along[index + 1] - along[index]))


def _without_repeats(found: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A crossing at a vertex is met by both its segments; keep one."""
    kept: list[tuple[float, float]] = []
    for here in found:
        if not any(abs(here[0] - k[0]) <= 2 * SAME_POINT and abs(here[1] - k[1]) <= 2 * SAME_POINT for k in kept):
            kept.append(here)
    return kept


def signed_area(loop: Points) -> float:
    """Area in mm² of a closed loop given without its repeated last point; positive when counter-clockwise."""
    x, y = loop[:, 0] - loop[0, 0], loop[:, 1] - loop[0, 1]
    return float(0.5 * (x[:-1] @ y[1:] - y[:-1] @ x[1:]))
