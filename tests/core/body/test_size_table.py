"""The size table: an average figure by bust."""

from __future__ import annotations

import pytest

from core.blocks.draft import draft
from core.blocks.ease import Ease
from core.body.body import complete
from core.body.size_table import COLUMNS, ROWS, SIZE_TABLE_SOURCE, starting_body
from core.errors import Refusal
from tests.samples_bodies import SURVEY, bodies, mean_bodies

IN_THE_TABLE_ONLY = {"shoulder", "front_waist_length"}
"""Put together from the table by a rule of their own."""


@pytest.mark.parametrize("index", range(len(ROWS)))
def test_a_row_of_the_table_comes_back_as_it_is(index: int) -> None:
    """At a class's own bust the figure is the class's mean (trade.md A6, kept in cm by the samples)."""
    expected = mean_bodies()[index].measurements
    found = starting_body(expected["bust"]).measurements
    for id_ in set(COLUMNS) - IN_THE_TABLE_ONLY:
        assert found[id_] == pytest.approx(expected[id_], abs=0.5), id_


def test_between_rows_each_value_lies_between() -> None:
    """At a bust of 90 cm the span lies between those of bust 88 and 91.7: 18.2 + 2.0 / 3.7 of 0.4 cm."""
    assert starting_body(900.0).measurements["bust_span"] == pytest.approx(182.0 + 4.0 * 20.0 / 37.0, abs=0.5)
    assert starting_body(900.0).measurements["bust"] == 900.0


def test_the_shoulder_is_a_dressmakers() -> None:
    """The survey's shoulder ends about 2 cm outside the armhole seam (trade.md B9); a handbook has 12.25 at bust 88."""
    assert starting_body(880.0).measurements["shoulder"] == pytest.approx(122.5, abs=5.0)


@pytest.mark.skipif(not SURVEY.exists(), reason="the survey's file does not lie beside the project")
def test_the_front_length_is_the_surveys() -> None:
    """Women of bust 86 to 90 have a front waist length within 1 cm of the table's, on average."""
    own = [body.measurements["front_waist_length"] for body in bodies() if 860 <= body.measurements["bust"] < 900]
    assert starting_body(880.0).measurements["front_waist_length"] == pytest.approx(sum(own) / len(own), abs=10.0)


@pytest.mark.parametrize("bust", [764.0, 800.0, 850.0, 914.4, 1000.0, 1073.0])
def test_every_figure_of_the_table_can_be_drafted(bust: float) -> None:
    """No figure contradicts itself, and each gives a block."""
    assert draft(complete(starting_body(bust, "in")), Ease()).pieces


def test_outside_the_table_it_says_where_the_table_ends() -> None:
    """There is no guessing beyond the survey."""
    with pytest.raises(Refusal, match=r"from a bust of 76\.4 cm to 107\.3 cm"):
        starting_body(1200.0)
    assert "not hers" in SIZE_TABLE_SOURCE
