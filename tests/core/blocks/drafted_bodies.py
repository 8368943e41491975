"""Blocks drafted once for all tests of this folder, and a cutter's ways of measuring them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import atan2, degrees, remainder
from typing import Final

import numpy as np

from core.blocks.draft import Draft, drafted
from core.blocks.ease import Ease
from core.body.body import Measured, complete, entered
from core.errors import Refusal
from core.geometry.polyline import Point, Points, as_points, point_at
from core.pieces.records import Dart, Edge, Garment, Piece
from tests.samples_bodies import SURVEY, bodies, extreme_body, mean_bodies

EASE: Final = Ease()

CHORD: Final = 5.0
"""Corners are judged by the chord over the last 5 mm (cutting.md 20)."""

CLIENT: Final = {
    "bust": 88.0,
    "high_bust": 84.0,
    "under_bust": 75.0,
    "waist": 70.0,
    "hip": 95.0,
    "bust_span": 18.5,
    "neck_to_bust_point": 26.5,
    "front_waist_length": 43.5,
    "centre_front_length": 35.5,
    "back_waist_length": 41.0,
    "shoulder": 12.4,
    "shoulder_slope_deg": 22.0,
    "across_back": 34.4,
    "across_front": 32.4,
    "scye_depth": 18.5,
    "scye_girth": 37.0,
    "neck_base": 35.0,
    "stature": 168.0,
    "upper_bust_level": 18.5,
    "under_bust_level": 34.5,
}
"""A figure of bust 88 with a dressmaker's shoulder: widths of a handbook's size (trade.md A5), the rest invented."""


@dataclass(frozen=True, eq=False, slots=True)
class Sample:
    """A woman, measured, and her block."""

    name: str
    measured: Measured
    draft: Draft

    @property
    def garment(self) -> Garment:
        """The block."""
        return self.draft.garment

    @property
    def front(self) -> Piece:
        """The front."""
        return self.garment.piece("front")

    @property
    def back(self) -> Piece:
        """The back."""
        return self.garment.piece("back")

    def __getitem__(self, measurement: str) -> float:
        return self.measured.values[measurement]


@cache
def every_tenth() -> tuple[tuple[Sample, ...], tuple[tuple[str, str], ...]]:
    """Every tenth woman of the survey (all the tables' women where the survey is absent), and the refusals by name."""
    drawn, refused = [], []
    for body in bodies()[:: 10 if SURVEY.exists() else 1]:
        measured = complete(body)
        try:
            drawn.append(Sample(body.name, measured, drafted(measured, EASE)))
        except Refusal as refusal:
            refused.append((body.name, refusal.sentence))
    return tuple(drawn), tuple(refused)


def samples() -> tuple[Sample, ...]:
    """All that could be drafted."""
    return every_tenth()[0]


def client(ease: Ease = EASE, **changes: float) -> Sample:
    """The client's block, some measurements changed (cm, degrees)."""
    measured = complete(entered("Client", "cm", CLIENT | changes))
    return Sample("Client", measured, drafted(measured, ease))


def extreme(case: str) -> Sample:
    """One of the women at the survey's edges."""
    measured = complete(extreme_body(case))
    return Sample(case, measured, drafted(measured, EASE))


def means() -> tuple[Sample, ...]:
    """The survey's mean women by bust class."""
    measured = [(body.name, complete(body)) for body in mean_bodies()]
    return tuple(Sample(name, body, drafted(body, EASE)) for name, body in measured)


def direction(edge: Edge | Points, *, at_end: bool) -> float:
    """Direction of travel in degrees of the chord over the first or last 5 mm."""
    points = edge.points if isinstance(edge, Edge) else edge
    line = points[::-1] if at_end else points
    (ax, ay), (bx, by) = line[0], point_at(as_points(line), CHORD)
    sign = -1.0 if at_end else 1.0
    return degrees(atan2(sign * (by - ay), sign * (bx - ax)))


def corner(before: Edge, after: Edge) -> float:
    """The angle inside the cloth where one edge ends and the next begins, in degrees."""
    turn = remainder(direction(after, at_end=False) - direction(before, at_end=True), 360.0)
    return 180.0 - turn


def turned(points: Points, pivot: Point, angle: float) -> Points:
    """Points turned about a pivot by an angle in radians."""
    c, s = np.cos(angle), np.sin(angle)
    return as_points((points - pivot) @ np.array(((c, s), (-s, c))) + pivot)


def pinned(piece: Piece, dart: Dart) -> tuple[Points, Points]:
    """The edges before and after a dart's base, the second laid against the first with the dart closed."""
    before, after = piece.neighbours(dart.base)
    return before.points, turned(after.points, dart.pivot, dart.closing_turn)


def crossed_at(piece: Piece, height: float) -> list[float]:
    """The x of the outline at a level, rising; worked out edge by edge of the whole loop."""
    loop = np.vstack((piece.loop, piece.loop[:1]))
    found = set()
    for (ax, ay), (bx, by) in pairwise(loop):
        if ay != by and min(ay, by) <= height <= max(ay, by):
            found.add(round(float(ax + (height - ay) / (by - ay) * (bx - ax)), 6))
    return sorted(found)
