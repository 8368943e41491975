"""Rulers along the top and the left of the table, in the user's unit; 0 is centre front and the waist level."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter

from app.canvas.piece_marks import small
from app.canvas.ticks import Tick, ticks
from app.canvas.view import View
from app.theme import Theme
from core.geometry.polyline import Point
from core.units import Unit

WIDE: Final = 24
"""Logical pixels a ruler takes of the table."""

LENGTHS: Final = (11.0, 8.0, 5.0)
"""Pixels of a mark by its rank."""


def draw_rulers(
    painter: QPainter, size: QSize, view: View, *, theme: Theme, unit: Unit, font: QFont, pointer: Point | None
) -> None:
    """Draw both rulers, with the pointer's place on each."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setFont(small(font))
    across = ticks(view.left, view.scale, size.width(), unit=unit)
    up = ticks(view.top - size.height() / view.scale, view.scale, size.height(), unit=unit)
    painter.fillRect(QRectF(0, 0, size.width(), WIDE), QColor(theme.paper))
    painter.fillRect(QRectF(0, 0, WIDE, size.height()), QColor(theme.paper))
    painter.setPen(QColor(theme.ink))
    _across(painter, [tick for tick in across if tick.pixel > WIDE])
    _up(painter, [tick for tick in up if tick.pixel < size.height() - WIDE], size.height())
    painter.drawLine(QLineF(WIDE, WIDE, size.width(), WIDE))
    painter.drawLine(QLineF(WIDE, WIDE, WIDE, size.height()))
    painter.fillRect(QRectF(0, 0, WIDE, WIDE), QColor(theme.paper))
    painter.drawText(QRectF(0, 0, WIDE, WIDE), Qt.AlignmentFlag.AlignCenter, unit)
    if pointer is not None:
        _pointer(painter, pointer, theme)


def _across(painter: QPainter, marks: list[Tick]) -> None:
    painter.drawLines([QLineF(t.pixel, WIDE - LENGTHS[t.rank], t.pixel, WIDE) for t in marks])
    for tick in marks:
        if tick.text:
            painter.drawText(QPointF(tick.pixel + 3, WIDE - 12), tick.text)


def _up(painter: QPainter, marks: list[Tick], height: int) -> None:
    painter.drawLines([QLineF(WIDE - LENGTHS[t.rank], height - t.pixel, WIDE, height - t.pixel) for t in marks])
    for tick in marks:
        if tick.text:
            painter.save()
            painter.translate(WIDE - 13, height - tick.pixel - 3)
            painter.rotate(-90)
            painter.drawText(QPointF(0, 0), tick.text)
            painter.restore()


def _pointer(painter: QPainter, at: Point, theme: Theme) -> None:
    painter.setPen(QColor(theme.handle))
    painter.drawLine(QLineF(at[0], 0, at[0], WIDE))
    painter.drawLine(QLineF(0, at[1], WIDE, at[1]))
