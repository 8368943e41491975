"""The figure behind a form: sections of the trunk at stated levels, and the two mounds of the bust.

Millimetres, the waist level is z = 0, z up, y forward, x to the wearer's left. A section is run by t, from 0 at the
centre front over pi / 2 at the side to pi at the centre back. Only the left half is held: the figure is symmetric.

Every constant is a share of a measurement, so that a body twice as large has a form twice as large. The shares are
house values for what no tape tells: how deep a trunk is for its width, and how the mound of the bust swells.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.body.body import Measured
from core.body.shape import Shape

Values = NDArray[np.float64]

CHEST: Final = 0.88
"""Straight across the chest, by what the tape reads over it from arm crease to arm crease."""

OUTWARD: Final = radians(12.0)
"""How far the mounds point outwards."""

SWELL: Final = {"round": (1.6, 0.85, 1.0, 1.2), "average": (2.0, 1.15, 1.3, 1.5), "pointed": (2.6, 1.7, 1.8, 2.0)}
"""The power p of the mound's profile (1 - rho²)^p straight up, down, out and in from its middle."""

FOOT_ROUNDED: Final = 0.12
"""Over what share the foot of the mound is rounded into the trunk."""

REACH: Final = {"above": (1.2, 1.0), "average": (1.0, 1.0), "below": (0.84, 1.08)}
"""How much farther the mound reaches up, and down, than on an average figure."""

LEAN: Final = {"upright": -0.025, "average": 0.0, "stooping": 0.035}
"""How far forward the neck and shoulders stand, in back waist lengths."""

DEPTHS: Final = {"hip": 0.74, "waist": 0.74, "under": 0.71, "high": 0.67}
"""Half depth of the trunk by half width, by the level of a girth."""

SPREADS: Final = np.array([0.5, 0.5, 0.5, 0.5, 0.5, 0.55, 0.6, 0.3])
"""How far the trunk's bends from the hip to the side neck are spread, in shares of the mean gap of their levels: the
shoulder is round, and the neck stands on it."""

SQUARE: Final = 0.05
"""How much a section stands out over its ellipse halfway between front and side."""


class Unknowns(msgspec.Struct, frozen=True):
    """What the solution finds: half widths at four girths, how far the mound stands out, two heights; all mm.

    The last two are shares that a tape hardly tells, so they keep near a usual value: how far the waist stands forward,
    in back waist lengths, and where the ribs at the bust point lie between those under and above it.
    """

    hip: float
    waist: float
    under: float
    high: float
    mound: float
    bust_point_height: float
    side_neck_height: float
    waist_forward: float
    ribs: float


class Figure(msgspec.Struct, frozen=True, eq=False):
    """Measurements, shape and unknowns together: enough to say where every place of the surface is."""

    values: Measured
    shape: Shape
    unknowns: Unknowns

    def of(self, id_: str) -> float:
        """A measurement in mm."""
        return self.values.values[id_]

    @property
    def scale(self) -> float:
        """The back waist length, by which heights are counted."""
        return self.of("back_waist_length")

    @property
    def half_span(self) -> float:
        """How far the bust point lies from the centre."""
        return self.of("bust_span") / 2.0

    @property
    def hip_height(self) -> float:
        """The level of the hip girth, below the waist."""
        return -0.5 * self.scale

    @property
    def side_neck(self) -> float:
        """How far the side neck point lies from the centre: a fifth of the neck base (as neck widths of blocks)."""
        return self.of("neck_base") / 5.0

    @property
    def slope(self) -> float:
        """Shoulder slope in radians."""
        return radians(self.of("shoulder_slope_deg"))

    @property
    def shoulder_point(self) -> float:
        """How far the shoulder point lies from the centre."""
        return self.side_neck + self.of("shoulder") * cos(self.slope)

    @property
    def shoulder_height(self) -> float:
        """The level of the shoulder point."""
        return self.unknowns.side_neck_height - self.of("shoulder") * sin(self.slope)

    @property
    def neck_top(self) -> float:
        """Where the form ends above."""
        return max(self.unknowns.side_neck_height + 0.2 * self.scale, 1.02 * self.scale)

    @property
    def under_bust_height(self) -> float:
        """The level of the under-bust girth: the tape from the bust point runs a little longer than it falls."""
        fall = 0.9 * (self.of("under_bust_level") - self.of("neck_to_bust_point"))
        height = self.unknowns.bust_point_height
        return max(height - fall, 0.3 * height)

    @property
    def high_bust_height(self) -> float:
        """The level of the high bust girth, close under the arm and above the bust point.

        The armhole depth counts it down from the nape, and from the shoulder point it lies half that depth below: where
        front and back lengths do not agree it goes two thirds by the back.
        """
        by_back = 0.97 * (self.scale - self.of("scye_depth"))
        by_front = self.shoulder_height - 0.5 * self.of("scye_depth")
        return max((2.0 * by_back + by_front) / 3.0, self.unknowns.bust_point_height + 0.1 * self.scale)

    def levels(self) -> Values:
        """Heights (10,) of the stated sections, rising from below the hip to the top of the neck."""
        high, shoulder = self.high_bust_height, self.shoulder_height
        chest = (high + shoulder) / 2.0
        neck = self.unknowns.side_neck_height
        heights = np.array(
            [
                *(1.3 * self.hip_height, self.hip_height, 0.0, self.under_bust_height),
                *(self.unknowns.bust_point_height, high, chest, shoulder, neck),
            ]
        )
        apart = 1e-4 * self.scale * np.arange(len(heights))
        rising = np.maximum.accumulate(heights - apart) + apart
        return np.append(rising, max(self.neck_top, rising[-1] + 1e-3 * self.scale))

    def is_in_order(self) -> bool:
        """Whether the armhole leaves room between the high bust and the shoulder."""
        return self.shoulder_height > self.high_bust_height + 0.04 * self.scale

    def widths(self) -> Values:
        """Half width, half depth, middle (forward) and squareness at each level, shape (10, 4)."""
        own, long, neck = self.unknowns, self.scale, self.of("neck_base")
        chest = CHEST * (self.of("across_front") + self.of("across_back")) / 4.0
        lean = LEAN[self.shape.stance] * long
        high_depth = DEPTHS["high"] * own.high
        # The back runs straight from the waist to the shoulder blades.
        up = self.under_bust_height / self.high_bust_height
        forward = (own.waist_forward * (1.0 - up) - 0.02 * up) * long
        under = np.array([own.under, DEPTHS["under"] * own.under, forward, SQUARE])
        above = np.array([own.high, high_depth, -0.02 * long + 0.3 * lean, SQUARE])
        return np.array(
            [
                [0.985 * own.hip, 0.72 * own.hip, 0.0, SQUARE],
                [own.hip, DEPTHS["hip"] * own.hip, 0.0, SQUARE],
                [own.waist, DEPTHS["waist"] * own.waist, own.waist_forward * long, SQUARE],
                under,
                under + own.ribs * (above - under),
                above,
                [
                    max(chest, 0.85 * own.high, 0.96 * self.shoulder_point),
                    0.86 * high_depth,
                    -0.045 * long + 0.6 * lean,
                    0.8 * SQUARE,
                ],
                [self.shoulder_point, 0.6 * high_depth, -0.075 * long + 0.9 * lean, 0.0],
                [self.side_neck, 0.17 * neck, -0.07 * long + lean, 0.0],
                [0.15 * neck, 0.16 * neck, -0.02 * long + 1.1 * lean, 0.0],
            ]
        )

    def swells(self) -> tuple[float, float, float, float]:
        """The powers of the mound's profile up, down, out and in; a mound that stands out far is rounder below."""
        up, down, out, inwards = SWELL[self.shape.profile]
        fall = self.unknowns.bust_point_height - self.under_bust_height
        return up, down * min(max(fall / self.unknowns.mound, 0.5), 1.0), out, inwards

    def reaches(self) -> tuple[float, float, float, float]:
        """How far the mound reaches from its middle: up, down, out, in (mm)."""
        above, below = REACH[self.shape.fullness]
        breast = self.of("neck_to_bust_point") - self.of("upper_bust_level")
        fall = self.unknowns.bust_point_height - self.under_bust_height
        up = sqrt(2.2 * breast * (self.high_bust_height - self.unknowns.bust_point_height))
        return up * above, 1.05 * fall * below, 0.1 * self.of("bust"), 1.1 * self.half_span
