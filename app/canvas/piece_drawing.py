"""Drawing one piece: cloth, darts, lines and outline.

All in pixels of a frame that lays the piece's own millimetres on the picture. This is the whole drawing, for a picture
that is kept; `quick_drawing` draws a piece while a hand drags it.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QPainter, QPen, QPolygonF

from app.canvas.inks import Inks
from app.canvas.paths import Frame
from app.canvas.stamps import Stamps
from core.fabrics.catalogue import Role
from core.pieces.folded_piece import SLIT
from core.pieces.outline import wedge_of
from core.pieces.records import Dart, LinePurpose, Piece
from core.units import Unit


class Look(msgspec.Struct, frozen=True, eq=False):
    """How pieces are drawn: inks, font, which role each fabric has, and the unit of lengths written on them."""

    inks: Inks
    font: QFont
    roles: Mapping[str, Role]
    unit: Unit
    stamps: Stamps = msgspec.field(default_factory=Stamps)

    def role(self, piece: Piece) -> Role:
        """The role of the piece's fabric; an unknown fabric looks like the main one."""
        return self.roles.get(piece.fabric, "main")


class Sheet(msgspec.Struct, frozen=True, eq=False):
    """What is drawn on: the painter, the frame in which the piece's millimetres lie, the look."""

    painter: QPainter
    frame: Frame
    look: Look


def draw_piece(sheet: Sheet, piece: Piece) -> None:
    """Draw a piece without what is written on it."""
    sheet.painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    sheet.painter.setPen(Qt.PenStyle.NoPen)
    sheet.painter.setBrush(sheet.look.inks.cloth[sheet.look.role(piece)])
    sheet.painter.drawPolygon(sheet.frame.loop(edge.points for edge in piece.edges))
    for dart in piece.darts:
        draw_dart(sheet, piece, dart)
    _lines(sheet, piece)
    _outline(sheet, piece)


def draw_dart(sheet: Sheet, piece: Piece, dart: Dart) -> None:
    """The wedge in a light tint, the legs dashed; a slit that is only thought open is drawn fainter."""
    painter, frame, inks = sheet.painter, sheet.frame, sheet.look.inks
    is_slit = dart.name.endswith(SLIT)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(inks.wedge)
    painter.drawPolygon(frame.polygon(wedge_of(piece, dart)))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(inks.base if is_slit else inks.leg)
    for leg in dart.legs:
        painter.drawLine(frame.point(leg), frame.point(dart.pivot))
    if not is_slit:
        _dart_point(sheet, dart)


def _dart_point(sheet: Sheet, dart: Dart) -> None:
    """A pin prick at the pivot; a small ring where the sewing ends, when that is short of it."""
    painter = sheet.painter
    painter.setPen(sheet.look.inks.outline_fast)
    painter.setBrush(sheet.look.inks.outline_fast.color())
    painter.drawEllipse(sheet.frame.point(dart.pivot), 1.8, 1.8)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if dart.point != dart.pivot:
        painter.drawEllipse(sheet.frame.point(dart.point), 3.0, 3.0)


def line_pens(inks: Inks) -> dict[LinePurpose, QPen]:
    """What a line of each purpose is drawn with."""
    return {"level": inks.level, "mark": inks.mark, "panel": inks.style, "sheer": inks.style}


def _lines(sheet: Sheet, piece: Piece) -> None:
    pens = line_pens(sheet.look.inks)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    for line in piece.lines:
        sheet.painter.setPen(pens[line.purpose])
        for stretch in line.stretches:
            sheet.painter.drawPolyline(sheet.frame.polygon(stretch))


def _outline(sheet: Sheet, piece: Piece) -> None:
    inks = sheet.look.inks
    pens = {"fold": inks.fold, "dart base": inks.base}
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    for edge in piece.edges:
        sheet.painter.setPen(pens.get(edge.kind, inks.outline))
        sheet.painter.drawPolyline(sheet.frame.polygon(edge.points))


def draw_ghost(sheet: Sheet, piece: Piece) -> None:
    """The outline of a piece as it was before the step in hand, with its open darts."""
    frame, painter = sheet.frame, sheet.painter
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(sheet.look.inks.ghost)
    painter.drawPolygon(frame.loop(edge.points for edge in piece.edges))
    for dart in piece.darts:
        painter.drawPolyline(QPolygonF([frame.point(place) for place in (dart.legs[0], dart.pivot, dart.legs[1])]))
