"""Stretch as it is measured on a strip, and the limit that it sets."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import Refusal
from core.fabrics.stretch import reduction_limit, stretch_percent, working_reduction


def test_ten_inches_that_reach_fourteen_stretch_by_forty_percent() -> None:
    """The worked example of a fabric seller's page (trade.md D6)."""
    assert stretch_percent(254.0, 355.6, "in") == pytest.approx(40.0)


def test_half_as_long_again_may_be_cut_a_third_smaller() -> None:
    """s = 1.5: 33.33 %, and a bust of 36 in becomes 24.01 in there (a pattern maker's page, trade.md D6)."""
    assert reduction_limit(50.0) == pytest.approx(0.3333, abs=5e-5)
    assert pytest.approx(24.0, abs=0.01) == 36.0 * (1.0 - 0.3333)


@given(st.floats(0.0, 300.0))
def test_the_usual_reduction_keeps_below_the_limit(percent: float) -> None:
    """Cut so much smaller, the cloth can still be stretched over the body."""
    assert 0.0 <= working_reduction(percent) <= reduction_limit(percent) + 1e-12


@pytest.mark.parametrize(
    ("relaxed", "stretched", "why"),
    [(0.0, 10.0, "more than nothing"), (100.0, 90.0, "shorter than the 100 mm relaxed"), (50.0, 201.0, "302 %")],
)
def test_lengths_that_make_no_sense_are_refused(relaxed: float, stretched: float, why: str) -> None:
    """In a sentence that says which."""
    with pytest.raises(Refusal, match=why):
        stretch_percent(relaxed, stretched, "mm")
