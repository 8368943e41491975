"""Pens and brushes of the cutting table, made once from a theme: pattern as well as colour for every fabric."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Final

import msgspec
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPixmap

from app.theme import Theme, ThemeName, theme_for
from core.fabrics.catalogue import Role

FAINT: Final = 150
"""How opaque a pattern is, of 255: what is drawn on the cloth must be read over it."""

Tile = Callable[[QPainter, QColor], None]


class Inks(msgspec.Struct, frozen=True, eq=False):
    """What the table is drawn with. `cloth` fills with the fabric's pattern, `tint` plainly, for while a hand drags."""

    theme: Theme
    cloth: Mapping[Role, QBrush]
    tint: Mapping[Role, QBrush]
    outline: QPen
    outline_fast: QPen
    fold: QPen
    base: QPen
    leg: QPen
    crease: QPen
    style: QPen
    mark: QPen
    level: QPen
    thin: QPen
    ghost: QPen
    wedge: QBrush


def pen(colour: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen with round ends and joins; width in pixels."""
    return QPen(QColor(colour), width, style, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)


def dashed(colour: str, width: float, *pattern: float) -> QPen:
    """A dashed pen; the pattern is in widths of the pen."""
    found = pen(colour, width)
    found.setCapStyle(Qt.PenCapStyle.FlatCap)
    found.setDashPattern(list(pattern))
    return found


def inks_for(theme: Theme, ratio: float) -> Inks:
    """The pens and brushes of a theme for a screen with so many pixels to a logical one; made once."""
    return _inks(theme.name, ratio)


@lru_cache(maxsize=8)
def _inks(name: ThemeName, ratio: float) -> Inks:
    theme = theme_for(name)
    tints: dict[Role, str] = {
        "main": theme.main,
        "sheer": theme.sheer,
        "lining": theme.lining,
        "cup": theme.cup,
        "interlining": theme.interlining,
    }
    return Inks(
        theme,
        cloth={role: _cloth(tint, theme.pattern, _TILES[role], ratio) for role, tint in tints.items()},
        tint={role: QBrush(QColor(tint)) for role, tint in tints.items()},
        outline=pen(theme.pencil, 1.3),
        outline_fast=pen(theme.pencil, 1.0),
        fold=dashed(theme.pencil, 1.3, 12, 3, 2, 3),
        base=dashed(theme.faint, 1.0, 1, 3),
        leg=dashed(theme.pencil, 1.0, 5, 4),
        crease=dashed(theme.pencil, 1.0, 9, 3),
        style=pen(theme.chalk, 1.8),
        mark=dashed(theme.chalk, 1.2, 8, 3),
        level=dashed(theme.faint, 1.0, 2, 3),
        thin=pen(theme.faint, 1.0),
        ghost=dashed(theme.ghost, 1.0, 4, 3),
        wedge=QBrush(QColor(theme.wedge)),
    )


def _cloth(tint: str, pattern: str, tile: Tile | None, ratio: float) -> QBrush:
    """A brush that repeats a tile of 12 logical pixels over the tint."""
    if tile is None:
        return QBrush(QColor(tint))
    side = round(12 * ratio)
    picture = QPixmap(side, side)
    picture.fill(QColor(tint))
    with QPainter(picture) as painter:
        painter.scale(side / 12, side / 12)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colour = QColor(pattern)
        colour.setAlpha(FAINT)
        tile(painter, colour)
    picture.setDevicePixelRatio(ratio)
    return QBrush(picture)


def _net(painter: QPainter, colour: QColor) -> None:
    """A fine net: crossing threads, finer than any other pattern."""
    painter.setPen(QPen(colour, 0.7))
    for x, y in ((0.0, 0.0), (6.0, 0.0), (0.0, 6.0), (6.0, 6.0)):
        painter.drawLine(QPointF(x, y), QPointF(x + 6, y + 6))
        painter.drawLine(QPointF(x + 6, y), QPointF(x, y + 6))


def _dots(painter: QPainter, colour: QColor) -> None:
    """Dots in half drop."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    for x, y in ((3.0, 3.0), (9.0, 9.0)):
        painter.drawEllipse(QPointF(x, y), 1.1, 1.1)


def _hatch(painter: QPainter, colour: QColor) -> None:
    """Slanting lines, as lining is hatched on working drawings."""
    painter.setPen(QPen(colour, 0.8))
    for start in (-12.0, -6.0, 0.0, 6.0):
        painter.drawLine(QPointF(start, 12.0), QPointF(start + 12.0, 0.0))


def _weave(painter: QPainter, colour: QColor) -> None:
    """Short crosses, well apart."""
    painter.setPen(QPen(colour, 0.8))
    painter.drawLine(QPointF(6, 4), QPointF(6, 8))
    painter.drawLine(QPointF(4, 6), QPointF(8, 6))


_TILES: dict[Role, Tile | None] = {"main": None, "sheer": _net, "lining": _hatch, "cup": _dots, "interlining": _weave}
