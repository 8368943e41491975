"""Front and back drawn out: runs in loop order, darts, marks, landmarks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import msgspec
import numpy as np

from core.blocks.assembly import Drawing, Run, Wedge, segment
from core.blocks.levels import (
    Stretches,
    bust_circle,
    level_above,
    level_across,
    level_square,
    level_to,
    reach_for,
)
from core.blocks.shoulders import Shoulder
from core.blocks.waist import Lower
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_point, as_points
from core.pieces.records import EdgeKind

WAIST_SET_BACK: Final = 13.0
"""The front waist dart ends 1/2 in below the bust point (trade.md C2)."""

SHOULDER_SET_BACK: Final = 50.0
"""The front shoulder dart ends 2 in short of the bust point (trade.md C2)."""

BACK_WAIST_SET_BACK: Final = 25.0
"""The back waist dart ends 1 in below its pivot (trade.md C2)."""

BLADE_SET_BACK: Final = 1 / 3
"""The back shoulder dart is sewn two thirds of the way to its pivot: 3 in of 4 1/2 (trade.md C1, C2)."""

LONGEST_SET_BACK: Final = 1 / 3
"""No dart is shortened by more than this share of its legs, whatever the rule in mm."""


class Outline(msgspec.Struct, frozen=True, eq=False):
    """What both pieces' outlines are made of, on the side where the front lies."""

    centre: str
    centre_kind: EdgeKind
    lower: Lower
    shoulder: Shoulder
    neck: Points
    armhole: Points

    @property
    def runs(self) -> tuple[Run, ...]:
        """All runs in loop order, from the top of the centre down."""
        lower, shoulder = self.lower, self.shoulder
        return (
            Run(self.centre, self.centre_kind, segment(as_point(self.neck[-1]), (0.0, 0.0))),
            Run("waist", "seam", lower.inner.points),
            Run("waist_dart", "dart base", segment(*lower.legs)),
            Run("waist", "seam", lower.outer.points),
            Run("side", "seam", segment(lower.waist_side, self.underarm)),
            Run("armhole", "opening", self.armhole),
            Run("shoulder", "seam", segment(shoulder.point, shoulder.outer_leg)),
            Run("shoulder_dart", "dart base", segment(shoulder.outer_leg, shoulder.inner_leg)),
            Run("shoulder", "seam", segment(shoulder.inner_leg, shoulder.side_neck)),
            Run("neck", "opening", self.neck),
        )

    @property
    def underarm(self) -> Point:
        """Where side seam and armhole meet."""
        return as_point(self.armhole[0])

    @property
    def outside(self) -> Points:
        """Side seam and armhole in loop order, (N, 2)."""
        return as_points(np.vstack((self.lower.waist_side, self.armhole)))

    def wedges(self, *, waist: float, shoulder: float) -> tuple[Wedge, ...]:
        """Both darts, sewn to points so many mm short of their pivots."""
        top = self.shoulder
        legs = gap(self.lower.pivot, self.lower.legs[0]), gap(top.pivot, top.inner_leg)
        return (
            Wedge("waist_dart", self.lower.pivot, self.lower.legs, min(waist, LONGEST_SET_BACK * legs[0])),
            Wedge(
                "shoulder_dart", top.pivot, (top.outer_leg, top.inner_leg), min(shoulder, LONGEST_SET_BACK * legs[1])
            ),
        )

    def landmarks(self, marks: Mapping[str, Stretches]) -> dict[str, Point]:
        """The landmarks that both pieces have, with those of the level lines at the centre."""
        lines = ("upper_bust_line", "bust_line", "under_bust_line")
        return {
            "side_neck": self.shoulder.side_neck,
            "shoulder_point": self.shoulder.point,
            "underarm": self.underarm,
            "waist_centre": (0.0, 0.0),
            "waist_side": self.lower.waist_side,
            **{line: as_point(marks[line][0][0]) for line in lines},
        }


def front_drawing(body: Mapping[str, float], outline: Outline) -> Drawing:
    """The front with its levels and the bust circle."""
    marks = _front_marks(body, outline)
    own = {"neck_pit": as_point(outline.neck[-1]), "bust_point": outline.lower.pivot}
    wedges = outline.wedges(waist=WAIST_SET_BACK, shoulder=SHOULDER_SET_BACK)
    return Drawing(outline.runs, wedges, marks, outline.landmarks(marks) | own)


def _front_marks(body: Mapping[str, float], outline: Outline) -> dict[str, Stretches]:
    """Levels at their distances from the side neck point.

    Those above the bust point are measured on the shoulder dart's legs, those below it on the waist dart's. The breast
    is as wide as it is high.
    """
    lower, shoulder, down = outline.lower, outline.shoulder, body["neck_to_bust_point"]
    above, below = down - body["upper_bust_level"], body["under_bust_level"] - down
    return {
        "upper_bust_line": level_above(shoulder, above, outline.outside),
        "bust_line": level_across(lower, lower.pivot[1]),
        "under_bust_line": level_square(lower, below),
        "bust_circle": bust_circle(lower, shoulder, above=above, below=below, across=(above + below) / 2),
    }


def back_drawing(front: Drawing, outline: Outline) -> Drawing:
    """The back, turned over to its own side; its levels begin at the side where the front's end."""
    lower, shoulder = outline.lower, outline.shoulder
    upper, under = (float(front.marks[line][-1][-1, 1]) for line in ("upper_bust_line", "under_bust_line"))
    marks = {
        "upper_bust_line": level_to(lower, upper, outline.outside),
        "bust_line": level_across(lower, front.landmarks["bust_point"][1]),
        "under_bust_line": level_square(lower, reach_for(lower, under)),
    }
    own = {"nape": as_point(outline.neck[-1]), "shoulder_blade": shoulder.pivot}
    blade = BLADE_SET_BACK * gap(shoulder.pivot, shoulder.inner_leg)
    wedges = outline.wedges(waist=BACK_WAIST_SET_BACK, shoulder=blade)
    return Drawing(outline.runs, wedges, marks, outline.landmarks(marks) | own).turned_over()
