"""A waist with any number of darts: its edge drafted trued, on the side where the front lies.

The edge leaves the centre square, meets every leg square, so that it runs on smoothly when the darts are closed, and
reaches the side seam square (cutting.md 15).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, hypot, tan

import msgspec

from core.blocks.assembly import Run, Wedge, segment
from core.blocks.curves import Bend, squared
from core.blocks.waist import SideSeam
from core.geometry.polyline import Point


class WaistDart(msgspec.Struct, frozen=True):
    """A waist dart as asked for: its name, pivot, width at the waist (mm), how far under the pivot its sewing ends."""

    name: str
    pivot: Point
    width: float
    set_back: float


class Waist(msgspec.Struct, frozen=True, eq=False):
    """A waist edge in loop order from the centre: bends, with a dart after each but the last."""

    bends: tuple[Bend, ...]
    darts: tuple[Wedge, ...]
    even_end: float
    """Where an even curve from the last dart would meet the side seam."""

    @property
    def length(self) -> float:
        """Length with the darts closed, in mm."""
        return sum(bend.length for bend in self.bends)

    @property
    def runs(self) -> tuple[Run, ...]:
        """The edge and its dart bases in loop order."""
        found = [Run("waist", "seam", self.bends[0].points)]
        for dart, bend in zip(self.darts, self.bends[1:], strict=True):
            found += [Run(dart.name, "dart base", segment(*dart.legs)), Run("waist", "seam", bend.points)]
        return tuple(found)


def waist_edge(
    centre: Point, direction: float, darts: Sequence[WaistDart], side: SideSeam, *, side_height: float
) -> Waist:
    """The edge from the centre, which it leaves in `direction` (radians), over the darts to the side seam.

    `darts` lie in order from the centre, upright under their pivots. Each leg ends where an even curve from the dart
    before it, or from the centre, would reach it; the edge meets the side seam at `side_height`.
    """
    here, heading = centre, direction
    bends, wedges = [], []
    for dart in darts:
        half, y = _half_angle(dart, here, heading)
        legs = ((dart.pivot[0] - dart.width / 2, y), (dart.pivot[0] + dart.width / 2, y))
        bends.append(squared(here, heading, legs[0], -half))
        reach = hypot(dart.width / 2, dart.pivot[1] - y)
        wedges.append(Wedge(dart.name, dart.pivot, legs, min(dart.set_back, reach / 3)))
        here, heading = legs[1], half
    end = side.at(side_height)
    bends.append(squared(here, heading, end, -side.lean))
    return Waist(tuple(bends), tuple(wedges), here[1] + (end[0] - here[0]) * tan((heading - side.lean) / 2))


def _half_angle(dart: WaistDart, start: Point, heading: float) -> tuple[float, float]:
    """Half the dart's angle and the height of its leg ends, so that an even curve from `start` meets them square."""
    across, y = dart.pivot[0] - dart.width / 2 - start[0], start[1]
    half = 0.0
    for _ in range(8):
        half = asin(min(dart.width / 2 / hypot(dart.width / 2, dart.pivot[1] - y), 1.0))
        y = start[1] + across * tan((heading - half) / 2)
    return half, y


def level_reach(dart: Wedge, height: float) -> float:
    """Half the width of an upright dart at a height under its pivot, in mm; nought above it."""
    across, down = dart.legs[1][0] - dart.pivot[0], dart.pivot[1] - dart.legs[1][1]
    return max(dart.pivot[1] - height, 0.0) * across / down


def height_under(dart: Wedge, reach: float) -> float:
    """The height of the places on an upright dart's legs that lie `reach` mm from its pivot."""
    across, down = dart.legs[1][0] - dart.pivot[0], dart.pivot[1] - dart.legs[1][1]
    return dart.pivot[1] - reach * down / hypot(across, down)
