"""Geodesic polar coordinates against surfaces whose geodesics are known."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from core.form.fits import cubic_patch
from core.form.rays import Rays, rays_from
from core.form.surface import Surface, surface_through


def _sphere(radius: float, reach: float = 0.95) -> Surface:
    """A ball without its poles, up to a share of its radius."""
    z, t = np.linspace(-reach * radius, reach * radius, 201), np.linspace(0.0, np.pi, 121)
    across = np.sqrt(radius**2 - z**2)
    return surface_through(t, z, (np.sin(t)[:, None] * across, np.cos(t)[:, None] * across))


def _mound(height: float, foot: float) -> Rays:
    """Rays from the top of a mound h (1 - rho²)² on a flat chest; t is x there, and the surface is y over x and z."""
    x, z = np.linspace(-0.9, 3.1, 241), np.linspace(-220.0, 220.0, 221)
    rho = np.hypot((100.0 * x[:, None] - 110.0) / foot, z[None, :] / foot)
    out = height * np.clip(1.0 - rho**2, 0.0, None) ** 2
    wide = np.broadcast_to(100.0 * x[:, None] - 110.0, out.shape)
    return rays_from(Surface(cubic_patch(x, z, wide), cubic_patch(x, z, out), -220.0, 220.0), (1.1, 0.0), 90.0)


def _speed(s: float, height: float, foot: float) -> float:
    """How long the meridian of a mound is per millimetre of the chest, s from its middle."""
    return float(np.hypot(1.0, 4.0 * height * (1 - (s / foot) ** 2) * s / foot**2))


def test_geodesic_circles_on_a_sphere() -> None:
    """C(r) = 2 pi R sin(r / R), so the dart wanted is 2 pi (1 - sin x / x); chords of 144 lose 0.01 %."""
    rays = rays_from(_sphere(100.0), (1.0, 0.0), 80.0)
    for r in (20.0, 40.0, 80.0):
        step = int(r / 2)
        assert rays.circumference()[step] == pytest.approx(2 * np.pi * 100.0 * np.sin(r / 100.0), rel=1.2e-4)
        wanted = 2 * np.pi * (1 - np.sin(r / 100.0) / (r / 100.0))
        assert rays.dart_wanted()[step] == pytest.approx(wanted, abs=np.radians(0.05))


def test_a_cap_encloses_its_curvature_and_wants_its_dart() -> None:
    """A cap of base radius 70 and height 55: on its ball of 72.0 mm the rim encloses 274.8 degrees and wants 97.4.

    R = (a² + h²) / 2h, Kint = 2 pi h / R, d* = 2 pi (1 - sin x / x): formulas of the sphere, worked out by hand.
    """
    radius = (70.0**2 + 55.0**2) / (2.0 * 55.0)
    rim = radius * np.arccos(1.0 - 55.0 / radius)
    rays = rays_from(_sphere(radius, 0.992), (1.0, 0.0), rim + 4.0)
    enclosed = 2 * np.pi - np.gradient(rays.circumference(), rays.r)
    assert np.degrees(np.interp(rim, rays.r, enclosed)) == pytest.approx(274.8, abs=0.3)
    assert np.degrees(np.interp(rim, rays.r, rays.dart_wanted())) == pytest.approx(97.4, abs=0.1)


def test_dart_outside_a_mound_falls_with_distance() -> None:
    """On the flat chest outside the foot, r times the dart is 2 pi (meridian - foot), the meridian by quadrature."""
    height, foot = 20.0, 60.0
    rays = _mound(height, foot)
    meridian = quad(_speed, 0.0, foot, args=(height, foot))[0]
    for step in (38, 42):
        assert rays.r[step] * rays.dart_wanted()[step] == pytest.approx(2 * np.pi * (meridian - foot), abs=0.25)


def test_rays_run_at_unit_speed() -> None:
    """The distance along each ray is what r says."""
    rays = rays_from(_sphere(100.0), (1.0, 20.0), 60.0)
    run = np.linalg.norm(np.diff(rays.places, axis=1), axis=2).sum(axis=1)
    assert np.allclose(run, rays.r[-1], atol=0.01)


def test_places_between_rays_lie_on_the_surface() -> None:
    """Halfway between two rays and two steps the place is still on the sphere, to a twentieth of a millimetre."""
    rays = rays_from(_sphere(100.0), (1.0, 0.0), 60.0)
    _, _, places = rays.at(np.array([0.11, 1.234, 5.9]), np.array([11.0, 33.0, 51.0]))
    assert np.allclose(np.linalg.norm(places, axis=1), 100.0, atol=0.05)


def test_direction_of_a_place_on_a_ray() -> None:
    """What `at` places, `direction_of` finds again."""
    rays = rays_from(_sphere(100.0), (1.0, 0.0), 60.0)
    _, _, places = rays.at(rays.phi[[17]], np.array([40.0]))
    phi, r, off = rays.direction_of(places[0])
    assert (phi, r) == pytest.approx((rays.phi[17], 40.0))
    assert off < 1e-6
