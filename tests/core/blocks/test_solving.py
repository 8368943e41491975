"""Root finding: both rules on equations with known answers."""

from __future__ import annotations

from math import atan, cos, pi, sqrt

import pytest

from core.blocks.solving import enclosed, solved


def test_secant_finds_a_root() -> None:
    """x² = 2 has the root √2."""
    assert solved(lambda x: x * x - 2.0, 1.0, 2.0, within=1e-12) == pytest.approx(sqrt(2.0), abs=1e-9)


def test_secant_stops_where_it_stands_still() -> None:
    """On a level stretch there is no next guess: the last one comes back instead of a division by nought."""
    assert solved(lambda _x: 1.0, 0.0, 3.0, within=1e-6) == 3.0


@pytest.mark.parametrize(("low", "high"), [(0.0, 3.0), (3.0, 0.0), (1.5, 1.6)])
def test_enclosed_finds_the_root_between(low: float, high: float) -> None:
    """cos x = 0 between 0 and 3 at half pi."""
    assert enclosed(cos, low, high, within=1e-9) == pytest.approx(pi / 2, abs=1e-8)


def test_enclosed_holds_on_where_the_secant_runs_away() -> None:
    """tan⁻¹(x - 0.3) is nearly level far out: there the secant rule runs away."""
    assert enclosed(lambda x: atan(x - 0.3), -20.0, 10.0, within=1e-9) == pytest.approx(0.3, abs=1e-6)
    assert abs(solved(lambda x: atan(x - 0.3), 5.0, 10.0, within=1e-9)) > 1000.0


def test_enclosed_says_when_there_is_no_root_between() -> None:
    """Both ends on one side of nought: None."""
    assert enclosed(lambda x: x * x + 1.0, -1.0, 1.0, within=1e-9) is None
