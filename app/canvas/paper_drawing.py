"""Paper that a step adds to a piece and takes off it, hatched over the table while the step is on trial."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from app.canvas.laid import Laid
from app.canvas.piece_drawing import Sheet
from app.canvas.rulers import wide
from app.canvas.table_drawing import draw_words

SWATCH: Final = 18.0
"""Pixels of a swatch of the key."""


def draw_paper(sheet: Sheet, before: Laid, after: Laid) -> None:
    """What lies in one outline and not in the other: added hatched rising, taken off hatched falling, with a key."""
    old, new = _outline(sheet, before), _outline(sheet, after)
    both = QPainterPath(old)
    both.addPath(new)
    # Filled by odd and even, two outlines are where only one of them is: clipped to either, what is its own.
    both.setFillRule(Qt.FillRule.OddEvenFill)
    for clip, brush in ((new, _added(sheet)), (old, _taken_off(sheet))):
        sheet.painter.save()
        sheet.painter.setClipPath(clip)
        sheet.painter.fillPath(both, brush)
        sheet.painter.restore()
    _draw_key(sheet)


def _outline(sheet: Sheet, item: Laid) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(sheet.frame.moved(item.place).loop(edge.points for edge in item.shown.edges))
    path.closeSubpath()
    return path


def _added(sheet: Sheet) -> QBrush:
    return QBrush(QColor(sheet.look.inks.theme.snap), Qt.BrushStyle.BDiagPattern)


def _taken_off(sheet: Sheet) -> QBrush:
    return QBrush(QColor(sheet.look.inks.theme.chalk), Qt.BrushStyle.FDiagPattern)


def _draw_key(sheet: Sheet) -> None:
    """Which hatching is which, in the table's upper left corner."""
    theme, painter = sheet.look.inks.theme, sheet.painter
    rows = ((_added(sheet), theme.snap, "paper added"), (_taken_off(sheet), theme.chalk, "taken off"))
    corner = wide(sheet.look.font) + 12.0
    for row, (brush, colour, words) in enumerate(rows):
        box = QRectF(corner, corner + row * 28.0, SWATCH, SWATCH)
        _swatch(painter, box, brush, colour)
        draw_words(painter, words, QPointF(box.right() - 6.0, box.top() - 14.0), sheet.look, colour=colour)


def _swatch(painter: QPainter, box: QRectF, brush: QBrush, colour: str) -> None:
    painter.setPen(QPen(QColor(colour), 1.2))
    painter.setBrush(brush)
    painter.drawRect(box)
