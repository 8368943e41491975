"""A form's surface as smooth functions of t and z: the skin, and the skin with the hollow between the busts bridged."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.form.fits import Bends, Patch, bends, cubic_patch
from core.form.sections import Sections

Values = NDArray[np.float64]

BEYOND: Final = 40
"""Samples beyond the centre front and the centre back, mirrored, so that the surface runs on smoothly there."""

AROUND: Final = 121
UPWARDS: Final = 201


class Slopes(msgspec.Struct, frozen=True, eq=False):
    """Derivatives of a surface by t and z, first and second, each (N, 3)."""

    by_t: Values
    by_z: Values
    by_tt: Values
    by_tz: Values
    by_zz: Values


class Surface(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """x and y (mm) over t and z as cubic splines."""

    x: Patch
    y: Patch
    low: float
    high: float

    def places(self, t: Values, z: Values) -> Values:
        """The places (N, 3) at t and z, each (N,)."""
        return np.column_stack((self.x.ev(t, z), self.y.ev(t, z), z))

    def slopes(self, t: Values, z: Values) -> Slopes:
        """Derivatives at t and z, each (N,)."""
        by_t, by_z, by_tt, by_tz, by_zz = (_in_space(found) for found in self._bends(t, z))
        by_z[:, 2] = 1.0
        return Slopes(by_t, by_z, by_tt, by_tz, by_zz)

    def outwards(self, t: Values, z: Values) -> Values:
        """The outward unit normals (N, 3) at t and z, each (N,)."""
        slopes = self.slopes(t, z)
        out = np.cross(slopes.by_z, slopes.by_t)
        return np.asarray(out / np.linalg.norm(out, axis=1, keepdims=True))

    @cached_property
    def _bends(self) -> Callable[[Values, Values], Bends]:
        return bends((self.x, self.y))


def _in_space(flat: Values) -> Values:
    """Derivatives of x and y (N, 2) as such of a place (N, 3), its third part nought."""
    return np.column_stack((flat, np.zeros(len(flat))))


def skin(sections: Sections) -> Surface:
    """The body itself."""
    return _surface(sections, is_bridged=False)


def bridged(sections: Sections) -> Surface:
    """The body as an edge lies on it that is stretched across the hollow between the busts, level by level."""
    return _surface(sections, is_bridged=True)


def _surface(sections: Sections, *, is_bridged: bool) -> Surface:
    levels = sections.figure.levels()
    z = np.linspace(levels[0], levels[-1], UPWARDS)
    t = np.linspace(0.0, np.pi, AROUND)
    x, y = sections.places(t[:, None], z[None, :])
    if is_bridged:
        front = slice(0, AROUND // 2 + 1)
        y[front] = np.maximum.accumulate(y[front][::-1], axis=0)[::-1]
    return surface_through(t, z, (x, y))


def surface_through(t: Values, z: Values, grid: tuple[Values, Values]) -> Surface:
    """The surface through x and y, each (T, Z), given from centre front to centre back and mirrored beyond both."""
    x, y = grid
    before, after = slice(BEYOND, 0, -1), slice(-2, -BEYOND - 2, -1)
    wide_t = np.concatenate((-t[before], t, 2.0 * t[-1] - t[after]))
    wide_x = np.vstack((-x[before], x, -x[after]))
    wide_y = np.vstack((y[before], y, y[after]))
    return Surface(cubic_patch(wide_t, z, wide_x), cubic_patch(wide_t, z, wide_y), float(z[0]), float(z[-1]))
