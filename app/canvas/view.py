"""The way from millimetres on the table (y up) to pixels in the widget (y down), and back."""

from __future__ import annotations

from typing import Final, TypeAlias

import msgspec
from msgspec.structs import replace

from core.geometry.polyline import Point

LEAST_ZOOM: Final = 0.05
MOST_ZOOM: Final = 64.0
"""5 % to 6400 % of true size: from a whole lay at a glance to a twentieth of a millimetre under the pointer."""

Box: TypeAlias = tuple[float, float, float, float]
"""Left, bottom, right, top in mm, y up."""


class View(msgspec.Struct, frozen=True):
    """`zoom` 1 is true size, `true` pixels per mm then; (`left`, `top`) in mm lies at the widget's corner."""

    zoom: float = 1.0
    true: float = 3.78
    left: float = 0.0
    top: float = 0.0

    @property
    def scale(self) -> float:
        """Pixels per millimetre."""
        return self.zoom * self.true

    def to_pixels(self, place: Point) -> Point:
        """Where a place in mm lies in the widget."""
        return ((place[0] - self.left) * self.scale, (self.top - place[1]) * self.scale)

    def to_mm(self, pixel: Point) -> Point:
        """The place in mm under a pixel."""
        return (self.left + pixel[0] / self.scale, self.top - pixel[1] / self.scale)

    def zoomed(self, factor: float, at: Point) -> View:
        """The view with its zoom multiplied, within limits; the place under the pixel `at` stays there."""
        return self.with_zoom(self.zoom * factor, at)

    def with_zoom(self, zoom: float, at: Point) -> View:
        """The view at a zoom, within limits; the place under the pixel `at` stays there."""
        here = self.to_mm(at)
        nearer = replace(self, zoom=min(max(zoom, LEAST_ZOOM), MOST_ZOOM))
        return replace(nearer, left=here[0] - at[0] / nearer.scale, top=here[1] + at[1] / nearer.scale)

    def panned(self, dx: float, dy: float) -> View:
        """The view with its content moved by (dx, dy) pixels."""
        return replace(self, left=self.left - dx / self.scale, top=self.top + dy / self.scale)

    def fitted(self, box: Box, size: Point, *, margin: float) -> View:
        """The view in which a box fills a widget of `size` pixels but for a margin in pixels on every side.

        A box of no size is put in the middle at true size.
        """
        width, height = box[2] - box[0], box[3] - box[1]
        room = (max(size[0] - 2 * margin, 1.0), max(size[1] - 2 * margin, 1.0))
        scale = min(room[0] / width if width > 0 else self.true, room[1] / height if height > 0 else self.true)
        view = replace(self, zoom=min(max(scale / self.true, LEAST_ZOOM), MOST_ZOOM))
        return view.centred(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), size)

    def centred(self, place: Point, size: Point) -> View:
        """The view with a place in mm in the middle of a widget of `size` pixels."""
        return replace(self, left=place[0] - size[0] / 2 / self.scale, top=place[1] + size[1] / 2 / self.scale)

    def box(self, size: Point) -> Box:
        """What a widget of `size` pixels shows, in mm."""
        right, bottom = self.to_mm(size)
        return (self.left, bottom, right, self.top)
