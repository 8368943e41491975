"""The mark of a dart that is folded shut on the table: a dashed crease with pins across it, and the dart's name."""

from __future__ import annotations

from math import atan2
from typing import Final

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QFontMetricsF

from app.canvas.piece_drawing import Sheet
from app.canvas.piece_marks import small, write_along
from core.pieces.fold_lines import FoldLine
from core.pieces.names import spoken

PINS: Final = (0.15, 0.85)
"""Shares of the sewn part at which a pin lies across the fold, from the outline inwards; between them is the name."""

PIN: Final = 5.5
"""Pixels from the fold to either end of a pin."""

HEAD: Final = 1.8
"""Pixels: the radius of a pin's head, of the pivot's prick; a sewing end that is not the pivot is a wider ring."""

RING: Final = 3.0


def draw_fold(sheet: Sheet, fold: FoldLine, *, with_words: bool) -> None:
    """The crease from the outline to the pivot, a ring where the sewing ends, pins across, the name along it."""
    painter, inks = sheet.painter, sheet.look.inks
    mouth, pivot, point = (sheet.frame.point(at) for at in (fold.mouth, fold.pivot, fold.point))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(inks.crease)
    painter.drawLine(mouth, pivot)
    painter.setPen(inks.outline_fast)
    if fold.point != fold.pivot:
        painter.drawEllipse(point, RING, RING)
    painter.setBrush(inks.outline_fast.color())
    painter.drawEllipse(pivot, HEAD, HEAD)
    for share in PINS:
        _draw_pin(sheet, QLineF(mouth, point), share)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if with_words:
        _write(sheet, fold, QLineF(mouth, point))


def _draw_pin(sheet: Sheet, sewn: QLineF, share: float) -> None:
    """A pin stuck across the fold, its head on one side."""
    if sewn.length() < 4 * PIN:
        return
    normal = sewn.normalVector().unitVector()
    off = QPointF(normal.dx(), normal.dy()) * PIN
    at = sewn.pointAt(share)
    sheet.painter.setPen(sheet.look.inks.outline_fast)
    sheet.painter.drawLine(at - off, at + off)
    sheet.painter.drawEllipse(at + off, HEAD, HEAD)


def _write(sheet: Sheet, fold: FoldLine, sewn: QLineF) -> None:
    """The dart's name with what was done to it, between the pins, where there is room."""
    words = f"{spoken(fold.dart)} shut"
    room = (PINS[-1] - PINS[0]) * sewn.length() - 2 * PIN
    if QFontMetricsF(small(sheet.look.font)).horizontalAdvance(words) <= room:
        way = atan2(-sewn.dy(), sewn.dx())
        write_along(sheet.painter, words, sewn.pointAt(0.5), way, look=sheet.look)
