"""A picture of front and back beside the numbers that they are typed with, the place in hand marked."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.messages import guard
from core.geometry.polyline import Point, Points

MARGIN = 16.0


class BlockPicture(QWidget):
    """Lines in mm, y up; the lines of a block that does not close yet are dashed."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("The block as typed")
        self.setMinimumSize(260, 260)
        self._lines: tuple[Points, ...] = ()
        self._thin: tuple[Points, ...] = ()
        self._dots: tuple[Point, ...] = ()
        self._marked: Point | None = None
        self._is_whole = False

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """Room for a block."""
        return QSize(420, 460)

    def show_lines(
        self, lines: Sequence[Points], *, thin: Sequence[Points], dots: Sequence[Point], whole: bool
    ) -> None:
        """Show outlines, thin lines within them, and dots at what was typed."""
        self._lines, self._thin, self._dots, self._is_whole = tuple(lines), tuple(thin), tuple(dots), whole
        self.update()

    def mark(self, place: Point | None) -> None:
        """Mark the place whose row is in hand."""
        self._marked = place
        self.update()

    def _box(self) -> QRectF:
        """The bounds in mm, y down; a block's size where nothing is typed."""
        places = [*(line for line in self._lines if len(line)), np.array(self._dots or [(-250.0, 0.0), (250.0, 430.0)])]
        points = np.concatenate(places)
        low, high = points.min(axis=0), points.max(axis=0)
        return QRectF(low[0], -high[1], max(high[0] - low[0], 50.0), max(high[1] - low[1], 50.0))

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw everything to fit."""
        box, palette = self._box(), self.palette()
        room = QRectF(self.rect()).adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN)
        scale = min(room.width() / box.width(), room.height() / box.height())

        def seen(place: Point) -> QPointF:
            x = room.center().x() + (place[0] - box.center().x()) * scale
            return QPointF(x, room.center().y() + (-place[1] - box.center().y()) * scale)

        ink, faint = palette.windowText().color(), palette.placeholderText().color()
        chosen = palette.highlight().color()
        with QPainter(self) as p:
            p.setRenderHint(QPainter.RenderHint.Antialiasing)
            p.fillRect(self.rect(), palette.base())
            p.setPen(QPen(faint, 1.0))
            for ends in (((box.left(), 0.0), (box.right(), 0.0)), ((0.0, -box.top()), (0.0, -box.bottom()))):
                p.drawLine(seen(ends[0]), seen(ends[1]))
            for line in self._thin:
                p.drawPolyline(QPolygonF([seen((x, y)) for x, y in line]))
            p.setPen(QPen(ink, 1.6, Qt.PenStyle.SolidLine if self._is_whole else Qt.PenStyle.DashLine))
            for line in self._lines:
                p.drawPolyline(QPolygonF([seen((x, y)) for x, y in line]))
            p.setPen(Qt.PenStyle.NoPen)
            p.setBrush(ink)
            for dot in self._dots:
                p.drawEllipse(seen(dot), 2.5, 2.5)
            self._paint_mark(p, None if self._marked is None else seen(self._marked), chosen)

    def _paint_mark(self, p: QPainter, place: QPointF | None, colour: QColor) -> None:
        if place is None:
            return
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.setPen(QPen(colour, 3.0))
        p.drawEllipse(place, 8.0, 8.0)
