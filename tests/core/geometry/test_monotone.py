"""Monotone interpolation never leaves the band of its knots."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from core.geometry.monotone import monotone

AT = np.linspace(0.0, 40.0, 401)


def test_it_goes_through_its_knots() -> None:
    """And is constant beyond them."""
    knots, values = [10.0, 20.0, 30.0], [0.0, 6.0, 4.0]
    assert monotone(knots, values, np.array([0.0, 10.0, 20.0, 30.0, 99.0])).tolist() == [0.0, 0.0, 6.0, 4.0, 4.0]


def test_a_single_knot_holds_everywhere() -> None:
    """One amount at one level is that amount at every level."""
    assert monotone([10.0], [6.0], np.array([0.0, 10.0, 99.0])).tolist() == [6.0, 6.0, 6.0]


def test_between_two_knots_it_is_straight_or_fades() -> None:
    """A wedge is straight; a flat start is the cubic 3t² - 2t³ mixed with its chord: slope nought at the start."""
    assert monotone([0.0, 40.0], [0.0, 8.0], AT) == pytest.approx(AT / 5.0)
    fade = monotone([0.0, 40.0], [0.0, 8.0], AT, flat_first=True)
    assert fade[1] == pytest.approx(0.0, abs=2e-3)
    both = monotone([0.0, 40.0], [0.0, 8.0], AT, flat_first=True, flat_last=True)
    t = AT / 40.0
    assert both == pytest.approx(8.0 * (3 * t**2 - 2 * t**3))


@given(st.lists(st.floats(0.0, 20.0), min_size=2, max_size=5))
def test_it_never_overshoots(values: list[float]) -> None:
    """Between two knots no value lies outside theirs (Fritsch and Carlson)."""
    knots = [10.0 * index for index in range(len(values))]
    curve = monotone(knots, values, AT)
    for (a, b), (low, high) in zip(pairwise(knots), pairwise(values), strict=True):
        inside = curve[(a <= AT) & (b >= AT)]
        assert inside.min() >= min(low, high) - 1e-9
        assert inside.max() <= max(low, high) + 1e-9


def test_between_inner_knots_it_is_the_curve_that_scipy_draws() -> None:
    """With knots evenly apart both take the harmonic mean of the chords as slope, level where the curve turns."""
    knots, values = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0], [0.0, 1.0, 1.5, 6.0, 7.0, 3.0]
    inner = AT[(AT >= 10.0) & (AT <= 40.0)]
    assert monotone(knots, values, inner) == pytest.approx(PchipInterpolator(knots, values)(inner), abs=1e-12)


def test_at_its_ends_it_runs_along_its_chords() -> None:
    """Knots unevenly apart: the slope at either end, over a hundredth of a millimetre, is that of the outer chord."""
    knots, values = [0.0, 10.0, 40.0], [0.0, 5.0, 8.0]
    start, after, before, end = monotone(knots, values, np.array([0.0, 0.01, 39.99, 40.0]))
    assert (after - start) / 0.01 == pytest.approx(0.5, abs=1e-3)
    assert (end - before) / 0.01 == pytest.approx(0.1, abs=1e-3)
