"""The rules that estimate, against the survey and the handbook tables they come from."""

from __future__ import annotations

import numpy as np
import pytest

from core.body.body import complete
from core.body.catalogue import MEASUREMENTS
from tests.samples_bodies import SURVEY, bodies, extreme_body, mean_bodies

# How far, in mm, the mean of a bust class may lie from the rule: a third of the spread between women that the rule
# states, for the smallest classes have few women.
NEAR_THE_MEANS = {"scye_girth": 5.0, "neck_base": 5.0, "scye_depth": 7.0, "across_back": 7.0}


def estimate(id_: str, values: dict[str, float]) -> float:
    """What the rule of a measurement makes of the values."""
    rule = MEASUREMENTS[id_].rule
    assert rule is not None
    return rule.value(values)


@pytest.mark.parametrize("id_", NEAR_THE_MEANS)
def test_rules_give_the_means_of_the_bust_classes(id_: str) -> None:
    """Each rule passes through the means of bust classes 76 to 108 (trade.md A6)."""
    for body in mean_bodies():
        assert estimate(id_, body.measurements) == pytest.approx(body.measurements[id_], abs=NEAR_THE_MEANS[id_])


@pytest.mark.parametrize(
    ("id_", "values", "expected"),
    [
        ("scye_girth", {"bust": 900.0}, 10 * (11.9 + 0.279 * 90)),  # trade.md A6, regression on 2,208 women
        ("neck_base", {"bust": 900.0}, 10 * (20.7 + 0.154 * 90)),  # trade.md A6
        ("scye_depth", {"bust": 900.0}, 10 * (90 / 10 + 12.2 - 2.70)),  # trade.md B9: the rule less its bias
        ("across_front", {"across_back": 368.0}, 20 * (88 / 8 + 6.2)),  # trade.md B4: back 18.4, front 17.2 at bust 88
        ("shoulder_slope_deg", {}, 25.7),  # trade.md A6, mean
    ],
)
def test_rules_are_those_of_the_tables(id_: str, values: dict[str, float], expected: float) -> None:
    """The published figures come out of the rules."""
    assert estimate(id_, values) == pytest.approx(expected, abs=0.1)


@pytest.mark.skipif(not SURVEY.exists(), reason="the survey's file does not lie beside the project")
@pytest.mark.parametrize(
    ("id_", "taken", "r_squared", "spread"),
    [
        ("hip", ("waist",), 0.57, 40.0),
        ("centre_front_length", ("front_waist_length", "back_waist_length"), 0.77, 11.0),
        ("across_back", ("bust",), 0.29, 20.0),
        ("stature", ("back_waist_length",), 0.22, 56.0),
    ],
)
def test_fitted_rules_are_least_squares_on_the_survey(
    id_: str, taken: tuple[str, ...], r_squared: float, spread: float
) -> None:
    """R² and spread of the rule are as its text says, and no straight line does better."""
    measured = np.array([body.measurements[id_] for body in bodies()])
    known = np.array([[1.0, *(body.measurements[name] for name in taken)] for body in bodies()])
    estimated = np.array([estimate(id_, body.measurements) for body in bodies()])
    best, *_ = np.linalg.lstsq(known, measured, rcond=None)
    off = measured - estimated
    assert np.std(off) == pytest.approx(np.std(measured - known @ best), rel=2e-3)
    assert abs(off.mean()) < 1.0
    assert 1 - off.var() / measured.var() == pytest.approx(r_squared, abs=0.006)
    assert np.std(off) == pytest.approx(spread, abs=0.7)
    rule = MEASUREMENTS[id_].rule
    assert rule is not None
    assert f"R² {r_squared}, spread {spread:.0f} mm" in rule.text


def test_the_triangle_of_shoulder_and_bust_point_is_laid_flat() -> None:
    """A 3-4-5 triangle: level shoulder of 120 mm, bust point 160 mm under the side neck point, 200 mm between them."""
    values = {"neck_base": 450.0, "bust_span": 180.0, "neck_to_bust_point": 160.0, "shoulder": 120.0}
    assert estimate("shoulder_point_to_bust_point", {**values, "shoulder_slope_deg": 0.0}) == pytest.approx(200.0)


def test_levels_lie_one_breast_radius_from_the_bust_point() -> None:
    """3 in above and below at a bust of 35 in (common practice, from memory); nearer where the waist is near."""
    values = {"bust": 890.0, "neck_to_bust_point": 260.0, "front_waist_length": 390.0}
    assert estimate("upper_bust_level", values) == pytest.approx(260.0 - 76.0)
    assert estimate("under_bust_level", values) == pytest.approx(260.0 + 76.0)
    assert estimate("under_bust_level", {**values, "front_waist_length": 340.0}) == pytest.approx(260.0 + 60.0)


def test_a_rule_reads_only_what_is_known_by_then() -> None:
    """With the required measurements alone every other one is estimated, in the order of the table."""
    body = extreme_body()
    for id_, row in MEASUREMENTS.items():
        if not row.required:
            body.measurements.pop(id_, None)
    measured = complete(body)
    assert measured.values.keys() == MEASUREMENTS.keys()
    assert measured.estimated == {row.id for row in MEASUREMENTS.values() if not row.required}
