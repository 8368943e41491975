"""Runs of an outline and the lines at a distance outside them: what a cutting line is put together from."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import radians
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.geometry.polyline import Points, as_points, length

EndKind: TypeAlias = Literal["mitred", "squared", "mirrored"]
"""How what lies outside a run ends at its corner. Mitred: where it meets its neighbour's line. Squared: square to the
run, from where the run, going on, meets the neighbour's line. Mirrored: along the neighbour's line, mirrored in the run
from there on, so that folded over the run the two lie on each other."""

CORNER: Final = radians(8.0)
"""A turn inside a run that is larger is a corner: fair curves turn less from chord to chord."""

MITRE: Final = 3.0
"""Neighbours run on to a meeting at most this many times the larger distance off: down to corners of 39 degrees."""

FOLD_RUN_ON: Final = 1000.0
"""How far (mm) a fold's line goes on to meet its neighbour: what is cut on the fold ends on it, however far that is."""


class Margin(msgspec.Struct, frozen=True, eq=False):
    """A run of a counter-clockwise outline (N, 2), and how far outside it (mm, 0 or more) the loop lies.

    Nothing may lie beyond the straight line of a `fold`. `ends` tells how it ends at its first and its last point.
    """

    points: Points
    distance: float
    fold: bool = False
    ends: tuple[EndKind, EndKind] = ("mitred", "mitred")


class Moved(msgspec.Struct, frozen=True, eq=False):
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

    @property
    def inner(self) -> Points:
        """The moved run itself, point by point beside the margin's own (N, 2)."""
        return as_points(self.path[1 if self.before else 0 : len(self.path) - (1 if self.after else 0)])

    @property
    def turns_back(self) -> bool:
        """Whether the run was moved through the centre of a hollow that is tighter than its distance."""
        spans = np.diff(self.inner, axis=0) * np.diff(self.margin.points, axis=0)
        return bool(spans.sum(axis=1).min() <= 0.0)


def without_corners(margin: Margin) -> list[Margin]:
    """The margin cut at the corners inside it."""
    points = margin.points[np.concatenate(([True], np.hypot(*np.diff(margin.points, axis=0).T) > 0.0))]
    ways = tangents(points)
    turns = np.abs(np.arctan2(cross(ways[:-1], ways[1:]), (ways[:-1] * ways[1:]).sum(axis=1)))
    cuts = [0, *(np.flatnonzero(turns > CORNER) + 1), len(points) - 1]
    parts = list(pairwise(cuts))
    return [
        Margin(as_points(points[a : b + 1]), margin.distance, margin.fold, _ends_of_part(margin, index, len(parts)))
        for index, (a, b) in enumerate(parts)
    ]


def _ends_of_part(margin: Margin, index: int, count: int) -> tuple[EndKind, EndKind]:
    first: EndKind = margin.ends[0] if index == 0 else "mitred"
    last: EndKind = margin.ends[1] if index == count - 1 else "mitred"
    return first, last


def tangents(points: Points) -> NDArray[np.float64]:
    """The unit vectors along the chords of a polyline (N, 2), shape (N - 1, 2)."""
    spans = np.diff(points, axis=0)
    units: NDArray[np.float64] = spans / np.hypot(*spans.T)[:, None]
    return units


def cross(first: NDArray[np.float64], second: NDArray[np.float64]) -> NDArray[np.float64]:
    """The cross product of vectors in the plane; positive where the second lies to the left of the first."""
    return first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]


def outward(ways: NDArray[np.float64]) -> NDArray[np.float64]:
    """Unit normals to the right of the way: outside a counter-clockwise loop."""
    return np.column_stack((ways[:, 1], -ways[:, 0]))


def moved(margins: Sequence[Margin], index: int) -> Moved:
    """One of a loop's margins moved outwards, long enough to meet its neighbours."""
    margin, count = margins[index], len(margins)
    ways = tangents(margin.points)
    path = margin.points + margin.distance * mitres(ways)
    before = _run_on(margin, margins[index - 1])
    after = _run_on(margin, margins[(index + 1) % count])
    run_on = (path[0] - before * ways[0], path[-1] + after * ways[-1])
    parts = ([run_on[0]] if before else [], path, [run_on[1]] if after else [])
    return Moved(margin, as_points(np.vstack([part for part in parts if len(part)])), before, after)


def mitres(ways: NDArray[np.float64]) -> NDArray[np.float64]:
    """For each point how far it moves when both its chords move outwards by 1, shape (N, 2)."""
    normals = outward(ways)
    first = np.vstack((normals[:1], normals))
    second = np.vstack((normals, normals[-1:]))
    steps: NDArray[np.float64] = (first + second) / (1.0 + (first * second).sum(axis=1))[:, None]
    return steps


def _run_on(margin: Margin, neighbour: Margin) -> float:
    return FOLD_RUN_ON if margin.fold else MITRE * max(margin.distance, neighbour.distance)
