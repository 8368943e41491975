"""Drawing one piece while a hand drags: plain fills, thin lines, no small marks.

What it takes to draw a piece so is worked out once for a piece and a zoom. A frame in which the piece is the same then
costs nothing but Qt's own painting of it.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF

from app.canvas.paths import Frame
from app.canvas.piece_drawing import Sheet, draw_dart, line_pens
from core.pieces.records import Line, LinePurpose, Piece


class QuickShape(msgspec.Struct, frozen=True, eq=False):
    """A piece in pixels from its own origin: its cloth, its edges, the bases of its darts, its lines by purpose."""

    cloth: QPolygonF
    edges: QPainterPath
    bases: QPainterPath
    lines: tuple[tuple[LinePurpose, QPainterPath], ...]


def quick_shape(piece: Piece, lies: Frame) -> QuickShape:
    """The shape of a piece as it lies in a frame. One without darts has its edges in the cloth's outline alone."""
    frame = Frame(lies.scale, turn=lies.turn)
    edges = [edge for edge in piece.edges if piece.darts and edge.kind != "dart base"]
    bases = [edge for edge in piece.edges if edge.kind == "dart base"]
    return QuickShape(
        frame.polygon(piece.loop),
        frame.path(edge.points for edge in edges),
        frame.path(edge.points for edge in bases),
        tuple((purpose, _path(frame, lines)) for purpose, lines in _by_purpose(piece).items()),
    )


def _by_purpose(piece: Piece) -> dict[LinePurpose, list[Line]]:
    found: dict[LinePurpose, list[Line]] = {}
    for line in piece.lines:
        found.setdefault(line.purpose, []).append(line)
    return found


def _path(frame: Frame, lines: Iterable[Line]) -> QPainterPath:
    return frame.path(stretch for line in lines for stretch in line.stretches)


def draw_quickly(sheet: Sheet, piece: Piece, shape: QuickShape) -> None:
    """Draw a piece without what is written on it."""
    painter, frame, inks = sheet.painter, sheet.frame, sheet.look.inks
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(frame.x, frame.y)
    painter.setPen(Qt.PenStyle.NoPen if piece.darts else inks.outline_fast)
    painter.setBrush(inks.tint[sheet.look.role(piece)])
    painter.drawPolygon(shape.cloth)
    own = Sheet(painter, Frame(frame.scale, turn=frame.turn), sheet.look)
    for dart in piece.darts:
        draw_dart(own, piece, dart)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _draw_lines(own, shape)
    painter.setPen(inks.outline_fast)
    painter.drawPath(shape.edges)
    painter.setPen(inks.base)
    painter.drawPath(shape.bases)
    painter.translate(-frame.x, -frame.y)


def _draw_lines(sheet: Sheet, shape: QuickShape) -> None:
    pens = line_pens(sheet.look.inks) | {"level": sheet.look.inks.thin}
    for purpose, path in shape.lines:
        sheet.painter.setPen(pens[purpose])
        sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing, purpose != "level")
        sheet.painter.drawPath(path)
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
