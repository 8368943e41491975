"""Monotone interpolation: amounts between levels without overshoot, by Fritsch and Carlson's rule.

F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numerical Analysis 17 (1980): slopes
are limited so that between two knots the curve never leaves the band of their values.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]


def monotone(
    knots: Sequence[float], values: Sequence[float], at: Values, *, flat_first: bool = False, flat_last: bool = False
) -> Values:
    """Values at `at` of the curve through (knots, values), knots rising; constant beyond its ends.

    `flat_first` and `flat_last` make the curve start or end with slope nought; else it does so along its chord.
    """
    x, y = np.asarray(knots, dtype=np.float64), np.asarray(values, dtype=np.float64)
    if len(x) == 1:
        return np.full_like(at, y[0])
    slopes = _slopes(x, y, flat_first=flat_first, flat_last=flat_last)
    index = np.searchsorted(x[1:-1], at)
    width = x[index + 1] - x[index]
    t = np.clip((at - x[index]) / width, 0.0, 1.0)
    rise = y[index + 1] - y[index]
    start, end = slopes[index] * width, slopes[index + 1] * width
    # Hermite form: value and slope at both knots of the span.
    return np.asarray(y[index] + t * start + t**2 * (3 * rise - 2 * start - end) + t**3 * (start + end - 2 * rise))


def _slopes(x: Values, y: Values, *, flat_first: bool, flat_last: bool) -> Values:
    chords = np.diff(y) / np.diff(x)
    slopes = np.empty(len(x))
    slopes[0] = 0.0 if flat_first else chords[0]
    slopes[-1] = 0.0 if flat_last else chords[-1]
    for i in range(1, len(x) - 1):
        before, after = chords[i - 1], chords[i]
        # Harmonic mean where the chords agree in sign, level where the curve turns: never beyond three times a chord.
        slopes[i] = 2 * before * after / (before + after) if before * after > 0 else 0.0
    return slopes
