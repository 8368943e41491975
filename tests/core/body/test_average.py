"""The average figure: known again, and not mistaken for a client who shares a measurement with it."""

from __future__ import annotations

from msgspec.structs import replace

from core.body.average import AVERAGE_FIGURE, is_measured, still_average
from core.body.body import Body
from core.body.catalogue import MEASUREMENTS

AVERAGE = Body("Average figure", "cm", dict(AVERAGE_FIGURE))


def with_values(**values: float) -> Body:
    """The average figure with some measurements taken."""
    return replace(AVERAGE, measurements={**AVERAGE.measurements, **values})


def test_the_average_figure_is_nobodys() -> None:
    """All that a block needs is average, and nobody has been measured."""
    assert still_average(AVERAGE) == tuple(AVERAGE_FIGURE)
    assert set(AVERAGE_FIGURE) == {row.id for row in MEASUREMENTS.values() if row.required}
    assert not is_measured(AVERAGE)


def test_what_was_typed_counts_as_hers() -> None:
    """Another waist is no longer average; one taken measurement is no measured client."""
    body = with_values(waist=740.0)
    assert set(AVERAGE_FIGURE) - set(still_average(body)) == {"waist"}
    assert not is_measured(body)


def test_a_client_may_share_a_measurement_with_the_average() -> None:
    """A bust of 92 cm and the common shoulder keep nobody from being measured."""
    hers = {id_: value + 3.0 for id_, value in AVERAGE_FIGURE.items() if id_ not in {"bust", "shoulder"}}
    assert still_average(with_values(**hers)) == ("bust", "shoulder")
    assert is_measured(with_values(**hers))
