"""Rulers along the top and the left of the table, in the user's unit; 0 is centre front and the waist level.

They are widgets of their own, so that following the pointer draws nothing else anew.
"""

from __future__ import annotations

from math import ceil, floor
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget

from app.canvas.piece_marks import small
from app.canvas.ticks import LEAST_LABEL_GAP, Tick, ticks
from app.canvas.view import View
from app.messages import guard
from app.theme import Theme
from core.geometry.polyline import Point
from core.units import Unit

LEAST: Final = 24
"""Logical pixels a ruler takes of the table, or more where its figures are large."""

LONGEST_FIGURE: Final = "-24 15/16 "
"""Figures leave room for this, so that none runs into the next."""

LENGTHS: Final = (11.0, 8.0, 5.0)
"""Pixels of a mark by its rank."""


def wide(font: QFont) -> int:
    """Logical pixels that a ruler with figures in a font takes of the table."""
    return max(LEAST, 12 + ceil(QFontMetricsF(small(font)).ascent()))


class Ruler(QWidget):
    """One ruler; the mouse goes through it to the table."""

    def __init__(self, parent: QWidget, orientation: Qt.Orientation) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._lies_across = orientation == Qt.Orientation.Horizontal
        self._marks: list[Tick] = []
        self._theme: Theme | None = None
        self._unit: Unit = "mm"
        self._seen: tuple[object, ...] = ()
        self._pointer: float | None = None
        self._picture: QPixmap | None = None

    def show_view(self, view: View, unit: Unit, theme: Theme) -> None:
        """Rule for what the table shows now."""
        seen = (view, unit, theme.name, self.size(), self.font(), self.devicePixelRatioF())
        if seen != self._seen:
            self._seen, self._unit, self._theme, self._picture = seen, unit, theme, None
            size = self.width() if self._lies_across else self.height()
            first = view.left if self._lies_across else view.top - size / view.scale
            apart = max(LEAST_LABEL_GAP, QFontMetricsF(small(self.font())).horizontalAdvance(LONGEST_FIGURE))
            self._marks = ticks(first, view.scale, size, unit=unit, apart=apart)
            self.update()

    def follow(self, pixel: Point | None) -> None:
        """Show where the pointer is."""
        now = None if pixel is None else pixel[0] if self._lies_across else pixel[1]
        if now != self._pointer:
            for place in (self._pointer, now):
                if place is not None:
                    self.update(self._strip(place))
            self._pointer = now

    def _strip(self, at: float) -> QRect:
        """The pixels of the pointer's line."""
        first = floor(at) - 1
        return QRect(first, 0, 4, self.height()) if self._lies_across else QRect(0, first, self.width(), 4)

    @guard(default=None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw marks, numbers, and the pointer's place."""
        if self._theme is None:
            return
        if self._picture is None:
            self._picture = self._drawn(self._theme)
        with QPainter(self) as painter:
            painter.drawPixmap(0, 0, self._picture)
            if self._pointer is not None:
                self._draw_pointer(painter, self._pointer, self._theme)

    def _drawn(self, theme: Theme) -> QPixmap:
        """Marks and numbers; they are the same until the view changes."""
        ratio = self.devicePixelRatioF()
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(QColor(theme.paper))
        with QPainter(picture) as painter:
            painter.setFont(small(self.font()))
            painter.setPen(QColor(theme.ink))
            if self._lies_across:
                self._draw_across(painter)
            else:
                self._draw_up(painter)
        return picture

    def _draw_across(self, painter: QPainter) -> None:
        breadth = self.height()
        marks = [mark for mark in self._marks if mark.pixel > breadth]
        painter.drawLines([QLineF(mark.pixel, breadth - LENGTHS[mark.rank], mark.pixel, breadth) for mark in marks])
        for mark in marks:
            if mark.text:
                painter.drawText(QPointF(mark.pixel + 3, breadth - 12), mark.text)
        painter.drawText(QRectF(0, 0, breadth, breadth), Qt.AlignmentFlag.AlignCenter, self._unit)
        painter.drawLine(QLineF(0, breadth - 1, self.width(), breadth - 1))

    def _draw_up(self, painter: QPainter) -> None:
        breadth, height = self.width(), self.height()
        heights = [(height - mark.pixel, LENGTHS[mark.rank]) for mark in self._marks]
        painter.drawLines([QLineF(breadth - length, y, breadth, y) for y, length in heights])
        painter.drawLine(QLineF(breadth - 1, 0, breadth - 1, height))
        for mark in self._marks:
            if mark.text:
                painter.save()
                painter.translate(breadth - 13, height - mark.pixel - 3)
                painter.rotate(-90)
                painter.drawText(QPointF(0, 0), mark.text)
                painter.restore()

    def _draw_pointer(self, painter: QPainter, at: float, theme: Theme) -> None:
        painter.setPen(QColor(theme.handle))
        whole = QLineF(at, 0, at, self.height()) if self._lies_across else QLineF(0, at, self.width(), at)
        painter.drawLine(whole)


class Rulers:
    """The two rulers of a table."""

    def __init__(self, table: QWidget) -> None:
        self._table = table
        self._up = Ruler(table, Qt.Orientation.Vertical)
        self._across = Ruler(table, Qt.Orientation.Horizontal)

    def show_view(self, view: View, unit: Unit, theme: Theme) -> None:
        """Lay the rulers along the table's sides and rule for what it shows."""
        size, breadth = self._table.size(), wide(self._table.font())
        self._across.setGeometry(0, 0, size.width(), breadth)
        self._up.setGeometry(0, breadth, breadth, max(size.height() - breadth, 0))
        self._across.show_view(view, unit, theme)
        up = View(view.zoom, view.true, view.left, view.top - breadth / view.scale)
        self._up.show_view(up, unit, theme)

    def follow(self, pixel: Point | None) -> None:
        """Show where the pointer is on both."""
        self._across.follow(pixel)
        self._up.follow(None if pixel is None else (pixel[0], pixel[1] - self._across.height()))
