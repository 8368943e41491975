"""Icons of the tools, drawn by code in the theme's ink: what the hand holds at the cutting table."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from app.theme import Theme

SIDE = 24
RATIO = 2
"""Icons are drawn at twice their size, so that they stay sharp on fine screens."""

Draw = Callable[[QPainter, Theme], None]


def icon(draw: Draw, theme: Theme) -> QIcon:
    """A picture of 24 by 24 logical pixels."""
    picture = QPixmap(SIDE * RATIO, SIDE * RATIO)
    picture.setDevicePixelRatio(RATIO)
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(_pen(theme.ink))
        draw(painter, theme)
    return QIcon(picture)


def _pen(colour: str, wide: float = 1.6, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    return QPen(QColor(colour), wide, style, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)


def choose(painter: QPainter, _: Theme) -> None:
    """A flat hand on a sheet: the corner of a pattern being lifted."""
    painter.drawPolygon(_polygon((4, 6), (15, 4), (20, 9), (19, 20), (5, 20)))
    painter.drawPolyline(_polygon((15, 4), (14, 10), (20, 9)))


def sheer_line(painter: QPainter, theme: Theme) -> None:
    """A curve over net."""
    painter.setPen(_pen(theme.faint, 0.8))
    for x in range(4, 21, 4):
        painter.drawLine(QPointF(x, 3), QPointF(x + 4, 9))
        painter.drawLine(QPointF(x + 4, 3), QPointF(x, 9))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((3, 17), (9, 8), (15, 20), (21, 11)))


def panel_line(painter: QPainter, theme: Theme) -> None:
    """A curve down a piece, from edge to edge."""
    painter.drawRect(QRectF(4, 3, 16, 18))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((9, 3), (14, 9), (8, 15), (13, 21)))


def mark_line(painter: QPainter, theme: Theme) -> None:
    """A dashed line of tailor's tacks."""
    painter.setPen(_pen(theme.chalk, 2.0, Qt.PenStyle.DashLine))
    painter.drawLine(QPointF(4, 19), QPointF(20, 5))


def neckline(painter: QPainter, theme: Theme) -> None:
    """Shoulders with the neck hollowed out."""
    painter.drawPolyline(_polygon((2, 8), (8, 5)))
    painter.drawPolyline(_polygon((22, 8), (16, 5)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((8, 5), (8, 17), (16, 17), (16, 5)))


def pivot(painter: QPainter, theme: Theme) -> None:
    """A pin with a wedge that turns about it."""
    painter.drawPolyline(_polygon((6, 3), (12, 14), (18, 3)))
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawArc(QRectF(4, 4, 16, 18), -20 * 16, -140 * 16)
    painter.setBrush(QColor(theme.chalk))
    painter.drawEllipse(QPointF(12, 14), 2.2, 2.2)


def cut(painter: QPainter, _: Theme) -> None:
    """Shears."""
    painter.drawLine(QPointF(7, 15), QPointF(17, 3))
    painter.drawLine(QPointF(17, 15), QPointF(7, 3))
    painter.drawEllipse(QPointF(6, 18), 3, 3)
    painter.drawEllipse(QPointF(18, 18), 3, 3)


def trim(painter: QPainter, theme: Theme) -> None:
    """Two edges of unequal length, the longer one cut off."""
    painter.drawLine(QPointF(8, 3), QPointF(8, 17))
    painter.drawLine(QPointF(15, 3), QPointF(15, 21))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawLine(QPointF(4, 17), QPointF(20, 17))


def cup(painter: QPainter, theme: Theme) -> None:
    """A cup of two pieces with its seam."""
    painter.drawPath(_curve((4, 9), (4, 22), (20, 22), (20, 9)))
    painter.drawPath(_curve((4, 9), (9, 5), (15, 5), (20, 9)))
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawPath(_curve((12, 6), (9, 11), (11, 16), (12, 18.6)))


def grain(painter: QPainter, theme: Theme) -> None:
    """A piece of cloth with its grain arrow leaning."""
    painter.drawPolygon(_polygon((4, 4), (20, 4), (20, 20), (4, 20)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawLine(QPointF(8, 18), QPointF(16, 6))
    painter.drawPolyline(_polygon((11.5, 7), (16, 6), (16.5, 10.5)))


def take_in(painter: QPainter, theme: Theme) -> None:
    """Two edges drawn together at the top, the old lines beside them."""
    painter.setPen(_pen(theme.faint, 1.2, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(10, 21), QPointF(6, 3))
    painter.drawLine(QPointF(14, 21), QPointF(18, 3))
    painter.setPen(_pen(theme.ink))
    painter.drawLine(QPointF(3, 21), QPointF(10, 21))
    painter.drawLine(QPointF(21, 21), QPointF(14, 21))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((10, 21), (10, 14), (8, 9), (3, 3)))
    painter.drawPath(_curve((14, 21), (14, 14), (16, 9), (21, 3)))


def join(painter: QPainter, theme: Theme) -> None:
    """Two pieces laid edge to edge, taped together."""
    painter.drawPolyline(_polygon((11, 3), (3, 5), (3, 19), (11, 21)))
    painter.drawPolyline(_polygon((13, 3), (21, 5), (21, 19), (13, 21)))
    painter.setPen(_pen(theme.faint, 1.0, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(12, 3), QPointF(12, 21))
    painter.setPen(_pen(theme.chalk, 2.0))
    for y in (8, 16):
        painter.drawLine(QPointF(8, y), QPointF(16, y))


def lay_together(painter: QPainter, theme: Theme) -> None:
    """A piece turned until its edge lies at another's, a line drawn over both."""
    painter.drawPolygon(_polygon((3, 12), (3, 21), (14, 21), (14, 12)))
    painter.drawPolygon(_polygon((4.5, 12), (13, 3), (20.5, 9), (14, 12)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((6, 21), (6.5, 15), (8, 10), (14, 5)))


def walk(painter: QPainter, theme: Theme) -> None:
    """A round edge rolling along a straight one."""
    painter.drawLine(QPointF(3, 20), QPointF(21, 20))
    for x in (6, 12, 18):
        painter.drawLine(QPointF(x, 20), QPointF(x, 22.5))
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawEllipse(QPointF(12, 12.5), 6.5, 6.5)
    painter.drawPolyline(_polygon((16, 3), (19, 5), (16, 7)))
    painter.drawPath(_curve((9, 4.2), (12, 2.8), (15, 3.4), (18.6, 5)))


def slash(painter: QPainter, theme: Theme) -> None:
    """A piece cut through and opened like a fan, hinged at the foot."""
    painter.drawPolyline(_polygon((3, 6), (4, 20), (11, 21), (9, 4), (3, 6)))
    painter.drawPolyline(_polygon((21, 6), (20, 20), (11, 21), (16, 4), (21, 6)))
    painter.setPen(_pen(theme.chalk, 2.0, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(9, 4), QPointF(16, 4))


def set_back(painter: QPainter, theme: Theme) -> None:
    """A dart with its point drawn short of where its legs meet."""
    painter.setPen(_pen(theme.faint, 1.2, Qt.PenStyle.DotLine))
    painter.drawPolyline(_polygon((6, 21), (12, 3), (18, 21)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPolyline(_polygon((6, 21), (12, 10), (18, 21)))


def true_line(painter: QPainter, theme: Theme) -> None:
    """A ragged line and the fair one drawn through it."""
    painter.setPen(_pen(theme.faint, 1.2))
    painter.drawPolyline(_polygon((3, 18), (8, 12), (11, 14), (15, 7), (21, 6)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((3, 18), (9, 14), (13, 8), (21, 6)))


def move_edge(painter: QPainter, theme: Theme) -> None:
    """An edge and the same edge farther out."""
    painter.drawPolyline(_polygon((13, 3), (4, 3), (4, 21), (13, 21)))
    painter.setPen(_pen(theme.faint, 1.2, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(13, 3), QPointF(13, 21))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawLine(QPointF(19, 3), QPointF(19, 21))


def flatten(painter: QPainter, theme: Theme) -> None:
    """A bump pressed down to a flat line."""
    painter.setPen(_pen(theme.faint, 1.2, Qt.PenStyle.DotLine))
    painter.drawPath(_curve((3, 18), (8, 18), (8, 6), (12, 6)))
    painter.drawPath(_curve((12, 6), (16, 6), (16, 18), (21, 18)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawLine(QPointF(3, 18), QPointF(21, 18))
    painter.drawPolyline(_polygon((9.5, 12), (12, 15), (14.5, 12)))


def unfold(painter: QPainter, theme: Theme) -> None:
    """Half a piece on its fold, and the half that is drawn out."""
    painter.drawPolyline(_polygon((12, 4), (5, 6), (3, 20), (12, 20)))
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawPolyline(_polygon((12, 4), (19, 6), (21, 20), (12, 20)))
    painter.setPen(_pen(theme.faint, 1.2, Qt.PenStyle.DashLine))
    painter.drawLine(QPointF(12, 2), QPointF(12, 22))


def mirror(painter: QPainter, theme: Theme) -> None:
    """A piece and its image, a line between them."""
    painter.drawPolygon(_polygon((9, 5), (9, 19), (3, 19)))
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawPolygon(_polygon((15, 5), (15, 19), (21, 19)))
    painter.setPen(_pen(theme.faint, 1.2, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(12, 3), QPointF(12, 21))


def copy(painter: QPainter, theme: Theme) -> None:
    """A piece with another laid under it."""
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawPolygon(_polygon((9, 8), (20, 8), (18, 21), (9, 21)))
    painter.setPen(_pen(theme.ink))
    painter.drawPolygon(_polygon((4, 3), (15, 3), (13, 16), (4, 16)))


def tape(painter: QPainter, theme: Theme) -> None:
    """A tape measure laid from corner to corner, with its marks."""
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawPath(_curve((3, 18), (9, 10), (14, 20), (21, 6)))
    painter.setPen(_pen(theme.ink, 1.2))
    for x, y in ((5, 15), (9, 14), (13, 15), (17, 12), (20, 8)):
        painter.drawLine(QPointF(x, y - 3), QPointF(x, y))


def style_picture(painter: QPainter, theme: Theme) -> None:
    """A sketch of a neckline on a card, held by a pin."""
    painter.drawRect(QRectF(4, 4, 16, 17))
    painter.setPen(_pen(theme.faint, 1.2))
    painter.drawPath(_curve((7, 8), (9, 15), (15, 15), (17, 8)))
    painter.setPen(_pen(theme.chalk, 2.0))
    painter.drawEllipse(QPointF(12, 4.5), 1.6, 1.6)


def toile(painter: QPainter, theme: Theme) -> None:
    """A fold of cloth with a pin through it."""
    painter.drawPath(_curve((4, 21), (9, 14), (9, 9), (12, 4)))
    painter.drawPath(_curve((20, 21), (15, 14), (15, 9), (12, 4)))
    painter.setPen(_pen(theme.chalk, 1.8))
    painter.drawLine(QPointF(4, 13), QPointF(20, 11))
    painter.drawEllipse(QPointF(20.5, 11), 1.6, 1.6)


def _polygon(*places: tuple[float, float]) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in places])


def _curve(*places: tuple[float, float]) -> QPainterPath:
    start, first, second, end = (QPointF(x, y) for x, y in places)
    found = QPainterPath(start)
    found.cubicTo(first, second, end)
    return found
