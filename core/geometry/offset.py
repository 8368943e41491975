"""A loop round an outline at a distance of its own from each run: how stitching lines become cutting lines.

Each run is moved outwards and neighbours are cut or run on to where they meet. That is exact, and right unless a hollow
is tighter than the distance or two distant runs come near each other; the loop is then built as a union of strips.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import radians
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.geometry.planar import is_simple_loop, outer_loop
from core.geometry.polyline import (
    Point,
    Points,
    as_point,
    as_points,
    between,
    crossings,
    joined,
    length,
    point_at,
)

CORNER: Final = radians(8.0)
"""A turn inside a run that is larger is a corner: fair curves turn less from chord to chord."""

MITRE: Final = 3.0
"""Neighbours run on to their meeting by at most this many times the larger distance: down to corners of 37 degrees."""

TAPER: Final = 2.0
"""Where the run with the smaller distance, going straight on, cuts into the other's, it does so for at most this many
times the larger distance: at corners of 150 degrees or less. At flatter ones a square step loses less allowance."""

HOLLOW: Final = 10.0
"""In a hollow corner runs that meet farther away than this are left to the union of strips."""

BLUNT: Final = 2.0
"""A sharper corner is cut off square, this many times the larger distance away from it."""

FOLD_RUN_ON: Final = 1000.0
"""How far (mm) a fold's line goes on to meet its neighbour: what is cut on the fold ends on it, however far that is."""


@dataclass(frozen=True, eq=False, slots=True)
class Margin:
    """A run of a counter-clockwise outline (N, 2), and how far outside it (mm, 0 or more) the loop lies.

    Nothing may lie beyond the straight line of a `fold`.
    """

    points: Points
    distance: float
    fold: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class _Moved:
    """A margin moved outwards and run on straight at both ends, by `before` and `after` mm."""

    margin: Margin
    path: Points
    before: float
    after: float

    @property
    def start(self) -> float:
        """Where the moved run itself begins along the path."""
        return self.before

    @property
    def stop(self) -> float:
        """Where the moved run itself ends along the path."""
        return length(self.path) - self.after


@dataclass(frozen=True, eq=False, slots=True)
class _Meeting:
    """How two moved runs meet: where the first stops, what lies between, where the next starts (mm along each)."""

    stop: float
    between: tuple[Point, ...]
    start: float


def offset_loop(margins: Sequence[Margin]) -> Points:
    """The closed loop (M, 2), first point = last, counter-clockwise, round the outline that the margins make up.

    Every point lies at least its run's distance outside it. Corners are mitred; a corner too sharp for that is cut off
    square. Where distances differ, the run with the smaller goes on straight to the other's line, or, where the two
    hardly turn, a square step leads from one to the other.
    """
    smooth = [part for margin in margins for part in _without_corners(margin)]
    moved = [_moved(smooth, index) for index in range(len(smooth))]
    meetings = [_meeting(moved[index], moved[(index + 1) % len(moved)]) for index in range(len(moved))]
    loop = _mitred(moved, meetings)
    if loop is None:
        loop = _united(moved, meetings)
    return as_points(np.vstack((loop, loop[:1])))


# --------------------------------------------------------------------------------------------------------------
# runs


def _without_corners(margin: Margin) -> list[Margin]:
    """The margin cut at the corners inside it."""
    points = margin.points[np.concatenate(([True], np.hypot(*np.diff(margin.points, axis=0).T) > 0.0))]
    tangents = _tangents(points)
    turns = np.abs(np.arctan2(_cross(tangents[:-1], tangents[1:]), (tangents[:-1] * tangents[1:]).sum(axis=1)))
    cuts = [0, *(np.flatnonzero(turns > CORNER) + 1), len(points) - 1]
    return [Margin(as_points(points[a : b + 1]), margin.distance, margin.fold) for a, b in pairwise(cuts)]


def _tangents(points: Points) -> NDArray[np.float64]:
    spans = np.diff(points, axis=0)
    units: NDArray[np.float64] = spans / np.hypot(*spans.T)[:, None]
    return units


def _cross(first: NDArray[np.float64], second: NDArray[np.float64]) -> NDArray[np.float64]:
    return first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]


def _outward(tangents: NDArray[np.float64]) -> NDArray[np.float64]:
    """Unit normals to the right of the way: outside a counter-clockwise loop."""
    return np.column_stack((tangents[:, 1], -tangents[:, 0]))


def _moved(margins: Sequence[Margin], index: int) -> _Moved:
    margin, count = margins[index], len(margins)
    tangents = _tangents(margin.points)
    path = margin.points + margin.distance * _mitres(tangents)
    before = _run_on(margin, margins[index - 1])
    after = _run_on(margin, margins[(index + 1) % count])
    run_on = (path[0] - before * tangents[0], path[-1] + after * tangents[-1])
    parts = ([run_on[0]] if before else [], path, [run_on[1]] if after else [])
    return _Moved(margin, as_points(np.vstack([part for part in parts if len(part)])), before, after)


def _mitres(tangents: NDArray[np.float64]) -> NDArray[np.float64]:
    """For each point how far it moves when both its chords move outwards by 1, shape (N, 2)."""
    normals = _outward(tangents)
    first = np.vstack((normals[:1], normals))
    second = np.vstack((normals, normals[-1:]))
    mitres: NDArray[np.float64] = (first + second) / (1.0 + (first * second).sum(axis=1))[:, None]
    return mitres


def _run_on(margin: Margin, neighbour: Margin) -> float:
    return FOLD_RUN_ON if margin.fold else MITRE * max(margin.distance, neighbour.distance)


# --------------------------------------------------------------------------------------------------------------
# corners


def _meeting(first: _Moved, second: _Moved) -> _Meeting:
    """The nearest place to their corner where the last half of one moved run meets the first half of the next.

    At a fold the whole run counts: in a deep V the two may meet far from the corner.
    """
    corner = as_point(first.margin.points[-1])
    share = 0.0 if first.margin.fold or second.margin.fold else 0.5
    least, most = (run.start + part * (run.stop - run.start) for run, part in ((first, share), (second, 1.0 - share)))
    met = [
        (off, stop, start)
        for stop, start in crossings(first.path, second.path)
        if (off := _off(point_at(first.path, stop), corner)) <= _reach(first, second, stop=stop, start=start)
        and stop >= least
        and start <= most
    ]
    if met:
        _, stop, start = min(met)
        return _Meeting(stop, (), start)
    return _Meeting(first.stop, _blunted(first, second), second.start)


def _reach(first: _Moved, second: _Moved, *, stop: float, start: float) -> float:
    """How far from their corner two moved runs may meet, in mm, if they meet at these distances along them."""
    if first.margin.fold or second.margin.fold:
        return FOLD_RUN_ON
    arriving, leaving = _tangents(first.margin.points)[-1], _tangents(second.margin.points)[0]
    tapers = stop < first.stop - 1e-9 or start > second.start + 1e-9
    most = HOLLOW if _cross(arriving, leaving) <= 0.0 else TAPER if tapers else MITRE
    return most * max(first.margin.distance, second.margin.distance) + 1e-6


def _off(place: Point, corner: Point) -> float:
    return float(np.hypot(place[0] - corner[0], place[1] - corner[1]))


def _blunted(first: _Moved, second: _Moved) -> tuple[Point, ...]:
    """The two ends of the square cut before a sharp corner; nothing where the runs hardly turn or turn inwards."""
    arriving, leaving = _tangents(first.margin.points)[-1], _tangents(second.margin.points)[0]
    if arriving @ leaving > 0.0 or _cross(arriving, leaving) <= 0.0:
        return ()
    corner = first.margin.points[-1]
    ahead = (arriving - leaving) / np.hypot(*(arriving - leaving))
    reach = BLUNT * max(first.margin.distance, second.margin.distance)
    ends = []
    for moved, way, at in ((first, arriving, first.stop), (second, -leaving, second.start)):
        start = np.array(point_at(moved.path, at))
        ends.append(as_point(start + (reach - (start - corner) @ ahead) / (way @ ahead) * way))
    return tuple(ends)


# --------------------------------------------------------------------------------------------------------------
# the loop


def _mitred(moved: Sequence[_Moved], meetings: Sequence[_Meeting]) -> Points | None:
    """The moved runs cut at their meetings, or None where that is no clean loop."""
    parts: list[Points] = []
    for index, run in enumerate(moved):
        start, stop = meetings[index - 1].start, meetings[index].stop
        if start > stop + 1e-9 or _turns_back(run):
            return None
        if stop > start:
            parts.append(between(run.path, start, stop))
        if meetings[index].between:
            parts.append(as_points(meetings[index].between))
    loop = joined(parts)
    loop = loop[:-1] if _off(as_point(loop[0]), as_point(loop[-1])) < 1e-6 else loop
    return as_points(loop) if is_simple_loop(loop) else None


def _turns_back(run: _Moved) -> bool:
    """Whether the run was moved through the centre of a hollow that is tighter than its distance."""
    inner = run.path[1 if run.before else 0 : len(run.path) - (1 if run.after else 0)]
    whole = run.margin.points
    return bool((np.diff(inner, axis=0) * np.diff(whole, axis=0)).sum(axis=1).min() <= 0.0)


def _united(moved: Sequence[_Moved], meetings: Sequence[_Meeting]) -> Points:
    """The outer loop of the outline, a strip outside each chord, and what fills or cuts the corners."""
    outline = as_points(joined([run.margin.points for run in moved])[:-1])
    more = [outline]
    less: list[Points] = []
    for index, run in enumerate(moved):
        more += _strips(run.margin)
        after = moved[(index + 1) % len(moved)]
        fill, cut = _corner_patches(run, after, meetings[index])
        more += fill
        less += cut
        if run.margin.fold:
            less.append(_beyond(run.margin))
    return outer_loop(more, less)


def _strips(margin: Margin) -> list[Points]:
    """A rectangle outside each chord, and a wedge at each point where the run turns outwards."""
    if margin.distance == 0.0:
        return []
    points, tangents = margin.points, _tangents(margin.points)
    out = margin.distance * _outward(tangents)
    mitres = points + margin.distance * _mitres(tangents)
    strips = [
        np.array((points[k], points[k] + out[k], points[k + 1] + out[k], points[k + 1])) for k in range(len(tangents))
    ]
    turns_out = np.flatnonzero(_cross(tangents[:-1], tangents[1:]) > 1e-12) + 1
    wedges = [np.array((points[k], points[k] + out[k - 1], mitres[k], points[k] + out[k])) for k in turns_out]
    return [as_points(part) for part in (*strips, *wedges)]


def _corner_patches(first: _Moved, second: _Moved, meeting: _Meeting) -> tuple[list[Points], list[Points]]:
    """What is added at a corner that turns outwards, and what a run's straight continuation takes away from it."""
    corner = as_point(first.margin.points[-1])
    ends = (point_at(first.path, first.stop), point_at(second.path, second.start))
    if meeting.between:
        return [as_points((corner, ends[0], *meeting.between, ends[1]))], []
    ahead, behind = meeting.stop - first.stop, second.start - meeting.start
    met = point_at(first.path, meeting.stop)
    arriving, leaving = _tangents(first.margin.points)[-1], _tangents(second.margin.points)[0]
    if _cross(arriving, leaving) <= 1e-9 or max(ahead, behind) <= 1e-9:
        return [], []
    if min(ahead, behind) >= 0.0:
        return [as_points((corner, ends[0], met, ends[1]))], []
    return [], [as_points((corner, met, ends[1] if ahead > 0.0 else ends[0]))]


def _beyond(fold: Margin) -> Points:
    """A box outside the straight line of a fold, long enough for any piece."""
    way = _tangents(fold.points[[0, -1]])
    out = FOLD_RUN_ON * _outward(way)[0]
    first, last = fold.points[0] - FOLD_RUN_ON * way[0], fold.points[-1] + FOLD_RUN_ON * way[0]
    return as_points((first, first + out, last + out, last))
