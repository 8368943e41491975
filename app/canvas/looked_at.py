"""A widget that is looked at from nearer or farther: everything fitted into it, a box brought near, panned, zoomed."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.canvas.paths import Frame
from app.canvas.tool import Pointer
from app.canvas.view import Box, View
from core.geometry.polyline import Point

REACH: Final = 12.0
"""Logical pixels within which a handle is taken hold of and a place is snapped to."""

MARGIN: Final = 46.0
"""Pixels left round everything when it is fitted into the window."""


class LookedAt(QWidget):
    """Millimetres seen through a view. What is fitted stays fitted until the user looks elsewhere."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = View()
        self._fitted: View | None = None
        self._foot = 0.0
        self._close: View | None = None
        self._before_close: View | None = None

    # --- what lies there

    def extent(self) -> Box:
        """The box round everything, in mm."""
        raise NotImplementedError

    def refresh(self) -> None:
        """The view has changed."""
        raise NotImplementedError

    @property
    def is_held(self) -> bool:
        """Whether a button is held down: what lies under the pointer must stay under it."""
        return False

    # --- looking

    def fit_all(self) -> None:
        """Show everything that lies there, above the slip at its foot."""
        self._fitted = self._fit(self.extent(), self._foot)
        self._set_view(self._fitted)

    def leave_room(self, foot: float) -> None:
        """A slip takes so many pixels at the foot; 0: it is gone.

        What is shown whole is then shown whole above it, but not under a hand, nor where the user has looked elsewhere.
        """
        self._foot = foot
        if self._fitted == self.view and not self.is_held and self._hides_something():
            self.fit_all()

    def show_whole(self) -> None:
        """Bring what has come to lie out of sight into view, but not under a hand."""
        if not self.is_held and self._hides_something():
            self.fit_all()
        self.refresh()

    def _hides_something(self) -> bool:
        """Whether something lies outside the view, or under the slip."""
        left, bottom, right, top = self.extent()
        (x0, y0), (x1, y1) = self.view.to_pixels((left, top)), self.view.to_pixels((right, bottom))
        return x0 < 0 or y0 < 0 or x1 > self.width() or y1 > self.height() - self._foot

    def _fit(self, box: Box, below: float) -> View:
        wide, high = self._size()
        return self.view.fitted(box, (wide, max(high - below, high / 3)), margin=MARGIN)

    def show_box(self, box: Box, *, below: float = 0.0) -> None:
        """Bring a box in mm near, `below` pixels at the foot left to something that lies there."""
        self._before_close = self._before_close or self.view
        self._close = self._fit(box, below)
        self._set_view(self._close)

    @property
    def is_close(self) -> bool:
        """Whether a box was brought near and has not been gone back from."""
        return self._close is not None

    def look_up(self) -> None:
        """Go back from a box to where one looked before, everything anew; not where the user has looked elsewhere."""
        before, close = self._before_close, self._close
        self._before_close = self._close = None
        if before is None or self.view != close:
            return
        if before == self._fitted:
            self.fit_all()
        else:
            self._set_view(before)

    def show_place(self, place: Point) -> None:
        """Bring a place in mm into the middle, unless it is in view."""
        x, y = self.view.to_pixels(place)
        if not (0 <= x <= self.width() and 0 <= y <= self.height()):
            self._set_view(self.view.centred(place, self._size()))

    def true_size(self) -> None:
        """Show everything as large as it is."""
        self._set_view(self.view.with_zoom(1.0, (self.width() / 2, self.height() / 2)))

    def zoom_by(self, factor: float, at: Point | None = None) -> None:
        """Go nearer or farther; the place under the pixel `at`, by default the middle, stays there."""
        self._set_view(self.view.zoomed(factor, at or (self.width() / 2, self.height() / 2)))

    def pan(self, dx: float, dy: float) -> None:
        """Move what is seen by so many pixels."""
        self._set_view(self.view.panned(dx, dy))

    def fit_into_window(self, pixels_per_mm: float) -> None:
        """The window has another size: what was fitted is fitted anew; at first everything is."""
        if self._fitted is None:
            self.view = View(true=pixels_per_mm)
        if self._fitted in (None, self.view):
            self.fit_all()

    # --- pixels and places

    def frame(self) -> Frame:
        """From millimetres there to pixels."""
        return Frame(self.view.scale, -self.view.left * self.view.scale, self.view.top * self.view.scale)

    def pointer_at_mm(self, place: Point) -> Pointer:
        """A pointer at a place in mm, for keys that point."""
        return self.pointer_at(self.view.to_pixels(place), Qt.KeyboardModifier.NoModifier)

    def pointer_at(self, pixel: Point, held: Qt.KeyboardModifier) -> Pointer:
        """A pointer at a pixel, with the keys that are held."""
        return Pointer(
            pixel,
            self.view.to_mm(pixel),
            REACH / self.view.scale,
            free=bool(held & Qt.KeyboardModifier.AltModifier),
            shift=bool(held & Qt.KeyboardModifier.ShiftModifier),
        )

    def _set_view(self, view: View) -> None:
        self.view = view
        self.refresh()

    def _size(self) -> Point:
        return (float(self.width()), float(self.height()))
