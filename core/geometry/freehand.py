"""A line drawn freehand as the few points through which a French curve would lie along it."""

from __future__ import annotations

from typing import Final

import numpy as np

from core.geometry.curve import fair_curve
from core.geometry.polyline import Points, as_points, length, nearest, point_at

MOST_POINTS: Final = 12
"""A drawn neckline or panel seam needs no more; a wobble that does is a wobble of the hand."""

STEP: Final = 2.0
"""mm between the places at which the drawn line is read."""

CALM: Final = 4
"""Places to each side over which the shake of a hand is levelled out: 8 mm, in which a seam bends by very little."""

SHORTEST: Final = 5.0
"""mm: a shorter stroke is a slip of a click."""


def fitted(stroke: Points, *, within: float) -> Points:
    """The points (N, 2), from the stroke's first to its last, whose fair curve stays `within` mm of the drawn line.

    The stroke (M, 2) is read every 2 mm, the shake of the hand levelled out. Points are added where the curve is
    farthest off until it lies near enough, or there are 12 of them; so a shaking hand gives a calm line. ValueError
    for a stroke that goes nowhere.
    """
    moved = np.concatenate(([True], np.abs(np.diff(stroke, axis=0)).max(axis=1) > 0.0))
    drawn = as_points(stroke[moved])
    if length(drawn) < SHORTEST:
        raise ValueError("the stroke goes nowhere")
    read = _read(drawn)
    chosen = [0, len(read) - 1]
    while len(chosen) < MOST_POINTS:
        off, worst = _farthest(read, chosen)
        if off <= within:
            break
        chosen = sorted({*chosen, worst})
    return as_points(read[chosen])


def _read(drawn: Points) -> Points:
    """The stroke at even distances, each place the mean of those round it, both ends exact."""
    whole = length(drawn)
    count = int(whole / STEP)
    read = np.array([point_at(drawn, whole * k / count) for k in range(count + 1)])
    reaches = [min(CALM, k, count - k) for k in range(count + 1)]
    return as_points([read[k - reach : k + reach + 1].mean(axis=0) for k, reach in enumerate(reaches)])


def _farthest(read: Points, chosen: list[int]) -> tuple[float, int]:
    """How far the curve through the chosen places leaves the stroke at most, in mm, and at which place."""
    curve = fair_curve(as_points(read[chosen]), chord_error=0.1)
    off = np.array([nearest(curve, place)[1] for place in read])
    worst = int(off.argmax())
    return float(off[worst]), worst
