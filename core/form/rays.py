"""Geodesic polar coordinates: straightest lines on a surface from the bust point, in every direction.

*r* is the distance from the bust point along such a ray, *phi* its direction there: 0 level towards the centre front,
rising over the top to the side, as closed angles on the block are counted. Along a ray cloth and body agree in length;
across the rays they do not, and that difference is what a dart, a gape or a strain is.
"""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray

from core.form.surface import Slopes, Surface

Values = NDArray[np.float64]

DIRECTIONS: Final = 144
STEP: Final = 2.0
"""Millimetres between two places of a ray: 4 mm is too far where the bridged surface bends (measured)."""

AROUND: Final = 6.0
"""Millimetres within which a ray comes to a place: rays lie no farther apart than twice this where they are read."""


class Rays(msgspec.Struct, frozen=True, eq=False):
    """Places of the rays: phi (P,), r (R,), t and z (P, R), and in space (P, R, 3)."""

    phi: Values
    r: Values
    t: Values
    z: Values
    places: Values

    def circumference(self) -> Values:
        """The length (R,) of each geodesic circle, mm, where all rays reach so far."""
        steps = np.roll(self.places, -1, axis=0) - self.places
        sums: Values = np.linalg.norm(steps, axis=2).sum(axis=0)
        return sums

    def dart_wanted(self) -> Values:
        """The dart (R,) that an edge at each distance wants: 2 pi - C(r) / r, radians (Gauss and Bonnet).

        0 at the bust point, NaN where not all rays reach so far.
        """
        far = np.maximum(self.r, STEP)
        wanted = np.where(self.r > 0.0, 2.0 * np.pi - self.circumference() / far, 0.0)
        return np.where(self.r <= self.whole_reach, wanted, np.nan)

    @property
    def whole_reach(self) -> float:
        """The distance (mm) to which every ray runs."""
        moves = np.abs(np.diff(self.t, axis=1)) + np.abs(np.diff(self.z, axis=1))
        stopped = (moves == 0.0).any(axis=0)
        return float(self.r[int(np.argmax(stopped)) if stopped.any() else -1])

    def at(self, phi: Values, r: Values) -> tuple[Values, Values, Values]:
        """t, z, each (N,), and places (N, 3) of the surface at directions and distances, between rays in proportion."""
        turn = np.mod(phi - self.phi[0], 2.0 * np.pi) / (2.0 * np.pi) * len(self.phi)
        ray = turn.astype(int) % len(self.phi)
        step = np.clip(r / (self.r[1] - self.r[0]), 0.0, len(self.r) - 1.001)
        out = step.astype(int)
        a, b = turn - np.floor(turn), step - out
        after = (ray + 1) % len(self.phi)
        corners = (
            *((ray, out, (1 - a) * (1 - b)), (after, out, a * (1 - b))),
            *((ray, out + 1, (1 - a) * b), (after, out + 1, a * b)),
        )
        t = sum((w * self.t[i, j] for i, j, w in corners), np.zeros(len(r)))
        z = sum((w * self.z[i, j] for i, j, w in corners), np.zeros(len(r)))
        places = sum((w[:, None] * self.places[i, j] for i, j, w in corners), np.zeros((len(r), 3)))
        return t, z, places

    def direction_of(self, place: Values) -> tuple[float, float, float]:
        """phi and r at which the rays come to a place (3,), and how far off (mm) the nearest ray's own place lies.

        Where rays come to it by several ways, as over and round the shoulder, the shortest is taken.
        """
        off = np.linalg.norm(self.places - place, axis=2)
        # No honest ray is shorter than the straight way: one that lost its way at the end of the surface is left out.
        off[np.linalg.norm(self.places - self.places[0, 0], axis=2) > self.r + 1.0] = np.inf
        shortest = np.argmax((off <= off.min() + AROUND).any(axis=0))
        last = min(int(shortest + AROUND / STEP) + 1, len(self.r))
        ray, step = np.unravel_index(int(np.argmin(off[:, :last])), off[:, :last].shape)
        turn, on = self._within(int(ray), int(step), place)
        return float((self.phi[ray] + turn) % (2.0 * np.pi)), float(self.r[step] + on), float(off[ray, step])

    def _within(self, ray: int, step: int, place: Values) -> tuple[float, float]:
        """How much further round (radians) and out (mm) a place lies than the ray's place next to it."""
        count, high = len(self.phi), min(step + 1, len(self.r) - 1)
        low = max(high - 2, 0)
        out = (self.places[ray, high] - self.places[ray, low]) / (self.r[high] - self.r[low])
        gap = self.places[(ray + 1) % count, step] - self.places[ray - 1, step]
        wide = float(np.linalg.norm(gap))
        short = place - self.places[ray, step]
        if wide < 1e-6 or np.linalg.norm(out) < 0.5:  # the bust point itself, or a ray that stopped
            return 0.0, 0.0
        return float(short @ gap / wide**2) * 4.0 * np.pi / count, float(short @ out)


def rays_from(surface: Surface, start: tuple[float, float], reach: float) -> Rays:
    """Rays from (t, z) out to a distance in mm, by the classical fourth-order rule of Runge and Kutta.

    A ray that comes to the end of the surface stays there.
    """
    phi = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
    r = np.array([STEP * step for step in range(int(reach / STEP) + 1)], dtype=np.float64)
    state = _begun(surface, start, phi)
    kept = [state[:, :2]]
    for _ in r[1:]:
        state = _stepped(surface, state)
        kept.append(state[:, :2])
    run = np.stack(kept, axis=1)
    flat = run.reshape(-1, 2)
    places = surface.places(flat[:, 0], flat[:, 1]).reshape(DIRECTIONS, len(r), 3)
    return Rays(phi, r, run[:, :, 0], run[:, :, 1], places)


def _begun(surface: Surface, start: tuple[float, float], phi: Values) -> Values:
    """t, z and their rates (P, 4) of rays that set out at unit speed."""
    t, z = (np.full(len(phi), value) for value in start)
    slopes = surface.slopes(t, z)
    inwards = -slopes.by_t / np.linalg.norm(slopes.by_t, axis=1, keepdims=True)
    upwards = slopes.by_z - inwards * np.sum(slopes.by_z * inwards, axis=1, keepdims=True)
    upwards /= np.linalg.norm(upwards, axis=1, keepdims=True)
    way = np.cos(phi)[:, None] * inwards + np.sin(phi)[:, None] * upwards
    rate_t, rate_z = _in_surface(slopes, way)
    return np.column_stack((t, z, rate_t, rate_z))


def _in_surface(slopes: Slopes, way: Values) -> tuple[Values, Values]:
    """The tangent part of directions (N, 3) as amounts of the derivatives by t and by z."""
    e, f, g = (np.sum(a * b, axis=1) for a, b in _pairs(slopes))
    on_t, on_z = np.sum(way * slopes.by_t, axis=1), np.sum(way * slopes.by_z, axis=1)
    whole = e * g - f * f
    return (g * on_t - f * on_z) / whole, (e * on_z - f * on_t) / whole


def _pairs(slopes: Slopes) -> tuple[tuple[Values, Values], tuple[Values, Values], tuple[Values, Values]]:
    return (slopes.by_t, slopes.by_t), (slopes.by_t, slopes.by_z), (slopes.by_z, slopes.by_z)


def _rate(surface: Surface, state: Values) -> Values:
    """How t, z and their rates change along rays: the surface's own bending is taken out of the way they run."""
    t, z, rate_t, rate_z = state.T
    slopes = surface.slopes(t, z)
    bend = slopes.by_tt * (rate_t**2)[:, None] + 2.0 * slopes.by_tz * (rate_t * rate_z)[:, None]
    bend = bend + slopes.by_zz * (rate_z**2)[:, None]
    turn_t, turn_z = _in_surface(slopes, bend)
    return np.column_stack((rate_t, rate_z, -turn_t, -turn_z))


def _stepped(surface: Surface, state: Values) -> Values:
    first = _rate(surface, state)
    second = _rate(surface, state + STEP / 2.0 * first)
    third = _rate(surface, state + STEP / 2.0 * second)
    fourth = _rate(surface, state + STEP * third)
    after = state + STEP / 6.0 * (first + 2.0 * second + 2.0 * third + fourth)
    is_on = (after[:, 1] > surface.low) & (after[:, 1] < surface.high) & (np.abs(after[:, 0] - 1.1) < 1.9)
    stays = np.column_stack((state[:, :2], np.zeros((len(state), 2))))
    return np.where(is_on[:, None], after, stays)
