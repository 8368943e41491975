"""Splines of the form against scipy's own evaluation."""

from __future__ import annotations

import numpy as np
import pytest

from core.form.fits import bends, cubic_patch

ORDERS = ((1, 0), (0, 1), (2, 0), (1, 1), (0, 2))


def test_bends_are_the_derivatives_of_the_patches() -> None:
    """All five derivatives of two patches, at places, at knots and at both ends, as scipy evaluates them one by one."""
    first, second = np.linspace(-1.0, 2.0, 31), np.linspace(-5.0, 40.0, 46)
    grids = [np.sin(k * first)[:, None] * np.cos(0.1 * k * second)[None, :] + 0.01 * k * second for k in (1, 2)]
    patches = [cubic_patch(first, second, grid) for grid in grids]
    random = np.random.default_rng(7)
    one = np.concatenate((random.uniform(-1.0, 2.0, 200), first))
    other = np.concatenate((random.uniform(-5.0, 40.0, 200), second[:31]))
    for (dx, dy), found in zip(ORDERS, bends(patches)(one, other), strict=True):
        wanted = np.column_stack([patch.ev(one, other, dx=dx, dy=dy) for patch in patches])
        assert found == pytest.approx(wanted, abs=1e-9)
