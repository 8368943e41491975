"""The trunk of a form from one stated level to the next, without a crease at any of them."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]

SPREAD: Final = 0.5
"""How far a bend is spread, in shares of the mean gap to the levels beside it."""


class Trunk:
    """Curves through values (L, K) at rising levels (L,): straight from level to level, each bend rounded.

    A bend is a hyperbola instead of a corner, so that curves are sums of hyperbolas (multiquadrics, Hardy 1971); how
    far each is spread goes by the gaps beside it, so that a trunk twice as large is the same trunk.
    """

    def __init__(self, levels: Values, values: Values, spread: Values | float = SPREAD) -> None:
        self._start, self._bends = levels[0], levels[1:-1]
        self._spread = spread * (levels[2:] - levels[:-2]) / 2.0
        self._amounts = np.linalg.solve(self._parts(levels), values)

    def __call__(self, z: Values) -> Values:
        """The values at heights z (...), shape (..., K)."""
        return np.asarray(self._parts(z) @ self._amounts)

    def _parts(self, z: Values) -> Values:
        above = np.asarray(z)[..., None] - self._bends
        ramps = (above + np.sqrt(above**2 + self._spread**2)) / 2.0
        return np.concatenate((np.ones_like(ramps[..., :1]), np.asarray(z)[..., None] - self._start, ramps), axis=-1)
