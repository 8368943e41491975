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


def as_points(points: ArrayLike) -> Points:
    """A read-only float64 copy of shape (N, 2); ValueError for any other shape or for a value that is not finite."""
    array = np.array(points, dtype=np.float64)
    if array.ndim != 2 or array.shape[1] != 2:
        raise ValueError(f"points of shape (N, 2) wanted, not {array.shape}")
    if not np.isfinite(array).all():
        raise ValueError("a coordinate is not a finite number")
    array.flags.writeable = False
    return array


def as_point(point: ArrayLike) -> Point:
    """A pair of plain floats."""
    x, y = np.asarray(point, dtype=np.float64)
    return (float(x), float(y))


def distances(points: Points) -> NDArray[np.float64]:
    """Arc length from the first point to each point, shape (N,), in mm."""
    steps = np.hypot(*np.diff(points, axis=0).T)
    return np.concatenate(([0.0], np.cumsum(steps)))


def length(points: Points) -> float:
    """Arc length in mm."""
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def point_at(points: Points, distance: float) -> Point:
    """The point at `distance` mm; distances outside are clamped to the ends."""
    along = distances(points)
    return (float(np.interp(distance, along, points[:, 0])), float(np.interp(distance, along, points[:, 1])))


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


def nearest(points: Points, place: ArrayLike) -> tuple[float, float]:
    """(distance along, gap) of the place on the polyline that is nearest to the point, both in mm."""
    target = np.asarray(place, dtype=np.float64)
    starts, spans = points[:-1], np.diff(points, axis=0)
    squared = np.maximum((spans**2).sum(axis=1), 1e-300)
    share = np.clip(((target - starts) * spans).sum(axis=1) / squared, 0.0, 1.0)
    gaps = np.hypot(*(starts + share[:, None] * spans - target).T)
    best = int(np.argmin(gaps))
    along = distances(points)
    return float(along[best] + share[best] * (along[best + 1] - along[best])), float(gaps[best])


def between(points: Points, start: float, stop: float) -> Points:
    """The stretch from distance `start` to distance `stop` (start < stop, in mm), its ends exactly there."""
    along = distances(points)
    inner = points[(along > start + SAME_POINT) & (along < stop - SAME_POINT)]
    first = points[0] if start <= 0.0 else point_at(points, start)
    last = points[-1] if stop >= along[-1] else point_at(points, stop)
    return as_points(np.vstack((first, inner, last)))


def cut_at(points: Points, cuts: Sequence[float]) -> list[Points]:
    """The stretches between the ends and the given rising distances; neighbours share their point bit for bit."""
    stops = [0.0, *cuts, length(points)]
    parts = [between(points, a, b) for a, b in pairwise(stops)]
    for index in range(1, len(parts)):
        joined = np.array(parts[index])
        joined[0] = parts[index - 1][-1]
        parts[index] = as_points(joined)
    return parts


def backwards(points: Points) -> Points:
    """The same polyline travelled the other way."""
    return as_points(points[::-1])


def joined(parts: Iterable[Points]) -> Points:
    """One polyline through all parts in turn; a first point that repeats the point before it is dropped."""
    rows: list[Points] = []
    for part in parts:
        same = bool(rows) and float(np.hypot(*(part[0] - rows[-1][-1]))) <= SAME_POINT
        rows.append(part[1:] if same else part)
    return as_points(np.vstack([row for row in rows if len(row)]))


def with_ends(points: Points, *, first: ArrayLike | None = None, last: ArrayLike | None = None) -> Points:
    """The polyline with its end points replaced, so that neighbours can close bit for bit."""
    moved = np.array(points)
    if first is not None:
        moved[0] = first
    if last is not None:
        moved[-1] = last
    return as_points(moved)


def crossings(first: Points, second: Points) -> list[tuple[float, float]]:
    """Where two polylines cross or touch: (distance along first, distance along second), rising along the first."""
    p, r = first[:-1, None, :], np.diff(first, axis=0)[:, None, :]
    q, s = second[None, :-1, :], np.diff(second, axis=0)[None, :, :]
    denominator = r[..., 0] * s[..., 1] - r[..., 1] * s[..., 0]
    gap = q - p
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (gap[..., 0] * s[..., 1] - gap[..., 1] * s[..., 0]) / denominator
        u = (gap[..., 0] * r[..., 1] - gap[..., 1] * r[..., 0]) / denominator
    slack_t = SAME_POINT / np.maximum(np.hypot(r[..., 0], r[..., 1]), SAME_POINT)
    slack_u = SAME_POINT / np.maximum(np.hypot(s[..., 0], s[..., 1]), SAME_POINT)
    hit = (np.abs(denominator) > 1e-12) & (t >= -slack_t) & (t <= 1 + slack_t) & (u >= -slack_u) & (u <= 1 + slack_u)
    along_first, along_second = distances(first), distances(second)
    steps_first, steps_second = np.diff(along_first), np.diff(along_second)
    found = [
        (
            float(along_first[i] + np.clip(t[i, j], 0, 1) * steps_first[i]),
            float(along_second[j] + np.clip(u[i, j], 0, 1) * steps_second[j]),
        )
        for i, j in np.argwhere(hit)
    ]
    return _without_repeats(sorted(found))


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
    return float(0.5 * (x @ np.roll(y, -1) - y @ np.roll(x, -1)))
