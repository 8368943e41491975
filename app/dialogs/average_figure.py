"""The figure that a new design begins with until the client has been measured: nobody's, and marked so."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from core.body.body import Body
from core.body.catalogue import MEASUREMENTS
from core.body.size_table import starting_body
from core.design.design import Design, today
from core.units import Unit

AVERAGE: Final = "average figure, replace with hers"

AVERAGE_FIGURE: Final[Mapping[str, float]] = {
    id_: value for id_, value in starting_body(920.0).measurements.items() if MEASUREMENTS[id_].required
}
"""What a block needs, in mm, of the size table's figure in the middle of the women it was made from."""


def average_design(unit: Unit) -> Design:
    """A block for the average figure, to look at before anyone has been measured."""
    return Design(
        name="New commission",
        body=Body("Average figure", unit, dict(AVERAGE_FIGURE)),
        date=today(),
        unit=unit,
    )


def still_average(body: Body) -> list[str]:
    """The names of the measurements that are the average figure's to the tenth of a millimetre: hardly ever hers."""
    taken = body.measurements
    return [
        MEASUREMENTS[id_].name for id_, mean in AVERAGE_FIGURE.items() if id_ in taken and abs(taken[id_] - mean) < 0.05
    ]
