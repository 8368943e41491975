"""Changes to a drawn line as plain functions from step to step; what the mouse, the keys and the tests call alike."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from app.canvas.snaps import Snap
from core.geometry.polyline import Point, Points, as_points, nearest, point_at
from core.pieces.names import free_name
from core.pieces.records import Garment, LinePurpose, Piece
from core.steps.mapping import landmarks_of, placed_points
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine

NAMES: dict[LinePurpose, str] = {"sheer": "sheer_line", "panel": "panel_seam", "mark": "mark", "level": "level"}

ONE_SPOT = 0.05
"""mm: a second click this near the last point is a slip of the finger, not a point."""


def rebased(garment: Garment, step: StyleLine) -> StyleLine:
    """The line with its points where they lie now, stored beside the landmarks now. Refusal as for the step."""
    piece = garment.piece(step.piece)
    at = placed_points(garment, piece, step.points, step.drawn_on, folded=step.folded)
    points = tuple(msgspec.structs.replace(p, x=x, y=y) for p, (x, y) in zip(step.points, at, strict=True))
    return msgspec.structs.replace(step, points=points, drawn_on=landmarks_of(piece))


def line_point(at: Point | Snap, *, corner: bool = False) -> LinePoint:
    """A point where the pointer is, or where it snapped to."""
    if isinstance(at, Snap):
        return LinePoint(*at.at, corner=corner, landmark=at.landmark, place=at.place)
    return LinePoint(at[0], at[1], corner=corner)


def with_point_at(step: StyleLine, index: int, at: Point | Snap) -> StyleLine:
    """The line with one point put somewhere else; a corner stays a corner."""
    moved = line_point(at, corner=step.points[index].corner)
    return _with_points(step, (*step.points[:index], moved, *step.points[index + 1 :]))


def with_point_after(step: StyleLine, index: int, at: Point) -> StyleLine:
    """The line with a new point between point `index` and the next."""
    return _with_points(step, (*step.points[: index + 1], LinePoint(*at), *step.points[index + 1 :]))


def without_point(step: StyleLine, index: int) -> StyleLine:
    """The line without one point; the step refuses it when too few are left."""
    return _with_points(step, (*step.points[:index], *step.points[index + 1 :]))


def with_corner_turned(step: StyleLine, index: int) -> StyleLine:
    """The line with a point made a corner, or smooth again."""
    point = step.points[index]
    turned = msgspec.structs.replace(point, corner=not point.corner)
    return _with_points(step, (*step.points[:index], turned, *step.points[index + 1 :]))


def _with_points(step: StyleLine, points: tuple[LinePoint, ...]) -> StyleLine:
    return msgspec.structs.replace(step, points=points)


def place_on_curve(curve: Points, points: Sequence[Point], at: Point) -> tuple[int, Point, float]:
    """The point of the curve nearest to a place: after which placed point it lies, where, and how far off, in mm."""
    along, off = nearest(curve, at)
    passed = [index for index, point in enumerate(points) if nearest(curve, point)[0] <= along]
    return min(max(passed, default=0), len(points) - 2), point_at(curve, along), off


def half_way(curve: Points, points: Sequence[Point], index: int) -> Point:
    """The point of the curve half way between point `index` and the next, or the one before for the last."""
    after = min(index + 1, len(points) - 1)
    first = after - 1
    ends = [nearest(curve, points[i])[0] for i in (first, after)]
    return point_at(curve, sum(ends) / 2)


def straight(points: Sequence[Point]) -> Points:
    """The points joined by straight lines: what is shown while no fair curve goes through them."""
    return as_points(points)


def fresh_line_name(garment: Garment, piece: Piece, purpose: LinePurpose) -> str:
    """A name that no line or edge has yet: "front.sheer_line", then "front.sheer_line_2"."""
    base = f"{piece.name}.{NAMES[purpose]}"
    return free_name(base, set(garment.origins) | {line.name for line in piece.lines}, joint="_")
