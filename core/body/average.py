"""The figure that a new design begins with until the client has been measured: nobody's, and marked so."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from core.body.body import Body
from core.body.catalogue import MEASUREMENTS
from core.body.size_table import starting_body

AVERAGE_FIGURE: Final[Mapping[str, float]] = MappingProxyType(
    {id_: value for id_, value in starting_body(920.0).measurements.items() if MEASUREMENTS[id_].required}
)
"""What a block needs, in mm, of the size table's figure in the middle of the women it was made from."""

SAME: Final = 0.05
"""Two lengths as near as this (mm) are one."""

CHANCE: Final = 2
"""So many of her measurements may be the average figure's by chance: a bust of 92 cm is common."""


def still_average(body: Body) -> tuple[str, ...]:
    """The ids of the measurements that are nobody's: a size table's, or the average figure's to the tenth of a mm."""
    taken = {id_: value for id_, value in body.measurements.items() if id_ in AVERAGE_FIGURE}
    return tuple(
        id_
        for id_, mean in AVERAGE_FIGURE.items()
        if id_ in taken and (id_ in body.from_table or abs(taken[id_] - mean) < SAME)
    )


def is_measured(body: Body) -> bool:
    """Whether a body is somebody's: no more of it is the average figure's than chance may explain."""
    return len(still_average(body)) <= CHANCE
