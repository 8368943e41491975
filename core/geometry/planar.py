"""The one door to shapely: whether loops are simple, what lies inside what, areas shared, distances."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as PlanePoint

from core.geometry.polyline import Point, Points, as_point, as_points


def is_simple(path: Points) -> bool:
    """Whether an open polyline (N, 2) nowhere crosses or touches itself."""
    return bool(LineString(path).is_simple)


def is_simple_loop(loop: Points) -> bool:
    """Whether a closed loop (N, 2), given without its repeated last point, nowhere crosses or touches itself."""
    return bool(shapely.LinearRing(loop).is_simple)


def self_crossing(path: Points) -> Point | None:
    """A place where an open polyline crosses itself, or None."""
    line = LineString(path)
    if line.is_simple:
        return None
    noded = shapely.node(line)
    seen: dict[Point, int] = {}
    for part in shapely.get_parts(noded):
        for end in (part.coords[0], part.coords[-1]):
            seen[as_point(end)] = seen.get(as_point(end), 0) + 1
    return max(seen, key=lambda place: seen[place])


def distance_into(loop: Points, place: ArrayLike) -> float:
    """How far a point lies inside a loop, in mm; negative outside."""
    polygon, point = Polygon(loop), PlanePoint(as_point(place))
    off = float(polygon.exterior.distance(point))
    return off if polygon.contains(point) else -off


def depths(loop: Points, places: Points) -> NDArray[np.float64]:
    """How far each of many points (M, 2) lies inside a loop, shape (M,), in mm; negative outside."""
    polygon = Polygon(loop)
    points = shapely.points(places)
    off = shapely.distance(polygon.exterior, points)
    return np.where(shapely.contains(polygon, points), off, -off)


def covers(loop: Points, place: ArrayLike) -> bool:
    """Whether a point lies inside or on the loop."""
    return bool(Polygon(loop).covers(PlanePoint(as_point(place))))


def area(loop: Points) -> float:
    """Area in mm² of a simple loop, by shapely: the independent check on the core's own sums."""
    return float(Polygon(loop).area)


def shared_area(first: Points, second: Points) -> float:
    """Area in mm² that two simple loops have in common."""
    return float(Polygon(first).intersection(Polygon(second)).area)


def inside_path(loop: Points, path: Points, *, slack: float) -> bool:
    """Whether a polyline stays inside the loop, up to `slack` mm outside it."""
    return float(LineString(path).difference(Polygon(loop).buffer(slack)).length) <= slack


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


def clipped(path: Points, box: tuple[float, float, float, float]) -> list[Points]:
    """The parts of a polyline inside a box (left, bottom, right, top), each (N, 2)."""
    found = shapely.clip_by_rect(LineString(path), *box)
    lines = [part for part in shapely.get_parts(found) if part.geom_type == "LineString" and part.length > 0]
    return [as_points(part.coords) for part in lines]
