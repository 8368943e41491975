"""The scale by which an edge on the form is judged, stretch by stretch: lies close, stands off, pulls."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.form.line import LaidLine

SCALE_WORDS: Final = ("lies close", "2 to 6 % too long", "over 6 % too long", "pulls tight", "no number")
UNQUOTED: Final = 4
"""The place of the scale at which nothing is said."""

CLOSE, OFF = 0.02, 0.06
"""Excess by length of an edge: up to 2 in 100 lies close, over 6 in 100 stands off."""

NEAR: Final = 21
"""Stretches of a line, a millimetre each, that are judged together."""


def line_kinds(line: LaidLine, wanted: float) -> NDArray[np.intp]:
    """For each stretch of a line the place in the scale, by the excess of 20 mm round it.

    The wanted ease is no gape, and cloth that is short of it does not pull before it is shorter than the body.
    """
    near = np.ones(NEAR)
    share = np.convolve(line.excess, near, "same") / np.convolve(np.diff(line.along), near, "same").clip(1e-9)
    kinds = np.select([share < -CLOSE, share - wanted <= CLOSE, share - wanted <= OFF], [3, 0, 1], 2)
    return np.asarray(np.where(line.is_quoted[1:] & line.is_quoted[:-1], kinds, UNQUOTED), dtype=np.intp)


def runs(line: LaidLine, wanted: float) -> tuple[tuple[NDArray[np.float64], int], ...]:
    """A line in runs of one place of the scale: places (N, 3) in space, and which."""
    kinds = line_kinds(line, wanted)
    breaks = [0, *(np.flatnonzero(np.diff(kinds)) + 1).tolist(), len(kinds)]
    return tuple((line.places[first : last + 1], int(kinds[first])) for first, last in pairwise(breaks))
