"""Front and back of the method "armhole dart" drawn out: runs in loop order, darts, marks, landmarks."""

from __future__ import annotations

from collections.abc import Mapping
from math import atan2, pi
from typing import Final

import msgspec
import numpy as np

from core.blocks.assembly import Drawing, Run, Wedge, segment
from core.blocks.curves import along, direction_of
from core.blocks.levels import FOLD_CLEARANCE, Stretches, level_end, quarter
from core.blocks.waist import SideSeam
from core.blocks.waist_darts import Waist, height_under, level_reach
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_point, as_points, crossings, joined

CLEAR: Final = 3.0
"""The bust circle stays so far (mm) from the next dart's pivot, and the back's upper bust line from the blade."""

MOST_REACH: Final = 0.8
"""No mark lies farther along a dart's leg from the bust point than this share of it."""


class Half(msgspec.Struct, frozen=True, eq=False):
    """A piece on the side where the front lies.

    `centre` runs down from the top; `upper` from the underarm round to the top of the centre, with the base of the
    dart that opens in it, `dart`.
    """

    centre: Run
    waist: Waist
    side: SideSeam
    upper: tuple[Run, ...]
    dart: Wedge

    @property
    def waist_side(self) -> Point:
        """Where waist and side seam meet."""
        return self.waist.bends[-1].last

    @property
    def runs(self) -> tuple[Run, ...]:
        """All runs in loop order."""
        return (
            self.centre,
            *self.waist.runs,
            Run("side", "seam", segment(self.waist_side, self.begin("armhole"))),
            *self.upper,
        )

    @property
    def outside(self) -> Points:
        """Side seam and armhole in loop order, straight over a dart in it, (N, 2)."""
        holes = [run.points for run in self.upper if run.name == "armhole"]
        return joined([as_points((self.waist_side, holes[0][0])), *holes])

    def begin(self, name: str) -> Point:
        """Where the first run of that name begins."""
        return as_point(next(run for run in self.upper if run.name == name).points[0])

    def level(self, height: float) -> Stretches:
        """The level line at a height from centre to side or armhole, interrupted at the waist darts it crosses."""
        down = self.centre.points[::-1]
        here: Point = (float(np.interp(height, down[:, 1], down[:, 0])), height)
        found = []
        for dart in self.waist.darts:
            reach = level_reach(dart, height)
            if reach > 0.0:
                found.append(segment(here, (dart.pivot[0] - reach, height)))
                here = (dart.pivot[0] + reach, height)
        return (*found, segment(here, level_end(here, self.outside)))

    def landmarks(self, marks: Mapping[str, Stretches]) -> dict[str, Point]:
        """The landmarks that both pieces have."""
        lines = ("upper_bust_line", "bust_line", "under_bust_line")
        return {
            "side_neck": self.begin("neck"),
            "shoulder_point": self.begin("shoulder"),
            "underarm": self.begin("armhole"),
            "waist_centre": as_point(self.centre.points[-1]),
            "waist_side": self.waist_side,
            **{line: as_point(marks[line][0][0]) for line in lines},
        }


def front_drawing(body: Mapping[str, float], half: Half) -> Drawing:
    """The front with its levels and the bust circle."""
    bust_point, waist_dart = half.dart.pivot, half.waist.darts[0]
    down = body["neck_to_bust_point"]
    above = min(down - body["upper_bust_level"], MOST_REACH * gap(bust_point, half.dart.legs[0]))
    below = min(body["under_bust_level"] - down, MOST_REACH * gap(bust_point, waist_dart.legs[0]))
    marks = {
        "upper_bust_line": _over_dart(half, bust_point[1] + above),
        "bust_line": half.level(bust_point[1]),
        "under_bust_line": half.level(height_under(waist_dart, below)),
        "bust_circle": _bust_circle(half, above, below),
    }
    own = {"neck_pit": as_point(half.centre.points[0]), "bust_point": bust_point}
    return Drawing(half.runs, (*half.waist.darts, half.dart), marks, half.landmarks(marks) | own)


def _over_dart(half: Half, height: float) -> Stretches:
    """The level line over the bust point; where it meets the armhole dart it goes on beyond it, the dart being shut."""
    start, dart = (0.0, height), half.dart
    end = level_end(start, half.outside)
    met = crossings(as_points((start, end)), as_points((dart.pivot, dart.legs[1])))
    if not met:
        return (segment(start, end),)
    reach = met[0][1]
    lower, upper = (along(dart.pivot, direction_of(dart.pivot, leg), reach) for leg in dart.legs)
    turned = direction_of(dart.pivot, dart.legs[0]) - direction_of(dart.pivot, dart.legs[1])
    return segment(start, upper), segment(lower, level_end(lower, half.outside, direction=turned))


def _bust_circle(half: Half, above: float, below: float) -> Stretches:
    """The foot of the breast: quarters of ellipses read on the cloth, from the waist dart to the armhole dart.

    Towards the side the radius is the mean of those above and below, as far as the next dart allows.
    """
    pivot, (waist_dart, beside) = half.dart.pivot, half.waist.darts
    across = min((above + below) / 2, beside.pivot[0] - pivot[0] - CLEAR)
    inside = min((above + below) / 2, pivot[0] - FOLD_CLEARANCE)
    lower, upper = (direction_of(pivot, leg) for leg in half.dart.legs)
    half_angle = atan2(waist_dart.legs[1][0] - pivot[0], pivot[1] - waist_dart.legs[1][1])
    share = (pi / 2 - upper) / (pi / 2 - upper + lower)
    centre = (
        quarter(pivot, (1.5 * pi - half_angle, pi), (below, inside)),
        quarter(pivot, (pi, pi / 2), (inside, above)),
        quarter(pivot, (pi / 2, upper), (above, across), shares=(0.0, share)),
    )
    side = (
        quarter(pivot, (half_angle - pi / 2, 0.0), (below, across)),
        quarter(pivot, (0.0, lower), (across, above), shares=(0.0, 1.0 - share)),
    )
    return joined(centre), joined(side)


def back_drawing(front: Drawing, half: Half) -> Drawing:
    """The back, turned over to its own side; its levels lie as high as the front's."""
    blade = half.dart.pivot
    upper = min(front.landmarks["upper_bust_line"][1], blade[1] - CLEAR)
    marks = {
        "upper_bust_line": half.level(upper),
        "bust_line": half.level(front.landmarks["bust_line"][1]),
        "under_bust_line": half.level(front.landmarks["under_bust_line"][1]),
    }
    own = {"nape": as_point(half.centre.points[0]), "shoulder_blade": blade}
    return Drawing(half.runs, (*half.waist.darts, half.dart), marks, half.landmarks(marks) | own).turned_over()
