"""Places of a figure's surface: sections through the trunk with the mounds on them, and profiles for the tape."""

from __future__ import annotations

from functools import cached_property
from math import cos, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.form.figure import FOOT_ROUNDED, OUTWARD, SPREADS, Figure
from core.form.trunk import Trunk
from core.geometry.polyline import Points, as_points

Values = NDArray[np.float64]

AROUND: Final = 121
"""Places of half a section."""

ALONG: Final = 49
"""Places of a profile for the tape."""


class Sections:
    """The surface of one figure, its splines made once."""

    def __init__(self, figure: Figure) -> None:
        self.figure = figure
        self._trunk = Trunk(figure.levels(), figure.widths(), SPREADS)

    @cached_property
    def around(self) -> Values:
        """The values of t at which sections are sampled, centre front to centre back."""
        return np.linspace(0.0, np.pi, AROUND)

    def places(self, t: Values, z: Values) -> tuple[Values, Values]:
        """x and y (mm) of the surface at t and z, which are broadcast together."""
        wide, deep, middle, square = np.moveaxis(self._trunk(z), -1, 0)
        out = 1.0 + square * (1.0 - np.cos(4.0 * t)) / 2.0
        x, y = wide * np.sin(t) * out, deep * np.cos(t) * out
        own, other = (self._swell(self._from_middle(x, y, (wide, deep), side), z) for side in (1.0, -1.0))
        stands = self.figure.unknowns.mound
        return x + stands * (own - other) * sin(OUTWARD), middle + y + stands * (own + other) * cos(OUTWARD)

    def on_mound(self, t: Values, z: Values) -> Values:
        """The place of the trunk at t and z counted from the mound's middle: 0 there, 1 at its foot; broadcast."""
        wide, deep, _, square = np.moveaxis(self._trunk(z), -1, 0)
        out = 1.0 + square * (1.0 - np.cos(4.0 * t)) / 2.0
        x, y = wide * np.sin(t) * out, deep * np.cos(t) * out
        return np.hypot(*self._shares(self._from_middle(x, y, (wide, deep), 1.0), z))

    @property
    def mound_middle(self) -> float:
        """How far the middle of the mound's foot lies from the centre, behind the bust point."""
        return self.figure.half_span - self.figure.unknowns.mound * sin(OUTWARD)

    def _from_middle(self, x: Values, y: Values, half: tuple[Values, Values], side: float) -> Values:
        """How far round the trunk a place lies from a mound's middle: the chord, outwards positive."""
        wide, deep = half
        middle = side * self.mound_middle
        ahead = deep * np.sqrt(np.clip(1.0 - (middle / wide) ** 2, 0.0, None))
        return np.copysign(np.hypot(x - middle, y - ahead), side * (x - middle))

    def _shares(self, across: Values, z: Values) -> tuple[Values, Values]:
        """How far across and up a place lies from a mound's middle, in shares of the mound's reach there."""
        up, down, out, inner = self.figure.reaches()
        above = z - self.figure.unknowns.bust_point_height
        sides = np.where(across > 0.0, across / out, across / inner)
        return sides, np.where(above > 0.0, above / up, above / down)

    def _swell(self, across: Values, z: Values) -> Values:
        """How far a mound stands out, 1 at its middle and 0 from its foot on.

        How steeply it falls changes with the direction from its middle.
        """
        sideways, upright = self._shares(across, z)
        up, down, out, inwards = self.figure.swells()
        level, steep = sideways**2, upright**2
        square = level + steep
        power = np.where(upright > 0.0, up, down) * steep + np.where(sideways > 0.0, out, inwards) * level
        return np.asarray(_foot(1.0 - square) ** (power / np.maximum(square, 1e-9)))

    def halves(self, heights: Values) -> Values:
        """The half sections at heights (L,), shape (L, N, 2): x and y from the centre front to the centre back."""
        x, y = self.places(self.around[None, :], heights[:, None])
        return np.stack((x, y), axis=2)

    def whole_section(self, z: float) -> Points:
        """The section at a level, both halves, shape (N, 2)."""
        half = self.halves(np.array([z]))[0]
        return as_points(np.vstack((half, half[-2:0:-1] * (-1.0, 1.0))))

    def front_profile(self, top: tuple[float, float], foot: tuple[float, float]) -> Points:
        """The body in the upright plane through two places (x, z): how far down, how far forward, shape (N, 2).

        The upper place itself is where the shoulder's ridge is, if it lies beyond the section there.
        """
        share = np.linspace(0.0, 1.0, ALONG)
        x, z = (top[i] + share * (foot[i] - top[i]) for i in (0, 1))
        front = self.around[: AROUND // 2 + 1]
        across, forward = self.places(front[None, :], z[:, None])
        y = np.array([np.interp(one, xs, ys) for one, xs, ys in zip(x, across, forward, strict=True)])
        return np.column_stack((share * float(np.hypot(x[-1] - x[0], z[-1] - z[0])), y))

    def centre_profile(self, top: float, *, is_back: bool) -> Points:
        """The centre front, with the hollow bridged, or the centre back from a level down to the waist, (N, 2)."""
        z = np.linspace(top, 0.0, ALONG)
        if is_back:
            return np.column_stack((top - z, -self.places(np.full(ALONG, np.pi), z)[1]))
        front = self.around[: AROUND // 2 + 1]
        return np.column_stack((top - z, self.places(front[None, :], z[:, None])[1].max(axis=1)))


def _foot(left: Values) -> Values:
    """What is left of the mound at a place, rounded off where it runs out, so that its foot is a fold and no crack."""
    e = FOOT_ROUNDED
    return np.where(left > e, left, np.clip(left + e, 0.0, None) ** 2 / (4.0 * e))
