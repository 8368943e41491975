"""The design that the window begins with, and how the average figure's measurements are called."""

from __future__ import annotations

from typing import Final

from core.body.average import AVERAGE_FIGURE
from core.body.body import Body
from core.design.design import Design, today
from core.units import Unit

AVERAGE: Final = "average figure, replace with hers"


def average_design(unit: Unit) -> Design:
    """A block for the average figure, to look at before anyone has been measured."""
    return Design(
        name="New commission",
        body=Body("Average figure", unit, dict(AVERAGE_FIGURE)),
        date=today(),
        unit=unit,
    )
