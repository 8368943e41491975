"""A loop round an outline at a distance of its own from each run: how stitching lines become cutting lines.

Each run is moved outwards and neighbours are cut or run on to where they meet. That is exact, and right unless a hollow
is tighter than the distance or two distant runs come near each other; the loop is then built as a union of strips.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from core.geometry.corners import Meeting, meeting
from core.geometry.margins import FOLD_RUN_ON, Margin, Moved, cross, moved, outward, tangents, without_corners
from core.geometry.placement import gap
from core.geometry.planar import is_simple_loop, outer_loop
from core.geometry.polyline import (
    Pair,
    Point,
    Points,
    as_point,
    as_points,
    between,
    distances,
    joined,
    point_at,
    signed_area,
)


def offset_loop(margins: Sequence[Margin]) -> Points:
    """The closed loop (M, 2), first point = last, counter-clockwise, round the outline that the margins make up.

    Every point lies at least its run's distance outside it. Corners are mitred, or as the margins' ends say; a corner
    too sharp for a mitre is cut off square. Where distances differ, the run with the smaller goes on straight to the
    other's line, or, where the two hardly turn, a square step leads from one to the other.
    """
    smooth = [part for margin in margins for part in without_corners(margin)]
    runs = [moved(smooth, index) for index in range(len(smooth))]
    meetings = [meeting(runs[index], runs[(index + 1) % len(runs)]) for index in range(len(runs))]
    loop = _mitred(runs, meetings)
    if loop is None:
        loop = _united(runs, meetings)
    return as_points(np.vstack((loop, loop[:1])))


def _mitred(runs: Sequence[Moved], meetings: Sequence[Meeting]) -> Points | None:
    """The moved runs cut at their meetings, or None where that is no clean loop."""
    parts: list[Points] = []
    for index, run in enumerate(runs):
        start, stop = meetings[index - 1].start, meetings[index].stop
        if start > stop + 1e-9 or run.turns_back:
            return None
        if stop > start:
            parts.append(between(run.path, start, stop))
        if meetings[index].between:
            parts.append(as_points(meetings[index].between))
    loop = joined(parts)
    loop = loop[:-1] if gap(loop[0], loop[-1]) < 1e-6 else loop
    return as_points(loop) if is_simple_loop(loop) else None


# --------------------------------------------------------------------------------------------------------------
# the union of strips


def _united(runs: Sequence[Moved], meetings: Sequence[Meeting]) -> Points:
    """The outer loop of the outline, a strip outside each chord, and what fills the corners."""
    more = [as_points(joined([run.margin.points for run in runs])[:-1])]
    less: list[Points] = []
    for index, run in enumerate(runs):
        before, after = runs[index - 1], runs[(index + 1) % len(runs)]
        start = meetings[index - 1].start if _turns_out(before, run) else run.start
        stop = meetings[index].stop if _turns_out(run, after) else run.stop
        more += _strips(run, start, stop)
        if _turns_out(run, after):
            more += _corner(run, after, meetings[index])
        if run.margin.fold:
            less.append(_beyond(run.margin))
    return outer_loop(more, less)


def _turns_out(first: Moved, second: Moved) -> bool:
    return bool(cross(tangents(first.margin.points)[-1], tangents(second.margin.points)[0]) > 1e-9)


def _strips(run: Moved, start: float, stop: float) -> list[Points]:
    """A quadrangle outside each chord and a wedge where the run turns outwards, cut off where it meets its neighbours.

    A run that is cut away altogether by its neighbours keeps all its strips.
    """
    if run.margin.distance == 0.0:
        return []
    points, inner = run.margin.points, run.inner
    along = run.start + distances(inner)
    if start >= stop:
        return _whole_strips(run, range(len(points) - 1))
    start, stop = max(start, run.start), min(stop, run.stop)
    first, last = int(np.searchsorted(along, start - 1e-9)), int(np.searchsorted(along, stop + 1e-9)) - 1
    begin, end = point_at(run.path, start), point_at(run.path, stop)
    if first > last:
        return _fan(begin, [*points, end])
    cut = [*_fan(begin, [*points[: first + 1], inner[first]]), *_fan(end, [inner[last], *points[last:]])]
    return [*_whole_strips(run, range(first, last)), *cut]


def _whole_strips(run: Moved, chords: range) -> list[Points]:
    points, ways, inner = run.margin.points, tangents(run.margin.points), run.inner
    out = run.margin.distance * outward(ways)
    strips = [np.array((points[k], points[k] + out[k], points[k + 1] + out[k], points[k + 1])) for k in chords]
    turns_out = np.flatnonzero(cross(ways[:-1], ways[1:]) > 1e-12) + 1
    wedges = [
        np.array((points[k], points[k] + out[k - 1], inner[k], points[k] + out[k]))
        for k in turns_out
        if k - 1 in chords or k in chords
    ]
    return [as_points(part) for part in (*strips, *wedges)]


def _corner(first: Moved, second: Moved, met: Meeting) -> list[Points]:
    """What lies at a corner that turns outwards between the ends of both strips."""
    before = between(first.path, first.stop, met.stop) if met.stop > first.stop else [point_at(first.path, met.stop)]
    behind = met.start < second.start
    after = between(second.path, met.start, second.start) if behind else [point_at(second.path, met.start)]
    return _fan(as_point(first.margin.points[-1]), [*before, *met.between, *after])


def _fan(middle: Point, round_it: Sequence[Pair]) -> list[Points]:
    """The triangles between a place and each two places that follow one another, those of no area left out."""
    places = [as_point(place) for place in round_it]
    fan = [as_points((middle, *pair)) for pair in pairwise(places)]
    return [triangle for triangle in fan if abs(signed_area(triangle)) > 1e-9]


def _beyond(fold: Margin) -> Points:
    """A box outside the straight line of a fold, long enough for any piece."""
    way = tangents(fold.points[[0, -1]])
    out = FOLD_RUN_ON * outward(way)[0]
    first, last = fold.points[0] - FOLD_RUN_ON * way[0], fold.points[-1] + FOLD_RUN_ON * way[0]
    return as_points((first, first + out, last + out, last))
