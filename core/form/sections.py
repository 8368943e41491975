"""Places of a figure's surface: sections through the trunk with the mounds on them, and profiles for the tape."""

from __future__ import annotations

from functools import cached_property
from math import cos, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from core.form.figure import OUTWARD, Figure
from core.form.fits import shape_keeping_spline
from core.geometry.polyline import Points

Values = NDArray[np.float64]

AROUND: Final = 121
"""Places of half a section."""

ALONG: Final = 49
"""Places of a profile for the tape."""


class Sections:
    """The surface of one figure, its splines made once."""

    def __init__(self, figure: Figure) -> None:
        self.figure = figure
        self._trunk = shape_keeping_spline(figure.levels(), figure.widths())

    @cached_property
    def around(self) -> Values:
        """The values of t at which sections are sampled, centre front to centre back."""
        return np.linspace(0.0, np.pi, AROUND)

    def places(self, t: Values, z: Values) -> tuple[Values, Values]:
        """x and y (mm) of the surface at t and z, which are broadcast together."""
        wide, deep, middle, square = np.moveaxis(self._trunk(z), -1, 0)
        out = 1.0 + square * (1.0 - np.cos(4.0 * t)) / 2.0
        x, y = wide * np.sin(t) * out, deep * np.cos(t) * out
        stands = self.figure.unknowns.mound * self._swell(x, z, np.cos(t) > 0.0)
        return x + stands * sin(OUTWARD), middle + y + stands * cos(OUTWARD)

    def on_mound(self, t: Values, z: Values) -> Values:
        """The place of the trunk at t and z counted from the mound's middle: 0 there, 1 at its foot; broadcast."""
        wide, _, _, square = np.moveaxis(self._trunk(z), -1, 0)
        x = wide * np.sin(t) * (1.0 + square * (1.0 - np.cos(4.0 * t)) / 2.0)
        return np.where(np.cos(t) > 0.0, self.mound_radius(x, z), 9.0)

    def _swell(self, x: Values, z: Values, is_front: NDArray[np.bool_]) -> Values:
        """How far the mound stands out at a place of the trunk, 1 at its middle and 0 from its foot on."""
        rho = np.where(is_front, self.mound_radius(x, z), 1.0)
        swell: Values = np.clip(1.0 - rho**2, 0.0, None) ** self.figure.swell
        return swell

    @property
    def mound_middle(self) -> float:
        """How far the middle of the mound's foot lies from the centre, behind the bust point."""
        return self.figure.half_span - self.figure.unknowns.mound * sin(OUTWARD)

    def mound_radius(self, x: Values, z: Values) -> Values:
        """The place of the trunk counted from the mound's middle: 0 there, 1 at the foot.

        Each side has its own reach, and the square of the distance is smooth where the sides meet.
        """
        up, down, out, inner = self.figure.reaches()
        across, above = x - self.mound_middle, z - self.figure.unknowns.bust_point_height
        sides = np.where(across > 0.0, across / max(out, 1.0), across / max(min(inner, self.mound_middle * 1.15), 1.0))
        return np.hypot(sides, np.where(above > 0.0, above / up, above / max(down, 1.0)))

    def section(self, z: float) -> Points:
        """The half section at a level, shape (N, 2): x and y from the centre front to the centre back."""
        x, y = self.places(self.around, np.full(AROUND, z))
        return np.column_stack((x, y))

    def whole_section(self, z: float) -> Points:
        """The section at a level, both halves, shape (N, 2)."""
        half = self.section(z)
        return np.vstack((half, half[-2:0:-1] * (-1.0, 1.0)))

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
