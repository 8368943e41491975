"""What the table draws: its own lines, the pieces, ghosts, what is selected, what the tool holds, handles."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPaintDevice, QPainter, QPen, QRegion

from app.canvas.handles import SIDE
from app.canvas.laid import Laid
from app.canvas.paths import Frame
from app.canvas.piece_drawing import Look, Sheet
from app.canvas.seam_marks import draw_seam_marks
from app.canvas.tool import Handle
from app.canvas.view import View
from app.theme import Theme
from core.design.picture import StylePicture
from core.geometry.polyline import Point, Points
from core.units import MM_PER, Unit

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable

GRID_STEPS: Final = {"in": 4.0, "cm": 10.0, "mm": 100.0}
"""Units between the lines scribed on the table top."""

ROUND_PICTURE: Final = 24.0
"""Pixels round a block within which the picture over it is still shown."""

CHALK_WIDE: Final = 2.2


def draw_everything(table: CuttingTable, painter: QPainter, region: QRegion) -> None:
    """One frame of the table, from the table top up to the handles, in the region that is to be drawn anew."""
    sheet, scene, theme = table.sheet(painter), table.scene, table.theme
    painter.fillRect(table.rect(), QColor(theme.table))
    if table.has_grid:
        draw_grid(painter, table.size(), table.view, theme=theme, unit=table.unit)
    ghost = table.tool.ghost()
    if ghost is not None:
        table.pictures.draw_ghost(sheet, ghost)
    laid = [item for item in scene.laid if table.redrawing.touches(item, region)]
    for item in laid:
        table.pictures.draw(sheet, item, fast=table.is_moving)
        if item.name == table.selection:
            draw_selected(sheet, item)
            draw_cutting_line(table, sheet, item)
    draw_outlines(sheet, [item for item in scene.laid if item.name in scene.together])
    for picture in table.session.shown.design.pictures:
        draw_picture(table, sheet, picture)
    if table.revealed in scene.garment.seams:
        draw_chalk(sheet, scene.seam_paths(scene.garment.seam(table.revealed)), colour=theme.selected, wide=4.0)
    draw_seam_marks(sheet, laid, scene.marks, label=partial(table.pictures.label_box, sheet))
    if table.session.looks_back is not None:
        done, count = table.session.looks_back, len(table.session.replay.stages)
        words = f"After step {done} of {count}" if done else f"The block, before step 1 of {count}"
        draw_words(painter, words, QPointF(table.width() / 2 - 80, 24), sheet.look, colour=theme.chalk)
    table.tool.paint(painter)
    for handle in (handle for handle in table.shown_handles if handle.kind != "quiet"):
        draw_handle(painter, handle, sheet.frame, theme)
    focused = table.focused_handle
    if focused is not None:
        draw_focus(painter, focused, sheet.frame, theme)


def draw_picture(table: CuttingTable, sheet: Sheet, picture: StylePicture) -> None:
    """The picture of the style over its block and a little round it, not over what lies beside; none that is hidden."""
    if not picture.is_shown:
        return
    left, low, right, high = table.scene.block_box(picture.piece)
    corners = QRectF(sheet.frame.point((left, high)), sheet.frame.point((right, low)))
    sheet.painter.save()
    sheet.painter.setClipRect(corners.adjusted(-ROUND_PICTURE, -ROUND_PICTURE, ROUND_PICTURE, ROUND_PICTURE))
    table.underlay.draw(sheet.painter, sheet.frame, picture, table.scene.block_marks(picture.piece))
    sheet.painter.restore()


def draw_grid(painter: QPainter, size: QSize, view: View, *, theme: Theme, unit: Unit) -> None:
    """Faint lines at round numbers of the unit, through the origin."""
    step = GRID_STEPS[unit] * MM_PER[unit]
    if step * view.scale < 24:
        return
    left, bottom, right, top = view.box((size.width(), size.height()))
    lines = []
    for value in _multiples(left, right, step):
        x, _ = view.to_pixels((value, 0.0))
        lines.append(QLineF(round(x), 0, round(x), size.height()))
    for value in _multiples(bottom, top, step):
        _, y = view.to_pixels((0.0, value))
        lines.append(QLineF(0, round(y), size.width(), round(y)))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setPen(QColor(theme.grid))
    painter.drawLines(lines)


def _multiples(low: float, high: float, step: float) -> list[float]:
    first = int(low // step) + 1
    return [index * step for index in range(first, int(high // step) + 1)]


def draw_selected(sheet: Sheet, item: Laid) -> None:
    """A firm outline round the piece that is taken up."""
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.setPen(QPen(QColor(sheet.look.inks.theme.selected), 2.0))
    sheet.painter.drawPolygon(sheet.frame.moved(item.place).loop(edge.points for edge in item.shown.edges))


def draw_outlines(sheet: Sheet, items: Iterable[Laid]) -> None:
    """The outlines of pieces that lie together, over them all: where one lies on another, both are seen."""
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.setPen(sheet.look.inks.outline_fast)
    for item in items:
        sheet.painter.drawPolygon(sheet.frame.moved(item.place).loop(edge.points for edge in item.shown.edges))


def draw_cutting_line(table: CuttingTable, sheet: Sheet, item: Laid) -> None:
    """Dashed, round the piece that is taken up: where it will be cut. Not while anything moves, or a dart is folded."""
    replay = table.session.replay
    if table.session.shown is not replay or item.folded or replay.garment.pieces.get(item.name) is not item.piece:
        return
    line = table.cutting_lines.of(replay, item.piece)
    if line is not None:
        sheet.painter.setPen(QPen(QColor(table.theme.pencil), 1.0, Qt.PenStyle.DashLine))
        sheet.painter.drawPolyline(sheet.frame.moved(item.place).polygon(line))


def chalk_box(frame: Frame, path: Points) -> QRectF:
    """The pixels that a polyline on the table takes in chalk."""
    return frame.polygon(path).boundingRect().adjusted(-CHALK_WIDE, -CHALK_WIDE, CHALK_WIDE, CHALK_WIDE)


def draw_chalk(sheet: Sheet, paths: Iterable[Points], *, colour: str, wide: float = CHALK_WIDE) -> None:
    """Polylines on the table drawn over everything: what a tool holds or would take hold of."""
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.setPen(QPen(QColor(colour), wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    for path in paths:
        sheet.painter.drawPolyline(sheet.frame.polygon(path))


def draw_handle(painter: QPainter, handle: Handle, frame: Frame, theme: Theme) -> None:
    """A pin's head for a point, a square one for a corner, a pin with its cross for a pivot, a ring for a choice."""
    at = frame.point(handle.at)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(theme.label), 1.4))
    painter.setBrush(QColor(theme.handle))
    if handle.kind == "corner":
        painter.drawRect(QRectF(at.x() - 4.5, at.y() - 4.5, 9, 9))
    elif handle.kind == "choice":
        painter.setBrush(QColor(theme.label))
        painter.setPen(QPen(QColor(theme.handle), 1.8))
        painter.drawEllipse(at, 5.0, 5.0)
    else:
        painter.drawEllipse(at, 5.2, 5.2)
        painter.setPen(QPen(QColor(theme.label), 1.0))
        painter.drawArc(QRectF(at.x() - 2.8, at.y() - 2.8, 5.6, 5.6), 60 * 16, 90 * 16)
    if handle.kind == "pivot":
        _cross(painter, at, theme)


def _cross(painter: QPainter, at: QPointF, theme: Theme) -> None:
    painter.setPen(QPen(QColor(theme.handle), 1.4))
    for way in (QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)):
        painter.drawLine(at + way * 7.0, at + way * 13.0)


def draw_focus(painter: QPainter, handle: Handle, frame: Frame, theme: Theme) -> None:
    """The ring round the handle that the keyboard holds."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(theme.focus), 2.0))
    painter.drawEllipse(frame.point(handle.at), SIDE / 2 - 2, SIDE / 2 - 2)


def draw_needle(sheet: Sheet, place: Point) -> None:
    """The needle that arrow keys move: a fine cross, open in the middle."""
    at = sheet.frame.point(place)
    sheet.painter.setPen(QPen(QColor(sheet.look.inks.theme.focus), 1.6))
    for way in (QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)):
        sheet.painter.drawLine(at + way * 4.0, at + way * 14.0)


def words_box(words: str, at: QPointF, look: Look, room: QPaintDevice) -> QRectF:
    """The ground of a short label right of and below a pixel, within what it is drawn on."""
    metrics = QFontMetricsF(look.font)
    box = QRectF(at.x() + 14, at.y() + 12, metrics.horizontalAdvance(words) + 12, metrics.height() + 4)
    box.moveLeft(min(box.left(), room.width() - box.width() - 4))
    box.moveTop(min(box.top(), room.height() - box.height() - 4))
    return box


def draw_words(painter: QPainter, words: str, at: QPointF, look: Look, *, colour: str) -> None:
    """A short label on its own ground, right of and below a pixel."""
    box = words_box(words, at, look, painter.device())
    painter.setPen(QPen(QColor(colour), 1.0))
    painter.setBrush(QColor(look.inks.theme.label))
    painter.drawRoundedRect(box, 4, 4)
    painter.setFont(look.font)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
