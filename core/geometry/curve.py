"""Fair curves through placed points, as a French curve would lie, drawn as polylines of small chord error.

The rule is J. D. Hobby's ("Smooth, easy to compute interpolating splines", Discrete & Computational Geometry 1,
1986), as METAPOST's `..` follows it with tension 1 and curl 1 at free ends. Each span between neighbouring points is
one cubic Bezier curve; directions at the points are chosen so that the mock curvature agrees on both sides of each.

Words: a *span* leaves its first point `theta` to the left of its chord and reaches its last point `phi` to the right of
it; `turn` is the angle from one chord to the next.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Sequence
from itertools import pairwise
from math import cos, isfinite, pi, sin, sqrt, tau
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.geometry.polyline import Point, Points, as_points
from core.geometry.tolerances import CHORD_ERROR, SAME_POINT

LONGEST_ARM: Final = 4.0
"""METAPOST's own bound on a control arm, in lengths of its chord: without it a span that turns back runs far away."""


def fair_curve(
    points: Sequence[Point] | Points,
    *,
    corners: Sequence[bool] | None = None,
    start_direction: float | None = None,
    end_direction: float | None = None,
    chord_error: float = CHORD_ERROR,
) -> Points:
    """The fair curve through all points in turn, as a polyline of shape (N, 2) in mm.

    Every placed point is a vertex, bit for bit. `corners[i]` breaks the curve at the inner point i (at an end it
    changes nothing). Directions of travel at the ends are radians; a free end curls like the arc it joins. ValueError
    for fewer than two points, for neighbours that coincide, or for a number that is not finite.
    """
    placed = _placed(points)
    spans = _spans(placed, corners, start_direction, end_direction)
    return _drawn(np.array(spans), placed, chord_error)


def curve_controls(
    points: Sequence[Point] | Points,
    *,
    corners: Sequence[bool] | None = None,
    start_direction: float | None = None,
    end_direction: float | None = None,
) -> NDArray[np.float64]:
    """The Bezier control points of the same curve, shape (spans, 4, 2), in mm."""
    spans = np.array(_spans(_placed(points), corners, start_direction, end_direction))
    return np.stack((spans.real, spans.imag), axis=2)


def bezier_points(control: ArrayLike, chord_error: float = CHORD_ERROR) -> Points:
    """One cubic Bezier curve, given by its control points of shape (4, 2), as a polyline with both ends exact."""
    corners = as_points(control)
    if len(corners) != 4:
        raise ValueError(f"a cubic curve has 4 control points, not {len(corners)}")
    whole = corners[:, 0] + 1j * corners[:, 1]
    return _drawn(whole[None, :], whole[[0, 3]].tolist(), chord_error)


# --------------------------------------------------------------------------------------------------------------
# the points


def _placed(points: Sequence[Point] | Points) -> list[complex]:
    """The points as complex numbers, on which turning and scaling is one product."""
    array = as_points(points)
    if len(array) < 2:
        raise ValueError("a curve needs at least two points")
    placed: list[complex] = array.copy().view(np.complex128)[:, 0].tolist()
    for index in range(1, len(placed)):
        if abs(placed[index] - placed[index - 1]) <= SAME_POINT:
            raise ValueError(f"points {index} and {index + 1} of the curve lie on one another")
    return placed


def _spans(
    placed: list[complex], corners: Sequence[bool] | None, start: float | None, end: float | None
) -> list[tuple[complex, complex, complex, complex]]:
    """Four control points for every span, each stretch between corners solved by itself."""
    if corners is not None and len(corners) != len(placed):
        raise ValueError(f"{len(corners)} corner marks for {len(placed)} points")
    for direction in (start, end):
        if direction is not None and not isfinite(direction):
            raise ValueError("a direction is not a finite number")
    last = len(placed) - 1
    breaks = [0, *(i for i in range(1, last) if corners is not None and corners[i]), last]
    spans: list[tuple[complex, complex, complex, complex]] = []
    for a, b in pairwise(breaks):
        spans += _smooth_stretch(placed[a : b + 1], start if a == 0 else None, end if b == last else None)
    return spans


# --------------------------------------------------------------------------------------------------------------
# Hobby's rule


def _smooth_stretch(
    placed: list[complex], start: float | None, end: float | None
) -> list[tuple[complex, complex, complex, complex]]:
    """The spans of one stretch without corners."""
    chords = [b - a for a, b in pairwise(placed)]
    turns = [phase(b / a) for a, b in pairwise(chords)]
    thetas = _leaving_angles(chords, turns, start, end)
    spans = []
    for index, chord in enumerate(chords):
        theta = thetas[index]
        phi = -thetas[index + 1] - (turns[index] if index < len(turns) else 0.0)
        first = placed[index] + rect(_arm(theta, phi), theta) * chord
        second = placed[index + 1] - rect(_arm(phi, theta), -phi) * chord
        spans.append((placed[index], first, second, placed[index + 1]))
    return spans


def _leaving_angles(chords: list[complex], turns: list[float], start: float | None, end: float | None) -> list[float]:
    """theta at every point: the mock curvature equations, a tridiagonal system solved in one sweep each way.

    The last point has no chord of its own; its theta is measured from the last chord, so that there turn = 0.
    """
    shares = [1.0 / abs(chord) for chord in chords]
    if start is None:  # curl 1: theta_0 = phi_1
        pivots, values = [1.0], [-turns[0] if turns else 0.0]
        uppers = [1.0]
    else:
        pivots, values, uppers = [1.0], [_turn_to(start, chords[0])], [0.0]
    for k in range(1, len(chords)):
        before, after = shares[k - 1], shares[k]
        turn_after = turns[k] if k < len(turns) else 0.0
        factor = before / pivots[-1]
        pivots.append(2.0 * (before + after) - factor * uppers[-1])
        values.append(-2.0 * before * turns[k - 1] - after * turn_after - factor * values[-1])
        uppers.append(after)
    thetas = [_last_angle(chords, pivots[-1], uppers[-1], values[-1], end)]
    for pivot, upper, value in zip(reversed(pivots), reversed(uppers), reversed(values), strict=True):
        thetas.append((value - upper * thetas[-1]) / pivot)
    return thetas[::-1]


def _last_angle(chords: list[complex], pivot: float, upper: float, value: float, end: float | None) -> float:
    """theta at the last point: as given, or with curl 1, theta_n = -theta_(n-1)."""
    if end is not None:
        return _turn_to(end, chords[-1])
    if abs(pivot - upper) < 1e-12:  # a lone span with curl at both ends is straight
        return 0.0
    return -value / (pivot - upper)


def _turn_to(direction: float, chord: complex) -> float:
    """The angle from a chord to a direction, in (-pi, pi]."""
    angle = (direction - phase(chord)) % tau
    return angle - tau if angle > pi else angle


def _arm(theta: float, phi: float) -> float:
    """Length of the control arm at the end with angle `theta`, in lengths of the chord: Hobby's velocity over 3."""
    st, sp, ct, cp = sin(theta), sin(phi), cos(theta), cos(phi)
    rise = 2.0 + sqrt(2.0) * (st - sp / 16.0) * (sp - st / 16.0) * (ct - cp)
    run = 3.0 * (1.0 + 0.5 * (sqrt(5.0) - 1.0) * ct + 0.5 * (3.0 - sqrt(5.0)) * cp)
    return LONGEST_ARM if rise >= LONGEST_ARM * run else rise / run


# --------------------------------------------------------------------------------------------------------------
# drawing


def _drawn(spans: NDArray[np.complex128], placed: list[complex], chord_error: float) -> Points:
    """All spans as one polyline.

    A chord over a parameter step h leaves a cubic by at most h² max|B''| / 8, and max|B''| is 6 times the larger
    second difference of the control points.
    """
    if not (isfinite(chord_error) and chord_error > 0.0):
        raise ValueError("the chord error is not a positive number")
    p0, p1, p2, p3 = spans.T
    bend = np.maximum(np.abs(p0 - 2.0 * p1 + p2), np.abs(p1 - 2.0 * p2 + p3))
    counts = np.maximum(np.ceil(np.sqrt(0.75 / chord_error * bend)), 1.0).astype(np.intp)
    ends = np.cumsum(counts)
    span = np.repeat(np.arange(len(counts)), counts)
    t = (np.arange(ends[-1]) - (ends - counts)[span]) / counts[span]
    powers = np.stack((p0, 3.0 * (p1 - p0), 3.0 * (p0 - 2.0 * p1 + p2), p3 - p0 + 3.0 * (p1 - p2)))
    constant, linear, square, cubic = powers[:, span]
    drawn = np.empty(ends[-1] + 1, dtype=np.complex128)
    drawn[:-1] = ((cubic * t + square) * t + linear) * t + constant
    drawn[0] = placed[0]
    drawn[ends] = placed[1:]
    polyline = drawn.view(np.float64).reshape(-1, 2)
    polyline.flags.writeable = False
    return polyline
