"""The trunk's curves: through what is stated, round, and the same at every size."""

from __future__ import annotations

import numpy as np
import pytest

from core.form.trunk import Trunk

LEVELS = np.array([0.0, 100.0, 180.0, 220.0, 300.0])
VALUES = np.array([[150.0], [120.0], [170.0], [60.0], [55.0]])


def test_stated_levels_are_met() -> None:
    """The curve goes through every value at its level."""
    assert Trunk(LEVELS, VALUES)(LEVELS) == pytest.approx(VALUES, abs=1e-9)


def test_a_straight_run_stays_straight() -> None:
    """Values on a straight line give that line, between the levels and beyond them: hyperbolas of no bend vanish."""
    z = np.linspace(-40.0, 340.0, 77)
    assert Trunk(LEVELS, 20.0 + 0.3 * LEVELS[:, None])(z)[:, 0] == pytest.approx(20.0 + 0.3 * z, abs=1e-9)


def test_no_level_shows_as_a_crease() -> None:
    """The slope a tenth of a millimetre over a level is that under it, but for what a round bend turns."""
    z = LEVELS[1:-1]
    trunk = Trunk(LEVELS, VALUES)
    under, over = trunk(z) - trunk(z - 0.1), trunk(z + 0.1) - trunk(z)
    assert np.abs(over - under).max() / 0.1 < 0.05


def test_a_trunk_twice_as_large_is_the_same_trunk() -> None:
    """Levels and values times two: the curve times two."""
    z = np.linspace(0.0, 300.0, 41)
    assert Trunk(2.0 * LEVELS, 2.0 * VALUES)(2.0 * z) == pytest.approx(2.0 * Trunk(LEVELS, VALUES)(z), rel=1e-9)
