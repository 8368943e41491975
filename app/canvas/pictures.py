"""Pictures of pieces that are kept, so that a piece which has not changed costs one copy of pixels a frame."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import ceil, floor
from typing import Final

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap

from app.canvas.ease_marks import draw_ease
from app.canvas.label_place import label_place
from app.canvas.laid import Laid
from app.canvas.paths import Frame
from app.canvas.piece_drawing import Look, Sheet, draw_ghost, draw_piece
from app.canvas.piece_marks import draw_label, draw_marks
from core.geometry.planar import inside
from core.geometry.polyline import Point, as_points
from core.pieces.records import Piece

AROUND: Final = 24
"""Logical pixels round a piece for what is written beside its outline."""

LARGEST: Final = 6_000_000
"""Pixels of the largest picture that is kept; a piece seen from nearer is drawn anew, clipped to the window."""


@dataclass(frozen=True, eq=False, slots=True)
class _Key:
    """What a kept picture shows; it is good while all of it is the same."""

    shown: Piece
    scale: float
    ratio: float
    look: Look

    def is_same(self, other: _Key) -> bool:
        return (
            self.shown is other.shown
            and self.look is other.look
            and (self.scale, self.ratio) == (other.scale, other.ratio)
        )


@dataclass(frozen=True, eq=False, slots=True)
class _Kept:
    """A picture, and where its corner lies from the piece's own origin, in pixels."""

    key: _Key
    picture: QPixmap
    corner: Point


@dataclass(frozen=True, eq=False, slots=True)
class _Label:
    """Where a piece's label stands; not settled while it only stays where it was before a drag."""

    piece: Piece
    place: Point
    is_settled: bool


class Pictures:
    """The kept picture of every piece by name, and where its label stands."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept] = {}
        self._labels: dict[str, _Label] = {}
        self._ghost: _Kept | None = None

    def draw(self, sheet: Sheet, item: Laid, *, fast: bool) -> None:
        """Draw a piece on the table; `fast` while it changes from frame to frame: nothing is kept then."""
        own = sheet.frame.moved(item.place)
        key = _Key(item.shown, own.scale, sheet.painter.device().devicePixelRatioF(), sheet.look)
        kept = self._kept.get(item.name)
        if kept is None or not kept.key.is_same(key):
            box = _box(item.shown, own.scale)
            if fast or box.width() * box.height() * key.ratio**2 > LARGEST:
                self._draw(Sheet(sheet.painter, own, sheet.look), item, fast=fast)
                return
            kept = self._kept[item.name] = self._made(item, key, box)
        _put(sheet.painter, kept, own)

    def _made(self, item: Laid, key: _Key, box: QRect) -> _Kept:
        return _Kept(key, _picture(key, box, partial(self._draw, item=item, fast=False)), (box.x(), box.y()))

    def _draw(self, sheet: Sheet, item: Laid, *, fast: bool) -> None:
        draw_piece(sheet, item.shown, fast=fast)
        label = self.label(item, fast=fast)
        if not fast:
            draw_marks(sheet, item.shown, label)
            draw_ease(sheet, item.shown)
        draw_label(sheet, item.shown, label)

    def draw_ghost(self, sheet: Sheet, item: Laid) -> None:
        """Draw the outline of a piece as it was before the step in hand; it does not change while a hand drags."""
        own = sheet.frame.moved(item.place)
        key = _Key(item.shown, own.scale, sheet.painter.device().devicePixelRatioF(), sheet.look)
        if self._ghost is None or not self._ghost.key.is_same(key):
            box = _box(item.shown, own.scale)
            if box.width() * box.height() * key.ratio**2 > LARGEST:
                draw_ghost(Sheet(sheet.painter, own, sheet.look), item.shown)
                return
            self._ghost = _Kept(key, _picture(key, box, partial(draw_ghost, piece=item.shown)), (box.x(), box.y()))
        _put(sheet.painter, self._ghost, own)

    def label(self, item: Laid, *, fast: bool) -> Point:
        """Where the piece's label stands, in its own mm; it stays where it was while the piece is dragged."""
        known = self._labels.get(item.name)
        if known is not None and known.piece is item.shown and (fast or known.is_settled):
            return known.place
        if fast and known is not None and _is_on(item.shown, known.place):
            now = _Label(item.shown, known.place, is_settled=False)
        else:
            now = _Label(item.shown, label_place(item.shown), is_settled=True)
        self._labels[item.name] = now
        return now.place

    def forget_others(self, names: frozenset[str]) -> None:
        """Drop the pictures of pieces that are there no more."""
        self._kept = {name: kept for name, kept in self._kept.items() if name in names}
        self._labels = {name: label for name, label in self._labels.items() if name in names}


def _picture(key: _Key, box: QRect, draw: Callable[[Sheet], None]) -> QPixmap:
    picture = QPixmap(ceil(box.width() * key.ratio), ceil(box.height() * key.ratio))
    picture.setDevicePixelRatio(key.ratio)
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        draw(Sheet(painter, Frame(key.scale, -box.x(), -box.y()), key.look))
    return picture


def _put(painter: QPainter, kept: _Kept, own: Frame) -> None:
    """Lay a kept picture where its piece lies, on whole pixels, so that it stays sharp."""
    painter.drawPixmap(QPointF(round(own.x + kept.corner[0]), round(own.y + kept.corner[1])), kept.picture)


def _is_on(piece: Piece, place: Point) -> bool:
    return bool(inside(piece.loop, as_points((place,)))[0])


def _box(piece: Piece, scale: float) -> QRect:
    (left, low), (right, high) = piece.loop.min(axis=0) * scale, piece.loop.max(axis=0) * scale
    whole = QRectF(float(left), -float(high), float(right - left), float(high - low))
    around = whole.adjusted(-AROUND, -AROUND, AROUND, AROUND)
    corner = (floor(around.left()), floor(around.top()))
    return QRect(*corner, ceil(around.right()) - corner[0], ceil(around.bottom()) - corner[1])
