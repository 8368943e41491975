"""Verdicts on seam differences."""

from __future__ import annotations

from math import nan

import pytest

from core.checks.verdict import SIGNS, VERDICTS, verdict, worst


@pytest.mark.parametrize(
    ("difference", "wanted"),
    [
        (0.0, "exact"), (0.2, "exact"), (0.21, "good"), (0.8, "good"),
        (0.81, "check"), (3.0, "check"), (3.01, "wrong"), (400.0, "wrong"),
    ],
)  # fmt: skip
def test_the_bounds_are_those_of_the_house(difference: float, wanted: str) -> None:
    """Exact to 0.2 mm, good to 0.8, check to 3, wrong above: house values (trade.md D3), either way round."""
    assert verdict(difference) == wanted
    assert verdict(-difference) == wanted


def test_what_is_no_number_is_wrong() -> None:
    """A difference that could not be measured never passes."""
    assert verdict(nan) == "wrong"


def test_each_verdict_has_a_sign_of_its_own() -> None:
    """No verdict depends on a colour."""
    assert set(SIGNS) == set(VERDICTS)
    assert len(set(SIGNS.values())) == len(VERDICTS)


def test_the_worst_wins() -> None:
    """One check among good seams makes the whole a check; no seams at all are exact."""
    assert worst(["exact", "check", "good"]) == "check"
    assert worst([]) == "exact"
