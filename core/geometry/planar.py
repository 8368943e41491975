"""The one door to shapely: whether loops are simple, what lies inside what, areas shared, distances."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as PlanePoint
from shapely.geometry.base import BaseGeometry

from core.geometry.polyline import Pair, Point, Points, as_point, as_points
from core.geometry.tolerances import SAME_POINT

CRACK = 1e-4
"""Loops laid together that are less than twice this (mm) apart hang together: far below what can be drawn."""


def _line(path: Points) -> LineString:
    """A line made of an array as it is, without the looking into it that the class's own making takes."""
    line = shapely.linestrings(path)
    assert isinstance(line, LineString)
    return line


def is_simple(path: Points) -> bool:
    """Whether an open polyline (N, 2) nowhere crosses or touches itself."""
    return bool(_line(path).is_simple)


def is_simple_loop(loop: Points) -> bool:
    """Whether a closed loop (N, 2), given without its repeated last point, nowhere crosses or touches itself."""
    return bool(shapely.is_simple(shapely.linearrings(loop)))


def distance_into(loop: Points, place: Pair) -> float:
    """How far a point lies inside a loop, in mm; negative outside."""
    polygon, point = Polygon(loop), PlanePoint(as_point(place))
    off = float(polygon.exterior.distance(point))
    return off if polygon.contains(point) else -off


def inside(loop: Points, places: Points, *, slack: float = 0.0) -> NDArray[np.bool_]:
    """Which of many points (M, 2) lie inside a loop, or no farther outside it than `slack` mm; shape (M,)."""
    within: NDArray[np.bool_] = inside_each((loop,), places, slack=slack)[0]
    return within


def inside_each(loops: Sequence[Points], places: Points, *, slack: ArrayLike = 0.0) -> NDArray[np.bool_]:
    """Which of many points (M, 2) lie inside each of some loops, or no farther outside it than `slack`; (L, M).

    `slack` is in mm, one for all points or one a point.
    """
    polygons = np.asarray(shapely.polygons(np.array([shapely.linearrings(loop) for loop in loops])))
    shapely.prepare(polygons)
    within = np.asarray(shapely.contains_xy(polygons[:, None], places[:, 0], places[:, 1]), dtype=np.bool_)
    reach = np.broadcast_to(np.asarray(slack, dtype=np.float64), len(places))
    owners, near = np.nonzero(~within & (reach > 0.0))
    if len(owners):
        within[owners, near] = shapely.distance(polygons[owners], shapely.points(places[near])) <= reach[near]
    return within


def covers(loop: Points, place: Pair) -> bool:
    """Whether a point lies inside or on the loop."""
    return bool(Polygon(loop).covers(PlanePoint(as_point(place))))


def area(loop: Points) -> float:
    """Area in mm² of a simple loop, by shapely: the independent check on the core's own sums."""
    return float(Polygon(loop).area)


def perimeter(loop: Points) -> float:
    """Length in mm once round a loop, by shapely: the independent check on the core's own sums."""
    return float(shapely.LinearRing(loop).length)


def shared_area(first: Points, second: Points) -> float:
    """Area in mm² that two simple loops have in common."""
    return float(Polygon(first).intersection(Polygon(second)).area)


def inside_path(loop: Points, path: Points, *, slack: float) -> bool:
    """Whether a polyline stays inside the loop, up to `slack` mm outside it."""
    polygon = Polygon(loop)
    outside = _line(path).difference(polygon)
    if outside.is_empty:
        return True
    # The ends of what lies outside are on the outline itself: how far it strays shows only between them.
    places = shapely.get_coordinates(shapely.segmentize(outside, max(slack, 1.0)))
    return bool(shapely.distance(polygon, shapely.points(places)).max() <= slack)


def touches_outline(loop: Points, path: Points, *, within: float) -> bool:
    """Whether a polyline (N, 2), once it is farther than `within` (mm) from a loop's outline, comes back and leaves it.

    What of it lies at the outline at either end does not count, nor what passes by between its points.
    """
    outline = shapely.linearrings(loop)
    shapely.prepare(outline)

    def at_end(places: Points) -> int:
        """How many points lie at the outline before the first that does not."""
        away = (n for n, place in enumerate(places) if not shapely.dwithin(outline, shapely.points(place), within))
        return next(away, len(places))

    between = path[at_end(path) : len(path) - at_end(path[::-1])]
    return bool(shapely.dwithin(outline, shapely.MultiPoint(between), within))


def inner_point(loop: Points) -> Point:
    """A point well inside a simple loop (the pole of inaccessibility to 1 mm)."""
    pole = shapely.maximum_inscribed_circle(Polygon(loop), tolerance=1.0)
    return as_point(pole.coords[0])


def distance_between(first: Points, second: Points) -> float:
    """Smallest distance in mm between two polylines."""
    return float(LineString(first).distance(LineString(second)))


def farthest_apart(first: Points, second: Points) -> float:
    """Hausdorff distance in mm between two polylines."""
    return float(shapely.hausdorff_distance(LineString(first), LineString(second), densify=0.25))


def meetings(paths: Sequence[Points], other: Points) -> list[list[float]]:
    """For each of many polylines the distances along it, rising, at which another polyline crosses or touches it (mm).

    Where both run along each other, the ends of the common stretch.
    """
    counts = [len(path) for path in paths]
    owner_of_point = np.repeat(np.arange(len(paths)), counts)
    lines = np.asarray(shapely.linestrings(np.concatenate(paths), indices=owner_of_point))
    common = shapely.intersection(lines, _line(other))
    places, owners = shapely.get_coordinates(common, return_index=True)
    along = shapely.line_locate_point(lines[owners], shapely.points(places))
    found: list[list[float]] = [[] for _ in paths]
    for owner, distance in sorted(zip(owners.tolist(), along.tolist(), strict=True)):
        found[owner].append(distance)
    return found


def clipped(path: Points, box: tuple[float, float, float, float]) -> list[Points]:
    """The parts of a polyline inside a box (left, bottom, right, top), each (N, 2)."""
    found = shapely.clip_by_rect(LineString(path), *box)
    lines = [part for part in shapely.get_parts(found) if part.length > 0.0]
    return [as_points(part.coords) for part in lines]


def outer_loop(more: Sequence[Points], less: Sequence[Points] = ()) -> Points:
    """The outer loop (N, 2), counter-clockwise, of simple loops laid together and others taken away from them.

    Holes are filled; of parts that do not hang together the largest counts. Points are settled on a grid of 1e-6 mm, so
    that no crack stays open between sides that are the same but for rounding; on a coarser one, or none, where GEOS
    cannot put the result together on that.
    """
    for grid in (SAME_POINT, 10 * SAME_POINT, 100 * SAME_POINT):
        try:
            return _outer_loop(more, less, grid)
        except shapely.GEOSException:
            continue
    return _outer_loop(more, less, None)


def _outer_loop(more: Sequence[Points], less: Sequence[Points], grid: float | None) -> Points:
    whole = shapely.union_all([Polygon(loop) for loop in more], grid_size=grid)
    if less:
        whole = shapely.difference(whole, shapely.union_all([Polygon(loop) for loop in less]), grid_size=grid)
    # Where sides are the same but for rounding a crack may be left, as thin as the grid: it is closed.
    whole = whole.buffer(CRACK, join_style="mitre").buffer(-CRACK, join_style="mitre")
    parts = [part for part in shapely.get_parts(whole) if isinstance(part, Polygon)]
    largest = max(parts, key=lambda part: float(part.area))
    ring = shapely.get_coordinates(largest.exterior)[:-1]
    return as_points(ring if largest.exterior.is_ccw else ring[::-1])


def roomiest(
    loop: Points,
    without: Sequence[Points] = (),
    *,
    lines: Sequence[Points] = (),
    clear: float = 1.0,
    box: tuple[float, float, float, float] | None = None,
) -> tuple[Point, float]:
    """The middle and radius (mm, to 1 mm) of the largest circle inside a loop.

    It keeps out of the loops in `without`, `clear` mm away from the polylines in `lines`, and inside the box (left,
    bottom, right, top) where there is one. The radius is 0 where nothing is left.
    """
    whole = _less(Polygon(loop), without)
    if lines:
        drawn = shapely.MultiLineString([LineString(line) for line in lines])
        whole = whole.difference(drawn.buffer(clear, quad_segs=1))
    if box is not None:
        whole = whole.intersection(shapely.box(*box))
    parts = [part for part in shapely.get_parts(whole) if part.geom_type == "Polygon" and part.area > 1.0]
    if not parts:
        return as_point(loop[0]), 0.0
    best = max((shapely.maximum_inscribed_circle(part, tolerance=1.0) for part in parts), key=lambda line: line.length)
    return as_point(best.coords[0]), float(best.length)


def stretch_inside(loop: Points, path: Points, place: Pair, without: Sequence[Points] = ()) -> Points | None:
    """The stretch of a straight line (2, 2) inside a loop, and outside the loops `without`, on which a place lies."""
    cut = _less(LineString(path).intersection(Polygon(loop)), without)
    point = PlanePoint(as_point(place))
    for part in shapely.get_parts(cut):
        if part.geom_type == "LineString" and part.distance(point) < 1e-6:
            return as_points(part.coords)
    return None


def _less(whole: BaseGeometry, without: Sequence[Points]) -> BaseGeometry:
    for other in without:
        whole = whole.difference(Polygon(other))
    return whole


def grown(loop: Points, by: float, *, slack: float) -> Points:
    """The outline (N, 2) of all places within `by` mm of a simple loop, in as few points as `slack` mm allows.

    Places nearer than `by - slack` are all inside it. Corners become round, and what closes over is filled.
    """
    chords = by * (1.0 - cos(pi / 32.0))  # by so much the eight chords of a quarter circle cut its round off
    whole = Polygon(loop).buffer(by, quad_segs=8).simplify(max(slack - chords, 0.0))
    assert isinstance(whole, Polygon), "what is grown hangs together"
    ring = shapely.get_coordinates(whole.exterior)[:-1]
    return as_points(ring if whole.exterior.is_ccw else ring[::-1])
