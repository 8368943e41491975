"""Edges drawn by how far they lie off straight grain: by colour, by the kind of line, and in figures; with a scale."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from app.canvas.laid import Laid
from app.canvas.piece_drawing import Look, Sheet
from app.canvas.table_drawing import draw_words
from app.theme import Theme
from core.geometry.polyline import Point, Points, as_points, point_at
from core.pieces.records import Edge
from core.pieces.straight_grain import BIAS, STRAIGHT, Lie, edge_lie, lie_of, off_straight

WORDS: Final[dict[Lie, str]] = {
    "straight": f"straight grain, up to {STRAIGHT:.0f}°",
    "off": f"off the grain, up to {BIAS:.0f}°",
    "bias": "bias, up to 45°",
}
STROKES: Final[dict[Lie, Qt.PenStyle]] = {
    "straight": Qt.PenStyle.SolidLine,
    "off": Qt.PenStyle.DashLine,
    "bias": Qt.PenStyle.DotLine,
}
WIDE: Final = 3.2
"""Pixels: wider than the stitching line, so that the kind of line is seen over it."""

SHORTEST: Final = 34.0
"""An edge shorter than this on the screen (pixels) has no figure: it would cover its neighbours'."""


def _pen(lie: Lie, theme: Theme) -> QPen:
    colours = {"straight": theme.verdicts["exact"], "off": theme.verdicts["check"], "bias": theme.verdicts["wrong"]}
    return QPen(QColor(colours[lie]), WIDE, STROKES[lie], Qt.PenCapStyle.FlatCap)


@lru_cache(maxsize=256)
def _runs(edge: Edge, grain: float) -> tuple[tuple[Lie, Points], ...]:
    """An edge parted where its lie changes, each run (N, 2) in the piece's mm."""
    lies = [lie_of(off) for off in off_straight(edge.points, grain).tolist()]
    runs, start = [], 0
    for lie, group in groupby(lies):
        stop = start + len(list(group))
        runs.append((lie, as_points(edge.points[start : stop + 1])))
        start = stop
    return tuple(runs)


def draw_lies(sheet: Sheet, item: Laid, *, with_figures: bool) -> None:
    """The cut edges of a piece: colour and stroke by how they lie, degrees off by their ends beside the middle."""
    frame, theme = sheet.frame.moved(item.place), sheet.look.inks.theme
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    edges = [edge for edge in item.shown.edges if edge.kind != "dart base"]
    for edge in edges:
        for lie, points in _runs(edge, item.shown.grain):
            sheet.painter.setPen(_pen(lie, theme))
            sheet.painter.drawPolyline(frame.polygon(points))
    for edge in edges if with_figures else ():
        if edge.length * frame.scale >= SHORTEST:
            _draw_figure(sheet, frame.point(_beside(edge, 11.0 / frame.scale)), edge, item.shown.grain)


def _beside(edge: Edge, off: float) -> Point:
    """A place inside the piece beside the middle of an edge."""
    middle = np.array(point_at(edge.points, edge.length / 2))
    ahead = np.array(point_at(edge.points, edge.length / 2 + 0.5)) - np.array(
        point_at(edge.points, edge.length / 2 - 0.5)
    )
    x, y = (middle + off * np.array((-ahead[1], ahead[0])) / max(float(np.hypot(*ahead)), 1e-9)).tolist()
    return (x, y)


def _draw_figure(sheet: Sheet, at: QPointF, edge: Edge, grain: float) -> None:
    look, lie = sheet.look, edge_lie(edge, grain)
    words = f"{lie.ends:.0f}°"
    metrics = QFontMetricsF(look.font)
    box = QRectF(0, 0, metrics.horizontalAdvance(words) + 4, metrics.height())
    box.moveCenter(at)
    sheet.painter.setPen(Qt.PenStyle.NoPen)
    sheet.painter.setBrush(QColor(look.inks.theme.label))
    sheet.painter.drawRoundedRect(box, 3, 3)
    sheet.painter.setFont(look.font)
    sheet.painter.setPen(_pen(lie.lie, look.inks.theme))
    sheet.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def draw_scale(sheet: Sheet) -> None:
    """What the strokes mean, in the table's upper right corner."""
    painter, look = sheet.painter, sheet.look
    metrics = QFontMetricsF(look.font)
    wide = max(metrics.horizontalAdvance(words) for words in WORDS.values()) + 70
    line = metrics.height() + 4
    box = QRectF(painter.device().width() - wide - 14, 40, wide, 3 * line + 8)
    painter.setPen(QPen(QColor(look.inks.theme.edge), 1.0))
    painter.setBrush(QColor(look.inks.theme.label))
    painter.drawRoundedRect(box, 4, 4)
    for row, lie in enumerate(WORDS):
        _draw_row(painter, QRectF(box.left() + 8, box.top() + 4 + row * line, wide - 16, line), lie, look)


def _draw_row(painter: QPainter, row: QRectF, lie: Lie, look: Look) -> None:
    painter.setPen(_pen(lie, look.inks.theme))
    painter.drawLine(QPointF(row.left(), row.center().y()), QPointF(row.left() + 42, row.center().y()))
    painter.setPen(QColor(look.inks.theme.ink))
    painter.setFont(look.font)
    painter.drawText(row.adjusted(52, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, WORDS[lie])


def draw_stretch(sheet: Sheet, item: Laid, ends: tuple[Point, Point]) -> None:
    """The way in which the cloth gives most, dashed, with its words at the second end."""
    theme, frame = sheet.look.inks.theme, sheet.frame.moved(item.place)
    sheet.painter.setPen(QPen(QColor(theme.snap), 2.0, Qt.PenStyle.DashLine))
    sheet.painter.drawPolyline(frame.polygon(as_points(ends)))
    draw_words(sheet.painter, "gives most", frame.point(ends[1]), sheet.look, colour=theme.snap)


def draw_arrow(sheet: Sheet, item: Laid, ends: tuple[Point, Point]) -> None:
    """The grain that is tried, between two places of the piece; the pin stands at the second."""
    sheet.painter.setPen(QPen(QColor(sheet.look.inks.theme.chalk), 2.0))
    sheet.painter.drawPolyline(sheet.frame.moved(item.place).polygon(as_points(ends)))
