"""Where the lines outside two neighbouring runs meet: mitred, cut off square, squared or mirrored."""

from __future__ import annotations

from math import inf
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.geometry.margins import FOLD_RUN_ON, MITRE, EndKind, Moved, cross, tangents
from core.geometry.placement import gap, reflected
from core.geometry.polyline import Point, Points, as_point, as_points, backwards, between, crossings, length, point_at

TAPER: Final = 2.0
"""Where a run, going straight on, meets the other's before that one's end, it does so for at most this many times the
larger distance: at corners of 150 degrees or less, or in hollows as deep. At flatter ones there is a square step."""

HOLLOW: Final = 10.0
"""In a hollow corner runs that meet farther away than this are left to the union of strips."""

BLUNT: Final = 2.0
"""A sharper corner is cut off square, this many times the larger distance away from it."""


SQUARED: Final = 1.5
"""A squared end begins at most this many times the larger distance beyond its corner: at turns of 42 to 138 degrees.
Elsewhere it would stand out as a horn."""


class Meeting(msgspec.Struct, frozen=True, eq=False):
    """How two moved runs meet: where the first stops, what lies between, where the next starts (mm along each)."""

    stop: float
    between: tuple[Point, ...]
    start: float


def meeting(first: Moved, second: Moved) -> Meeting:
    """How one moved run goes over into the next.

    An end that is to be squared or mirrored and cannot be, as the corner is hollow, nearly straight or too sharp, is
    mitred.
    """
    turned = _turned(first, second)
    return turned or _mitred(first, second)


def _mitred(first: Moved, second: Moved) -> Meeting:
    """The nearest place to their corner where the last half of one moved run meets the first half of the next.

    At a fold all of both paths counts: in a deep V the two may meet far from the corner, and a short run's line beyond
    its other end.
    """
    corner = as_point(first.margin.points[-1])
    at_fold = first.margin.fold or second.margin.fold
    least, most = (-inf, inf) if at_fold else (_middle(first), _middle(second))
    met = [
        (away, stop, start)
        for stop, start in crossings(first.path, second.path)
        if (away := gap(point_at(first.path, stop), corner)) <= _reach(first, second, stop=stop, start=start)
        and stop >= least
        and start <= most
    ]
    if met:
        _, stop, start = min(met)
        return Meeting(stop, (), start)
    return Meeting(first.stop, _blunted(first, second), second.start)


def _middle(run: Moved) -> float:
    return 0.5 * (run.start + run.stop)


def _reach(first: Moved, second: Moved, *, stop: float, start: float) -> float:
    """How far from their corner two moved runs may meet, in mm, if they meet at these distances along them."""
    if first.margin.fold or second.margin.fold:
        return FOLD_RUN_ON
    arriving, leaving = _ways(first, second)
    if cross(arriving, leaving) > 0.0:
        tapers, plain = stop < first.stop or start > second.start, MITRE
    else:
        tapers, plain = stop > first.stop or start < second.start, HOLLOW
    return (TAPER if tapers else plain) * max(first.margin.distance, second.margin.distance) + 1e-6


def _ways(first: Moved, second: Moved) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The directions in which the outline arrives at the corner and leaves it."""
    return tangents(first.margin.points)[-1], tangents(second.margin.points)[0]


def _blunted(first: Moved, second: Moved) -> tuple[Point, ...]:
    """The two ends of the square cut before a sharp corner; nothing where the runs hardly turn or turn inwards."""
    arriving, leaving = _ways(first, second)
    if arriving @ leaving > 0.0 or cross(arriving, leaving) <= 0.0:
        return ()
    corner = first.margin.points[-1]
    ahead = (arriving - leaving) / np.hypot(*(arriving - leaving))
    reach = BLUNT * max(first.margin.distance, second.margin.distance)
    ends = []
    for run, way, at in ((first, arriving, first.stop), (second, -leaving, second.start)):
        start = np.array(point_at(run.path, at))
        ends.append(as_point(start + (reach - (start - corner) @ ahead) / (way @ ahead) * way))
    return tuple(ends)


# --------------------------------------------------------------------------------------------------------------
# ends that are squared or mirrored


class _Side(msgspec.Struct, frozen=True, eq=False):
    """One of two runs seen from their corner: `path` (N, 2) leads away from it, and `at` mm along it the run begins.

    An end does not reach beyond its `middle`.
    """

    path: Points
    at: float
    middle: float
    distance: float


def _turned(first: Moved, second: Moved) -> Meeting | None:
    """The meeting where one of the two ends is squared or mirrored; None where neither is or can be."""
    arriving, leaving = _ways(first, second)
    kind, other_kind = first.margin.ends[1], second.margin.ends[0]
    if (kind, other_kind) == ("mitred", "mitred") or first.margin.fold or second.margin.fold:
        return None
    if cross(arriving, leaving) <= 1e-6:
        return None
    sides = _side(first, at_stop=True), _side(second, at_stop=False)
    corner = first.margin.points[-1]
    if kind != "mitred":
        end = _end_line(sides, kind, corner, arriving)
        if end is not None:
            own, line, other = end
            return Meeting(length(first.path) - own, line, other)
    if other_kind != "mitred":
        end = _end_line(sides[::-1], other_kind, corner, -leaving)
        if end is not None:
            own, line, other = end
            return Meeting(length(first.path) - other, line[::-1], own)
    return None


def _side(run: Moved, *, at_stop: bool) -> _Side:
    if at_stop:
        return _Side(backwards(run.path), run.after, length(run.path) - _middle(run), run.margin.distance)
    return _Side(run.path, run.before, _middle(run), run.margin.distance)


def _end_line(
    sides: tuple[_Side, ...], kind: EndKind, corner: NDArray[np.float64], ahead: NDArray[np.float64]
) -> tuple[float, tuple[Point, ...], float] | None:
    """How the allowance of the first side ends: where along its path, the places between, where along the other's path.

    `ahead` is the direction in which the run reaches the corner. None where the run going on does not meet the other's
    line near the corner, or the end does not reach its own.
    """
    own, other = sides
    most = (SQUARED if kind == "squared" else MITRE) * max(own.distance, other.distance)
    if own.distance <= 0.0:
        return None
    ray = as_points((corner, corner + most * ahead))
    met = [at for along, at in crossings(ray, other.path) if at <= other.middle]
    if not met:
        return None
    start = min(met)
    foot = np.array(point_at(other.path, start))
    if kind == "squared":
        aside = np.array(point_at(own.path, own.at)) - corner
        line = as_points((foot, foot + 1.5 * aside))
    else:
        line = reflected(between(other.path, start, length(other.path)), corner, corner + ahead)
    ends = [pair for pair in crossings(line, own.path) if pair[0] > 1e-9 and pair[1] <= own.middle]
    if not ends:
        return None
    reached, at = min(ends)
    inner = backwards(between(line, 0.0, reached))[1:]
    return at, tuple(as_point(place) for place in inner), start
