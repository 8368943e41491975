"""Random outlines with random allowances, and the law of the cutting line measured on them by shapely alone.

The law (a project rule): outside every run the cutting line keeps at least the run's allowance, and exactly that where
neither a hollow nor another run is in the way; it never crosses itself.
"""

from __future__ import annotations

from itertools import pairwise
from typing import get_args

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray
from shapely import LinearRing, LineString, Polygon, points

from core.geometry.margins import EndKind, Margin
from core.geometry.polyline import Points, as_points

SLACK = 0.05
ALLOWANCES = (0.0, 3.0, 6.0, 12.7, 15.9, 25.4, 38.0)


@st.composite
def outlines(draw: st.DrawFn) -> list[Margin]:
    """Three to nine runs round a point, straight, bulging or waved with tight hollows, with allowances and ends."""
    count = draw(st.integers(3, 9))
    turns = np.linspace(0.0, 2 * np.pi, count, endpoint=False) + np.array(
        [draw(st.floats(-0.3, 0.3)) * 2 * np.pi / count for _ in range(count)]
    )
    radii = np.array([draw(st.floats(60.0, 260.0)) for _ in range(count)])
    corners = radii[:, None] * np.column_stack((np.cos(turns), np.sin(turns)))
    return [
        Margin(
            draw(_runs(corners[k], corners[(k + 1) % count])),
            draw(st.sampled_from(ALLOWANCES)),
            ends=(draw(_ENDS), draw(_ENDS)),
        )
        for k in range(count)
    ]


_ENDS = st.sampled_from(get_args(EndKind))


@st.composite
def _runs(draw: st.DrawFn, start: NDArray[np.float64], stop: NDArray[np.float64]) -> Points:
    """A run from corner to corner: straight, one bulge, or waves of up to 9 mm."""
    kind = draw(st.sampled_from(("straight", "bulge", "waves")))
    if kind == "straight":
        return as_points((start, stop))
    along = stop - start
    size = float(np.hypot(*along))
    aside = np.array((along[1], -along[0])) / size
    share = np.linspace(0.0, 1.0, max(int(size / 1.0), 24))
    if kind == "bulge":
        off = draw(st.floats(-0.3, 0.3)) * size * 4 * share * (1 - share)
    else:
        waves = draw(st.integers(1, max(int(size / 40), 1)))
        off = draw(st.floats(-9.0, 9.0)) * np.sin(np.pi * waves * share)
    run = start + share[:, None] * along + off[:, None] * aside
    run[0], run[-1] = start, stop
    return as_points(run)


def is_outline(margins: list[Margin]) -> bool:
    """Whether the runs make a simple loop: others are no pattern piece."""
    ring = LinearRing(np.vstack([margin.points[:-1] for margin in margins]))
    return bool(ring.is_simple and ring.is_ccw)


def faults(margins: list[Margin], loop: Points) -> list[str]:
    """What breaks the law, in words; nothing for a good cutting line."""
    ring = LinearRing(loop)
    if not ring.is_simple or not ring.is_ccw:
        return ["crosses itself" if not ring.is_simple else "runs clockwise"]
    found = []
    outline = Polygon(np.vstack([margin.points[:-1] for margin in margins]))
    if not Polygon(loop).buffer(1e-5).covers(outline):
        found.append("cuts into the piece")
    line = LineString(loop)
    for index, margin in enumerate(margins):
        off = np.atleast_1d(line.distance(points(_at_least(margins, index))))
        if len(off) and off.min() < margin.distance - SLACK:
            found.append(f"run {index} has {off.min():.2f} of {margin.distance}")
        there = np.atleast_1d(line.distance(points(_exactly(margins, index))))
        if len(there) and there.max() > SLACK:
            found.append(f"run {index} is {there.max():.2f} away from where it should be")
    return found


def _stations(margin: Margin) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Places about 2 mm apart on a run, and the outward normals there."""
    spans = np.diff(margin.points, axis=0)
    sizes = np.hypot(*spans.T)
    places, normals = [], []
    for (start, span), size in zip(zip(margin.points, spans, strict=False), sizes, strict=True):
        for share in (np.arange(max(int(size / 2.0), 1)) + 0.5) / max(int(size / 2.0), 1):
            places.append(start + share * span)
            normals.append(np.array((span[1], -span[0])) / size)
    return np.array(places), np.array(normals)


def _corner_places(margins: list[Margin]) -> list[tuple[NDArray[np.float64], float, float]]:
    """Every corner, the smaller allowance at it, and how far the larger one may suffer from that.

    The smaller one's line, going on, is at most twice the larger allowance long, more beside a bulge; at a corner of
    a sharp inner angle t it comes nearer to the other run than the larger allowance for `(larger - smaller) / sin t`.
    """
    rows = []
    for before, after in pairwise((margins[-1], *margins)):
        low, high = sorted((before.distance, after.distance))
        arriving, leaving = np.diff(before.points[-2:], axis=0)[0], np.diff(after.points[:2], axis=0)[0]
        turn = np.arctan2(arriving[0] * leaving[1] - arriving[1] * leaving[0], arriving @ leaving)
        rows.append(
            (after.points[0], low, max(2.5 * high, 2.0 * high / max(abs(np.sin(turn)), 1e-3) * (turn > 2.0)) + 0.5)
        )
    return rows


def _at_least(margins: list[Margin], index: int) -> NDArray[np.float64]:
    """The places of a run that must have its allowance: not those near a corner to a run with a smaller one."""
    margin = margins[index]
    places, _ = _stations(margin)
    free = np.ones(len(places), dtype=bool)
    for corner, low, reach in _corner_places(margins):
        if low < margin.distance:
            free &= np.hypot(*(places - corner).T) > reach
    kept: NDArray[np.float64] = places[free]
    return kept


def _exactly(margins: list[Margin], index: int) -> NDArray[np.float64]:
    """Places at the allowance square outside a run that no hollow, corner or other run hinders."""
    margin = margins[index]
    places, normals = _stations(margin)
    there = places + margin.distance * normals
    at = points(there)
    free = LineString(margin.points).distance(at) >= margin.distance - 0.01
    widest = max(other.distance for other in margins)
    for other in margins:
        if other is not margin:
            free &= LineString(other.points).distance(at) > other.distance + 1.0
    for corner, _, reach in _corner_places(margins):
        free &= np.hypot(*(there - corner).T) > max(3.0 * widest + 1.0, reach)
    kept: NDArray[np.float64] = there[free]
    return kept
