"""The scale of an edge on the form: what its colours and patterns mean, in words, for screen and eye alike."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.messages import guard
from app.theme import Theme
from core.form.scale import SCALE_WORDS

DASHES: Final = ((), (5.0, 2.0), (1.5, 1.5), (5.0, 1.5, 1.5, 1.5), (0.8, 2.5))
"""What each place of the scale is drawn with: a pattern besides its colour, in widths of the pen."""

LINE: Final = 3.0
"""Logical pixels: how wide an edge is drawn."""

SWATCH, GAP = 28.0, 10.0


def edge_pen(theme: Theme, kind: int) -> QPen:
    """The pen of a place of the scale."""
    pen = QPen(QColor(theme.excess[kind]), LINE)
    if DASHES[kind]:
        pen.setDashPattern(list(DASHES[kind]))
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    return pen


class FormScale(QWidget):
    """The words, as many in a row as there is room for."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.setAccessibleName("Colours of the edge on the form")
        self.setAccessibleDescription("; ".join(SCALE_WORDS))
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self.update()

    def places(self) -> list[QRectF]:
        """Where each of the words stands, its line before it."""
        metrics, found, x, y = self.fontMetrics(), [], 0.0, 0.0
        for words in SCALE_WORDS:
            wide = SWATCH + 6.0 + metrics.horizontalAdvance(words) + GAP
            if x > 0.0 and x + wide > self.width():
                x, y = 0.0, y + metrics.height()
            found.append(QRectF(x, y, wide, metrics.height()))
            x += wide
        return found

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """The rows at the width there is."""
        return QSize(200, round(self.places()[-1].bottom()) + 4)

    @guard(None)
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may want another number of rows."""
        self.setFixedHeight(self.sizeHint().height())

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """A stretch of each line, and its words."""
        with QPainter(self) as painter:
            for kind, (place, words) in enumerate(zip(self.places(), SCALE_WORDS, strict=True)):
                middle = place.center().y()
                painter.setPen(edge_pen(self.theme, kind))
                painter.drawLine(QPointF(place.left(), middle), QPointF(place.left() + SWATCH, middle))
                painter.setPen(QColor(self.theme.ink))
                painter.drawText(place.adjusted(SWATCH + 6.0, 0.0, 0.0, 0.0), Qt.AlignmentFlag.AlignVCenter, words)
