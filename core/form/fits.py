"""The one door to scipy, which is imported when a form is first wanted: start-up does not wait for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import factorial
from typing import Protocol, TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]

Bends: TypeAlias = tuple[Values, Values, Values, Values, Values]
"""Derivatives by the first variable, by the second, twice by the first, by both, twice by the second; each (N, K)."""


class Patch(Protocol):
    """A smooth function of two variables."""

    def ev(self, first: Values, second: Values, dx: int = 0, dy: int = 0) -> Values:
        """Its values, or derivatives of order dx by the first variable and dy by the second, at places, each (N,)."""

    def __call__(self, first: Values, second: Values, dx: int = 0, dy: int = 0) -> Values:
        """The same on the grid (N, M) of rising first (N,) and second (M,) variables."""


def cubic_patch(first: Values, second: Values, grid: Values) -> Patch:
    """The cubic spline through a grid (N, M) over rising first (N,) and second (M,) variables."""
    from scipy.interpolate import RectBivariateSpline  # noqa: PLC0415 - start-up does not pay for it

    return cast("Patch", RectBivariateSpline(first, second, grid))


def bends(patches: Sequence[Patch]) -> Callable[[Values, Values], Bends]:
    """The derivatives of cubic patches over one grid, all at once: for lines that are followed step by step.

    The same splines as polynomials cell by cell: one look for the cell serves every patch and every derivative.
    """
    first, second, _ = cast("_Splines", patches[0]).tck
    cells = np.stack([_cells(cast("_Splines", patch)) for patch in patches], axis=-1)
    edges = first[3:-3], second[3:-3]

    def derived(one: Values, other: Values) -> Bends:
        (i, by_one), (j, by_other) = _powers(edges[0], one), _powers(edges[1], other)
        here = cells[i, j]
        half = by_one @ here.reshape(len(one), 4, -1)
        whole = by_other[:, None] @ half.reshape(len(one), 3, 4, -1)
        return whole[:, 1, 0], whole[:, 0, 1], whole[:, 2, 0], whole[:, 1, 1], whole[:, 0, 2]

    return derived


class _Splines(Protocol):
    """What scipy keeps of a patch: the knots of both variables and the heights of its B-splines."""

    tck: tuple[Values, Values, Values]


def _cells(patch: _Splines) -> Values:
    """The polynomials (C, D, 4, 4) of a cubic patch in each cell between its knots, highest powers first."""
    first, second, heights = patch.tck
    along = _cell_by_cell(first, heights.reshape(len(first) - 4, len(second) - 4))
    return np.moveaxis(_cell_by_cell(second, np.moveaxis(along, 2, 0)), (0, 1, 2, 3), (3, 1, 2, 0))


def _powers(edges: Values, at: Values) -> tuple[NDArray[np.intp], Values]:
    """In which cell values (N,) lie, and the powers 3 to 0 of how far in it, with both derivatives, (N, 3, 4)."""
    cell = np.clip(np.searchsorted(edges, at, side="right") - 1, 0, len(edges) - 2)
    in_ = at - edges[cell]
    one, none = np.ones_like(in_), np.zeros_like(in_)
    rows = ((in_**3, in_**2, in_, one), (3.0 * in_**2, 2.0 * in_, one, none), (6.0 * in_, 2.0 * one, none, none))
    return cell, np.array(rows).transpose(2, 0, 1)


def _cell_by_cell(knots: Values, heights: Values) -> Values:
    """The polynomials (4, C, ...), highest power first, of cubic splines of heights (C + 3, ...) on their knots."""
    from scipy.interpolate import BSpline  # noqa: PLC0415 - as above

    spline, starts = BSpline(knots, heights, 3), knots[3:-4]
    return np.stack([spline(starts, nu=power) / factorial(power) for power in (3, 2, 1, 0)])


def least_squares_within(
    missed: Callable[[Values], Values], start: Values, *, bounds: tuple[Values, Values], steps: Values
) -> tuple[Values, Values]:
    """The values within bounds at which the sum of squares of `missed` is least, and what is missed there."""
    from scipy.optimize import least_squares  # noqa: PLC0415 - as above

    found = least_squares(missed, start, bounds=bounds, x_scale=steps, xtol=1e-7, ftol=1e-7, max_nfev=40)
    return np.asarray(found.x), np.asarray(found.fun)


def crossing(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that changes sign between two values is nought, to 1e-4."""
    from scipy.optimize import brentq  # noqa: PLC0415 - as above

    return float(brentq(function, low, high, xtol=1e-4))
