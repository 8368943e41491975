"""One drawing in millimetres, recorded once and replayed to the screen, to PDF and to whatever comes after.

y points up. A stroke says what it is (its role), never how it looks: pens belong to the device that replays it.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, sin
from typing import Final, Literal, TypeAlias, get_args

import msgspec
import numpy as np
from msgspec.structs import replace

from core.geometry.placement import Placement
from core.geometry.planar import clipped
from core.geometry.polyline import Point, Points, as_points

Role: TypeAlias = Literal[
    "stitching line",
    "cutting line",
    "fold",
    "dart",
    "dart base",
    "level",
    "mark",
    "notch",
    "clip",
    "grain",
    "join arrow",
    "label",
    "edge name",
    "test square",
    "test square in inches",
    "test words",
    "page label",
    "frame",
    "trim line",
    "glue strip",
    "joining mark",
    "joining words",
    "ruler",
    "map line",
    "before",
    "after",
    "new line",
    "moved",
    "heading",
    "words",
]
ROLES: Final[tuple[Role, ...]] = get_args(Role)

Anchor: TypeAlias = Literal["start", "middle", "end"]
Box: TypeAlias = tuple[float, float, float, float]
"""Left, bottom, right, top in mm."""

GLYPH_WIDTH: Final = 0.58
"""Mean width of a glyph of the print's font as a share of its height: for keeping texts apart, not for setting them."""


class Stroke(msgspec.Struct, frozen=True, eq=False):
    """A line drawn along points (N, 2); `closed` joins the last to the first."""

    points: Points
    role: Role
    closed: bool = False


class Fill(msgspec.Struct, frozen=True, eq=False):
    """A loop (N, 2) that is filled."""

    points: Points
    role: Role


class Text(msgspec.Struct, frozen=True, eq=False):
    """One line of text whose baseline begins, is centred or ends at a place; `height` is the font's size in mm."""

    at: Point
    height: float
    text: str
    role: Role = "label"
    angle: float = 0.0
    anchor: Anchor = "middle"

    @property
    def width(self) -> float:
        """About how long the text is, in mm."""
        return GLYPH_WIDTH * self.height * len(self.text)

    @property
    def box(self) -> Points:
        """The four corners (4, 2) of about the room that the text takes."""
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        left, right = -shift * self.width, (1 - shift) * self.width
        low, high = -0.25 * self.height, 0.8 * self.height
        corners = np.array(((left, low), (right, low), (right, high), (left, high)))
        c, s = cos(self.angle), sin(self.angle)
        return as_points(corners @ np.array(((c, s), (-s, c))) + self.at)


Item: TypeAlias = Stroke | Fill | Text


class Drawing(msgspec.Struct, frozen=True, eq=False):
    """Items in the order in which they are drawn, later over earlier."""

    items: tuple[Item, ...] = ()

    def __add__(self, other: Drawing) -> Drawing:
        """Both drawings, the other on top."""
        return Drawing(self.items + other.items)

    def placed(self, placement: Placement) -> Drawing:
        """The drawing turned and shifted."""
        return Drawing(tuple(_placed(item, placement) for item in self.items))

    def scaled(self, factor: float) -> Drawing:
        """The drawing larger or smaller about the origin, its texts too."""
        return Drawing(tuple(_scaled(item, factor) for item in self.items))

    def strokes(self, *roles: Role) -> tuple[Stroke, ...]:
        """The strokes of some roles, or all of them."""
        return tuple(item for item in self.items if isinstance(item, Stroke) and (not roles or item.role in roles))

    def texts(self) -> tuple[Text, ...]:
        """All texts."""
        return tuple(item for item in self.items if isinstance(item, Text))

    def inside(self, box: Box) -> Drawing:
        """What lies inside a box: strokes cut at its border, whole texts that reach into it; fills are left out."""
        return Drawing(tuple(part for item in self.items for part in _inside(item, box)))


def _placed(item: Item, placement: Placement) -> Item:
    if isinstance(item, Text):
        return replace(item, at=placement.point(item.at), angle=item.angle + placement.angle)
    return replace(item, points=placement.points(item.points))


def _scaled(item: Item, factor: float) -> Item:
    if isinstance(item, Text):
        return replace(item, at=(factor * item.at[0], factor * item.at[1]), height=factor * item.height)
    return replace(item, points=as_points(factor * item.points))


def _inside(item: Item, box: Box) -> Iterable[Item]:
    if isinstance(item, Text):
        return [item] if _overlap(item.box, box) else []
    if isinstance(item, Fill):
        return []
    path = as_points(np.vstack((item.points, item.points[:1]))) if item.closed else item.points
    if not _overlap(path, box):
        return []
    if _within(path, box):
        return [item]
    return [Stroke(part, item.role) for part in clipped(path, box)]


def _overlap(points: Points, box: Box) -> bool:
    low, high = points.min(axis=0), points.max(axis=0)
    return bool(low[0] <= box[2] and high[0] >= box[0] and low[1] <= box[3] and high[1] >= box[1])


def _within(points: Points, box: Box) -> bool:
    low, high = points.min(axis=0), points.max(axis=0)
    return bool(low[0] >= box[0] and high[0] <= box[2] and low[1] >= box[1] and high[1] <= box[3])


def bounds(points: Points) -> Box:
    """The box round points (N, 2)."""
    (left, bottom), (right, top) = points.min(axis=0), points.max(axis=0)
    return (float(left), float(bottom), float(right), float(top))


def box_loop(box: Box) -> Points:
    """The four corners (4, 2) of a box, counter-clockwise."""
    left, bottom, right, top = box
    return as_points(((left, bottom), (right, bottom), (right, top), (left, top)))
