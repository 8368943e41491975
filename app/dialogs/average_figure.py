"""The design that the window begins with, and how the average figure's measurements are called."""

from __future__ import annotations

from typing import Final

from core.body.average import AVERAGE_FIGURE, still_average
from core.body.body import Body
from core.design.design import Design, today
from core.units import Unit

AVERAGE: Final = "average figure, replace with hers"


def not_hers(body: Body) -> str:
    """How many of a body's measurements are nobody's, and whose they are: "7 measurements: size table, …"; "" for none.

    >>> not_hers(Body("Nobody", "cm", {"bust": 917.0, "waist": 730.0}, ("bust", "waist")))
    '2 measurements: size table, replace with hers'
    """
    ids = still_average(body)
    table = sum(id_ in body.from_table for id_ in ids)
    counts = {"average figure": len(ids) - table, "size table": table}
    said = [f"{count}: {source}" for source, count in counts.items() if count]
    if not said:
        return ""
    number, first = said[0].split(": ")
    return ", ".join((f"{number} measurement{'' if number == '1' else 's'}: {first}", *said[1:], "replace with hers"))


def average_design(unit: Unit) -> Design:
    """A block for the average figure, to look at before anyone has been measured."""
    return Design(
        name="New commission",
        body=Body("Average figure", unit, dict(AVERAGE_FIGURE)),
        date=today(),
        unit=unit,
    )
