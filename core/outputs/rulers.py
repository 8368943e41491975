"""The two rulers of every page, in the strips outside its live area: across along the top, up along the left.

A long ruler shows what a square of 100 mm hides: paper that is fed unevenly (trade.md A9).
"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi
from typing import Final

import numpy as np

from core.geometry.placement import Placement
from core.geometry.polyline import Points, as_points
from core.outputs.drawing import Drawing, Item, Stroke, Text
from core.outputs.papers import MARGIN, Paper

LENGTH: Final = 200.0
"""mm, or as many whole centimetres as the paper has room for."""

BARE: Final = 6.4
"""mm at the paper's edge where nothing is drawn: printers leave up to 6.35 bare (trade.md A9)."""

LINE: Final = MARGIN - 0.4
"""The ruler's line lies so far (mm) from the paper's edge, its ticks outside of it."""

TICK, LONG_TICK = 0.9, 3.0
FIGURE: Final = 1.9
"""Length of the ticks of every centimetre and of every fifth, and size of the figures, in mm."""


def rulers(paper: Paper) -> Drawing:
    """Both rulers, in mm from the paper's lower left corner."""
    across = _ruler(ruler_length(paper.width)).placed(Placement(0.0, BARE + 0.3, paper.height - LINE))
    up = _ruler(ruler_length(paper.height)).placed(Placement(pi / 2, LINE, MARGIN))
    return across + up


def ruler_length(side: float) -> float:
    """How long the ruler along a side of the paper is, in mm."""
    return min(LENGTH, 10.0 * int((side - 2 * BARE) / 10.0))


def _ruler(length: float) -> Drawing:
    """A ruler along x, its ticks upwards."""
    return Drawing((Stroke(_comb(length), "ruler"), *_figures(length)))


def _comb(length: float) -> Points:
    """Line and ticks in one go, each tick drawn up and back."""
    places = np.arange(0.0, length + 5.0, 10.0)
    ticks = np.where((places % 50.0 == 0.0) | (places == length), LONG_TICK, TICK)
    foot = np.column_stack((places, np.zeros_like(places)))
    return as_points(np.stack((foot, foot + np.column_stack((0.0 * ticks, ticks)), foot), 1).reshape(-1, 2))


def _figures(length: float) -> Iterator[Item]:
    for place in np.arange(50.0, length, 50.0).tolist():
        yield Text((place + 0.7, 1.2), FIGURE, f"{place:g}", "ruler", anchor="start")
    yield Text((length - 0.7, 1.2), FIGURE, f"{length:g} mm", "ruler", anchor="end")
