"""Carrying drawn points from one body's landmarks to another's: the thin-plate map.

Of all maps that take each old landmark to its new place, the thin-plate map bends the least (F. L. Bookstein,
"Principal warps", IEEE Transactions on Pattern Analysis and Machine Intelligence 11, 1989). It keeps affine maps as
they are.

Words: *anchors* are landmarks made up where the given ones lie on one line, so that the map is the similarity (or the
shift) that the given ones ask for; the *stretch* at a place is the factor by which the map enlarges areas there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from itertools import combinations
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_point, as_points
from core.geometry.tolerances import SAME_POINT

FLAT: Final = 1e-6
"""Landmarks whose spread across their longest line is below this share of its length lie on one line."""

FOLDED: Final = 1e-6
"""An area stretch at or below this is a fold: paper cannot follow."""

ANCHOR_REACH: Final = 100.0
"""How far in mm the anchors stand from a lone landmark; the shift they give does not depend on it."""

FLIP: Final = np.array((-1.0, 1.0))


def landmark_map(old: Mapping[str, Point], new: Mapping[str, Point], *, fold: bool) -> Callable[[Points], Points]:
    """The map that takes every landmark which both have from its old to its new place.

    It takes points of shape (N, 2) in mm and returns as many. With `fold` the landmarks are mirrored over x = 0, so
    that the fold stays exactly and curves stay square to it. Where all common landmarks are equal (or there are none)
    the map returns the very array it is given. Three landmarks give an affine map, two a similarity, one a shift.
    Refusal when the map would fold over within the landmarks or, as it is used, at one of the points.
    """
    pairs = tuple((name, as_point(old[name]), as_point(new[name])) for name in old if name in new)
    if all(was == now for _, was, now in pairs):
        return _unchanged
    return _map_between(pairs, fold)


@lru_cache(maxsize=64)
def _map_between(pairs: tuple[tuple[str, Point, Point], ...], fold: bool) -> Callable[[Points], Points]:
    """The map of some landmarks, kept: the points drawn beside them move far oftener than they do."""
    old, new = {name: was for name, was, _ in pairs}, {name: now for name, _, now in pairs}
    names = _without_repeats(list(old), old, new)
    sources, targets = (as_points([side[name] for name in names]) for side in (old, new))
    if fold:
        _check_fold(names, sources, targets)
    full_sources, full_targets = _mirrored_landmarks(sources, targets) if fold else (sources, targets)
    warp = _solved(*_anchored(full_sources, full_targets), fold=fold)
    landmarks = dict(zip(names, sources, strict=True))
    _refuse_folds(warp, _places_among(sources, fold=fold), landmarks)

    def carry(points: Points) -> Points:
        _refuse_folds(warp, points, landmarks)
        return as_points(warp.carried(points))

    return carry


def _unchanged(points: Points) -> Points:
    return points


# --------------------------------------------------------------------------------------------------------------
# the map itself


class _Warp(msgspec.Struct, frozen=True, eq=False):
    """x -> x @ linear + shift + sum of weights * U(distance to a centre), with U(r) = r² log r²."""

    centres: Points
    weights: Points
    linear: NDArray[np.float64]
    shift: NDArray[np.float64]
    fold: bool

    def carried(self, points: Points) -> Points:
        """The mapped points, (N, 2). Over a fold, the mean of the map and its mirror image: exact at x = 0."""
        if not self.fold:
            return self._carried_once(points)
        both: Points = 0.5 * (self._carried_once(points) + self._carried_once(points * FLIP) * FLIP)
        return both

    def _carried_once(self, points: Points) -> Points:
        carried: Points = points @ self.linear + self.shift + _radial(points, self.centres) @ self.weights
        return carried

    def stretches(self, points: Points) -> NDArray[np.float64]:
        """The determinant of the map's derivative at each point, (N,)."""
        dx, dy = (points[:, axis, None] - self.centres[:, axis] for axis in (0, 1))
        # U's slope is (2 log r² + 2) times the way from the centre; the weights leave nothing of what is even, the 2.
        slopes = 2.0 * np.log(np.maximum(dx * dx + dy * dy, 1e-300))
        (xx, xy), (yx, yy) = (
            ((slopes * away) @ self.weights + row).T for away, row in zip((dx, dy), self.linear, strict=True)
        )
        found: NDArray[np.float64] = xx * yy - xy * yx
        return found


def _radial(points: Points, centres: Points) -> NDArray[np.float64]:
    """U(r) = r² log r² between every point and every centre, (N, C); 0 at r = 0."""
    dx, dy = (points[:, axis, None] - centres[:, axis] for axis in (0, 1))
    squared = dx * dx + dy * dy
    bent: Points = squared * np.log(np.maximum(squared, 1e-300))
    return bent


def _solved(sources: Points, targets: Points, *, fold: bool) -> _Warp:
    """The thin-plate map through all pairs; the sources must be apart and not all on one line."""
    count = len(sources)
    middle = sources.mean(axis=0)
    plane = np.column_stack((np.ones(count), sources - middle))
    system = np.zeros((count + 3, count + 3))
    system[:count, :count] = _radial(sources, sources)
    system[:count, count:] = plane
    system[count:, :count] = plane.T
    found = np.asarray(np.linalg.solve(system, np.vstack((targets, np.zeros((3, 2))))), dtype=np.float64)
    weights, constant, linear = found[:count], found[count], found[count + 1 :]
    return _Warp(sources, weights, linear, constant - middle @ linear, fold)


# --------------------------------------------------------------------------------------------------------------
# the landmarks


def _without_repeats(names: list[str], old: Mapping[str, Point], new: Mapping[str, Point]) -> list[str]:
    """One name for each place. Refusal where two landmarks share their old place but not the new one."""
    kept: list[str] = []
    for name in names:
        twin = next((k for k in kept if _near(old[k], old[name])), None)
        if twin is None:
            kept.append(name)
        elif not _near(new[twin], new[name]):
            raise Refusal(
                f"The {_plain(twin)} and the {_plain(name)} lie on one another on the body this was drawn for and "
                "apart on this one, so it cannot be carried over: draw it anew on this body."
            )
    return kept


def _near(first: Point, second: Point) -> bool:
    return bool(np.hypot(first[0] - second[0], first[1] - second[1]) <= SAME_POINT)


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _check_fold(names: list[str], sources: Points, targets: Points) -> None:
    """Refusal where a landmark lies on the fold for one body and beside it for the other, or changes sides."""
    sides = [np.where(np.abs(x) <= SAME_POINT, 0.0, np.sign(x)) for x in (sources[:, 0], targets[:, 0])]
    for name, before, after in zip(names, *sides, strict=True):
        if before != after:
            raise Refusal(
                f"The {_plain(name)} does not keep its side of the fold from one body to the other, so what was drawn "
                "cannot be carried over: draw it anew on this body."
            )


def _mirrored_landmarks(sources: Points, targets: Points) -> tuple[Points, Points]:
    """The landmarks and the mirror images of those beside the fold."""
    beside = np.abs(sources[:, 0]) > SAME_POINT
    return (
        np.vstack((sources, sources[beside] * FLIP)),
        np.vstack((targets, targets[beside] * FLIP)),
    )


def _anchored(sources: Points, targets: Points) -> tuple[Points, Points]:
    """The landmarks, with anchors where they lie on one line or are a single one."""
    if len(sources) == 1:
        steps = ANCHOR_REACH * np.eye(2)
        return np.vstack((sources, sources + steps)), np.vstack((targets, targets + steps))
    centred = sources - sources.mean(axis=0)
    _, spreads, axes = np.linalg.svd(centred, full_matrices=False)
    if spreads[1] > FLAT * spreads[0]:
        return sources, targets
    along = centred @ axes[0]
    first, last = int(np.argmin(along)), int(np.argmax(along))
    return (
        np.vstack((sources, _square_off(sources[first], sources[last]))),
        np.vstack((targets, _square_off(targets[first], targets[last]))),
    )


def _square_off(first: NDArray[np.float64], last: NDArray[np.float64]) -> Points:
    """The two places square off the middle of a line, at its length: what a similarity carries along with it."""
    across = (last - first)[::-1] * FLIP
    middle = 0.5 * (first + last)
    return np.vstack((middle + across, middle - across))


# --------------------------------------------------------------------------------------------------------------
# folding over


def _places_among(sources: Points, *, fold: bool) -> Points:
    """Places spread over the hull of the landmarks: means of every two and three, and quarter points."""
    corners = np.vstack((sources, sources * (0.0, 1.0))) if fold else sources
    pairs = np.array(list(combinations(range(len(corners)), 2)), dtype=np.intp).reshape(-1, 2)
    threes = np.array(list(combinations(range(len(corners)), 3)), dtype=np.intp).reshape(-1, 3)
    a, b = corners[pairs[:, 0]], corners[pairs[:, 1]]
    along = [a + share * (b - a) for share in (0.25, 0.5, 0.75)]
    return np.vstack((corners, *along, corners[threes].mean(axis=1)))


def _refuse_folds(warp: _Warp, places: Points, landmarks: Mapping[str, NDArray[np.float64]]) -> None:
    """Refusal, naming the nearest landmark, where the map turns paper over."""
    stretches = warp.stretches(places)
    worst = int(np.argmin(stretches))
    if stretches[worst] > FOLDED:
        return
    nearest = min(landmarks, key=lambda name: float(np.hypot(*(landmarks[name] - places[worst]))))
    raise Refusal(
        f"What was drawn cannot be carried over to this body: near the {_plain(nearest)} the paper would fold "
        "over itself, so draw it anew on this body."
    )
