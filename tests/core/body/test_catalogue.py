"""The table of measurements against the issue's list, the standard's clauses and the survey."""

from __future__ import annotations

import pytest

from core.body.catalogue import MEASUREMENTS
from tests.samples_bodies import bodies

REQUIRED = {
    *("bust", "high_bust", "under_bust", "waist", "bust_span", "neck_to_bust_point", "front_waist_length"),
    *("back_waist_length", "shoulder"),
}

ESTIMATED = {
    *("hip", "centre_front_length", "shoulder_slope_deg", "shoulder_point_to_bust_point", "across_front"),
    *("across_back", "scye_depth", "scye_girth", "neck_base", "upper_bust_level", "under_bust_level", "stature"),
}

# ISO 8559-1:2017, clause numbers as quoted on public definition pages (trade.md A1).
CLAUSES = {
    "neck_base": "5.3.3 neck base girth",
    "bust": "5.3.4 bust girth",
    "under_bust": "5.3.8 under-bust girth",
    "waist": "5.3.10 waist girth",
    "hip": "5.3.13 hip girth",
    "back_waist_length": "5.4.5 back neck point to waist",
}


def test_the_table_holds_what_the_block_needs() -> None:
    """Nine measurements are required, twelve are estimated where nobody took them."""
    assert {row.id for row in MEASUREMENTS.values() if row.required} == REQUIRED
    assert {row.id for row in MEASUREMENTS.values() if not row.required} == ESTIMATED


def test_measurements_of_the_standard_name_its_clause() -> None:
    """Where ISO 8559-1 defines a girth or length, the source says in which clause; elsewhere none is claimed."""
    claimed = {row.id: row.source for row in MEASUREMENTS.values() if "5." in row.source}
    assert claimed.keys() == CLAUSES.keys()
    for id_, clause in CLAUSES.items():
        assert clause in claimed[id_]


def test_every_row_says_how_it_is_taken() -> None:
    """How to take a measurement is one sentence, fit to be shown beside its field and quoted in a refusal."""
    for row in MEASUREMENTS.values():
        assert row.name
        assert row.how[0].isupper()
        assert row.how.endswith(".")
        assert row.how.count(".") == 1
        assert row.rule is None or len(row.rule.text) > 20


@pytest.mark.parametrize("id_", MEASUREMENTS)
def test_every_woman_of_the_survey_is_believable(id_: str) -> None:
    """No measurement of the survey lies outside the range that is believed, nor within a twentieth of its bounds."""
    row = MEASUREMENTS[id_]
    taken = [body.measurements[id_] for body in bodies() if id_ in body.measurements]
    assert all(row.low * 1.05 <= value <= row.high / 1.05 for value in taken)


def test_values_are_shown_in_the_users_unit() -> None:
    """Lengths with the unit, the slope in degrees whatever the unit."""
    assert MEASUREMENTS["bust"].show(876.3, "in") == "34 1/2 in"
    assert MEASUREMENTS["bust"].show(876.3, "cm") == "87.63 cm"
    assert MEASUREMENTS["shoulder_slope_deg"].show(25.7, "in") == "25.7 degrees"
