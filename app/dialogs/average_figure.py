"""The figure that a new design begins with until the client has been measured: nobody's, and marked so."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from core.body.body import Body
from core.body.catalogue import MEASUREMENTS
from core.design.design import Design, today
from core.units import Unit

AVERAGE: Final = "average figure, replace with hers"

AVERAGE_FIGURE: Final[Mapping[str, float]] = {
    "bust": 918.0,
    "high_bust": 894.0,
    "under_bust": 775.0,
    "waist": 733.0,
    "bust_span": 187.0,
    "neck_to_bust_point": 271.0,
    "front_waist_length": 393.0,
    "back_waist_length": 368.0,
    "shoulder": 124.0,
}
"""Means in mm of the 235 women with a bust of 90 to 94 cm in the survey NATICK/TR-89/044 (1988, public domain).

The survey's shoulder ends about 2 cm outside a dressmaker's, which is taken off here; its length over the bust point
is put together from side neck to bust point and the heights of bust and waist.
"""


def average_design(unit: Unit) -> Design:
    """A block for the average figure, to look at before anyone has been measured."""
    return Design(
        name="New commission",
        body=Body("Average figure", unit, dict(AVERAGE_FIGURE)),
        date=today(),
        unit=unit,
        notes=average_note(AVERAGE_FIGURE),
    )


def average_note(ids: Mapping[str, float]) -> str:
    """What the design's notes say of measurements that were left at the average; empty for none."""
    names = ", ".join(MEASUREMENTS[id_].name for id_ in ids)
    return f"Not measured yet ({AVERAGE}): {names}." if names else ""
