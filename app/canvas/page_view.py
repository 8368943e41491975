"""A printed page on the screen: the drawing that the print replays, in the same places, white paper and dark ink."""

from __future__ import annotations

from math import degrees
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.canvas.paths import Frame
from app.messages import guard
from core.outputs.drawing import Box, Drawing, Fill, Item, Stroke, Text
from core.outputs.pens import PENS, Pen
from core.outputs.printable import plain

THINNEST: Final = 0.8
"""Pixels: a thinner line would vanish on the screen."""

ROUND: Final = 8.0
"""Pixels round the paper."""

PAPER, SHADOW = "#ffffff", "#8a8578"


def paint_drawing(
    painter: QPainter, drawing: Drawing, frame: Frame, *, ink: str = "#000000", ground: str = PAPER
) -> None:
    """Everything of a drawing; greys lie between the ink and the ground."""
    for item in drawing.items:
        _paint(painter, item, frame, _mixed(PENS[item.role], ink, ground))


def _mixed(pen: Pen, ink: str, ground: str) -> QColor:
    dark, light = QColor(ink), QColor(ground)
    mixed = (a + (b - a) * pen.grey for a, b in zip(dark.getRgbF()[:3], light.getRgbF()[:3], strict=True))  # type: ignore[index] # the stubs call the tuple an object
    return QColor.fromRgbF(*mixed)


def _paint(painter: QPainter, item: Item, frame: Frame, colour: QColor) -> None:
    if isinstance(item, Text):
        _paint_text(painter, item, frame, colour)
    elif isinstance(item, Fill):
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawPolygon(frame.polygon(item.points))
    else:
        _paint_stroke(painter, item, frame, colour)


def _paint_stroke(painter: QPainter, stroke: Stroke, frame: Frame, colour: QColor) -> None:
    kind = PENS[stroke.role]
    wide = max(kind.width * frame.scale, THINNEST)
    pen = QPen(colour, wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    if kind.dashes:
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([max(dash * frame.scale, 1.0) / wide for dash in kind.dashes])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    polygon = frame.polygon(stroke.points)
    if stroke.closed:
        painter.drawPolygon(polygon)
    else:
        painter.drawPolyline(polygon)


def _paint_text(painter: QPainter, text: Text, frame: Frame, colour: QColor) -> None:
    size = text.height * frame.scale
    if size < 2.0:  # a speck that nobody reads
        return
    font = QFont("Bitstream Vera Sans")
    font.setStyleHint(QFont.StyleHint.SansSerif)
    font.setPixelSize(max(round(size), 1))
    font.setBold(PENS[text.role].bold)
    words = plain(text.text)
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * QFontMetricsF(font).horizontalAdvance(words)
    painter.save()
    painter.translate(frame.point(text.at))
    painter.rotate(-degrees(text.angle))
    painter.setFont(font)
    painter.setPen(colour)
    painter.drawText(QPointF(-shift, 0.0), words)
    painter.restore()


class PageView(QWidget):
    """One page, as large as there is room for it. It shows what it is given and asks for nothing."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName("Page")
        self.setMinimumSize(260, 320)
        self._size = (0.0, 0.0)
        self._drawing, self._margin = Drawing(), Drawing()
        self._live: Box = (0.0, 0.0, 0.0, 0.0)

    @guard(QSize())
    def sizeHint(self) -> QSize:
        """Room for an upright page."""
        return QSize(420, 560)

    def show_page(self, size: tuple[float, float], drawing: Drawing, *, live: Box, margin: Drawing) -> None:
        """A page of a size in mm: what is cut off at its live area, and what stands in its margin."""
        self._size, self._drawing, self._live, self._margin = size, drawing, live, margin
        self.update()

    def clear(self) -> None:
        """No page."""
        self._size = (0.0, 0.0)
        self.update()

    @guard(None)
    def paintEvent(self, event: QPaintEvent) -> None:
        """The paper with its shadow, and the page on it."""
        width, height = self._size
        if not width or not height:
            return
        scale = min((self.width() - 2 * ROUND) / width, (self.height() - 2 * ROUND) / height)
        left, top = (self.width() - scale * width) / 2, (self.height() - scale * height) / 2
        frame = Frame(scale, left, top + scale * height)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            paper = QRectF(left, top, scale * width, scale * height)
            painter.fillRect(paper.translated(2.0, 2.0), QColor(SHADOW))
            painter.fillRect(paper, QColor(PAPER))
            paint_drawing(painter, self._margin, frame)
            corner = frame.point((self._live[0], self._live[3]))
            size = (scale * (self._live[2] - self._live[0]), scale * (self._live[3] - self._live[1]))
            painter.setClipRect(QRectF(corner.x(), corner.y(), *size))
            paint_drawing(painter, self._drawing, frame)
