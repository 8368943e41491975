"""The one door to scipy, which is imported when a form is first wanted: start-up does not wait for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol, cast

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]


class Patch(Protocol):
    """A smooth function of two variables."""

    def ev(self, first: Values, second: Values, dx: int = 0, dy: int = 0) -> Values:
        """Its values, or derivatives of order dx by the first variable and dy by the second, at places, each (N,)."""

    def __call__(self, first: Values, second: Values, dx: int = 0, dy: int = 0) -> Values:
        """The same on the grid (N, M) of rising first (N,) and second (M,) variables."""


def shape_keeping_spline(x: Values, y: Values) -> Callable[[Values], Values]:
    """The smooth curve through y (N, K) at rising x (N,) that has no bump which y has not (Fritsch and Carlson)."""
    from scipy.interpolate import PchipInterpolator  # noqa: PLC0415 - start-up does not pay for it

    return cast("Callable[[Values], Values]", PchipInterpolator(x, y))


def cubic_patch(first: Values, second: Values, grid: Values) -> Patch:
    """The cubic spline through a grid (N, M) over rising first (N,) and second (M,) variables."""
    from scipy.interpolate import RectBivariateSpline  # noqa: PLC0415 - as above

    return cast("Patch", RectBivariateSpline(first, second, grid))


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
