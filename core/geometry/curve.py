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
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from core.geometry.polyline import Point, Points, as_points
from core.geometry.tolerances import CHORD_ERROR, SAME_POINT

Span: TypeAlias = tuple[complex, complex, complex, complex]
"""The control points of one span, x + iy."""

Row: TypeAlias = tuple[float, float, float, float]
"""One equation for theta: its factors at the point before, here and after, and the value."""

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
    spans = _spans(placed, corners, (start_direction, end_direction))
    return _drawn(np.array(spans), placed, chord_error)


def curve_controls(
    points: Sequence[Point] | Points,
    *,
    corners: Sequence[bool] | None = None,
    start_direction: float | None = None,
    end_direction: float | None = None,
) -> NDArray[np.float64]:
    """The Bezier control points of the same curve, shape (spans, 4, 2), in mm."""
    spans = np.array(_spans(_placed(points), corners, (start_direction, end_direction)))
    return np.stack((spans.real, spans.imag), axis=2)


def bezier_points(control: ArrayLike) -> Points:
    """One cubic Bezier curve, given by its control points of shape (4, 2), as a polyline with both ends exact."""
    corners = as_points(control)
    if len(corners) != 4:
        raise ValueError(f"a cubic curve has 4 control points, not {len(corners)}")
    whole = corners[:, 0] + 1j * corners[:, 1]
    return _drawn(whole[None, :], whole[[0, 3]].tolist(), CHORD_ERROR)


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
    placed: list[complex], corners: Sequence[bool] | None, directions: tuple[float | None, float | None]
) -> list[Span]:
    """Four control points for every span, each stretch between corners solved by itself."""
    if corners is not None and len(corners) != len(placed):
        raise ValueError(f"{len(corners)} corner marks for {len(placed)} points")
    start, end = directions
    if not all(direction is None or isfinite(direction) for direction in directions):
        raise ValueError("a direction is not a finite number")
    last = len(placed) - 1
    breaks = [0, *(i for i in range(1, last) if corners is not None and corners[i]), last]
    spans: list[Span] = []
    for a, b in pairwise(breaks):
        spans += _smooth_stretch(placed[a : b + 1], start if a == 0 else None, end if b == last else None)
    return spans


# --------------------------------------------------------------------------------------------------------------
# Hobby's rule


def _smooth_stretch(placed: list[complex], start: float | None, end: float | None) -> list[Span]:
    """The spans of one stretch without corners."""
    chords = [b - a for a, b in pairwise(placed)]
    turns = [*(phase(b / a) for a, b in pairwise(chords)), 0.0]
    first = None if start is None else _turn_to(start, chords[0])
    last = None if end is None else _turn_to(end, chords[-1])
    thetas = _solved(_curvature_rows(chords, turns, (first, last)))
    spans = []
    for index, chord in enumerate(chords):
        theta, phi = thetas[index], -thetas[index + 1] - turns[index]
        leaving = placed[index] + rect(_arm(theta, phi), theta) * chord
        arriving = placed[index + 1] - rect(_arm(phi, theta), -phi) * chord
        spans.append((placed[index], leaving, arriving, placed[index + 1]))
    return spans


def _curvature_rows(chords: list[complex], turns: list[float], given: tuple[float | None, float | None]) -> list[Row]:
    """The equations that make the mock curvature agree at every inner point, and one for each end.

    `given` are theta at the two ends, or None for curl 1, which makes the end span bend evenly (theta = phi). The last
    point has no chord of its own; its theta is measured from the last chord, so that there the turn is 0.
    """
    first, last = given
    if first is None and last is None and len(chords) == 1:
        first = last = 0.0  # nothing asks a lone span to bend
    shares = [1.0 / abs(chord) for chord in chords]
    rows: list[Row] = [(0.0, 1.0, 1.0, -turns[0]) if first is None else (0.0, 1.0, 0.0, first)]
    for k in range(1, len(chords)):
        before, after = shares[k - 1], shares[k]
        rows.append((before, 2.0 * (before + after), after, -2.0 * before * turns[k - 1] - after * turns[k]))
    rows.append((1.0, 1.0, 0.0, 0.0) if last is None else (0.0, 1.0, 0.0, last))
    return rows


def _solved(rows: list[Row]) -> list[float]:
    """The solution of a tridiagonal system, swept down and back up."""
    swept: list[tuple[float, float]] = []
    upper_before = value_before = 0.0
    for lower, pivot, upper, value in rows:
        left = pivot - lower * upper_before
        upper_before, value_before = upper / left, (value - lower * value_before) / left
        swept.append((upper_before, value_before))
    solution = [0.0]
    for upper, value in reversed(swept):
        solution.append(value - upper * solution[-1])
    return solution[:0:-1]


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
