"""Pictures of pieces that are kept, so that a piece which has not changed costs one copy of pixels a frame."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from math import ceil, floor
from typing import Final

import msgspec
from PySide6.QtCore import QMargins, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap

from app.canvas.ease_marks import draw_ease
from app.canvas.fold_marks import draw_fold
from app.canvas.label_place import label_place
from app.canvas.laid import Laid
from app.canvas.paths import Frame
from app.canvas.piece_drawing import Look, Sheet, draw_ghost, draw_piece
from app.canvas.piece_marks import draw_label, draw_marks, label_box, label_lines
from app.canvas.quick_drawing import QuickShape, draw_quickly, quick_shape
from core.geometry.polyline import Point
from core.pieces.records import Piece

AROUND: Final = 24
"""Logical pixels round a piece for what is written beside its outline."""

_MARGINS: Final = QMargins(AROUND, AROUND, AROUND, AROUND)

LARGEST: Final = 6_000_000
"""Pixels of the largest picture that is kept; a piece seen from nearer is drawn anew, clipped to the window."""


class _Key(msgspec.Struct, frozen=True, eq=False):
    """What a kept picture shows; it is good while all of it is the same."""

    shown: Piece
    scale: float
    turn: float
    ratio: float
    look: Look

    def is_same(self, other: _Key) -> bool:
        return self.shown is other.shown and self.is_alike(other)

    def is_alike(self, other: _Key) -> bool:
        """Whether it is drawn alike, though it may be another piece."""
        zoom, others = (self.scale, self.turn, self.ratio), (other.scale, other.turn, other.ratio)
        return self.look is other.look and zoom == others


class _Kept(msgspec.Struct, frozen=True, eq=False):
    """A picture, and where its corner lies from the piece's own origin, in pixels."""

    key: _Key
    picture: QPixmap
    corner: Point


class _Label(msgspec.Struct, frozen=True, eq=False):
    """Where a piece's label stands, and the piece it was found for."""

    piece: Piece
    place: Point


class _Lines(msgspec.Struct, frozen=True, eq=False):
    """Into which lines a piece's name is divided, and the room round the label's place that they take."""

    key: _Key
    words: Sequence[str]
    box: QRectF


class Pictures:
    """The kept picture of every piece by name, and where its label stands."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept] = {}
        self._shapes: dict[str, tuple[_Key, QuickShape]] = {}
        self._lines: dict[str, _Lines] = {}
        self._labels: dict[str, _Label] = {}
        self._ghost: _Kept | None = None

    def draw(self, sheet: Sheet, item: Laid, *, fast: bool) -> None:
        """Draw a piece on the table; `fast` while it changes from frame to frame: no picture is made then."""
        own = Sheet(sheet.painter, sheet.frame.moved(item.place), sheet.look)
        key = _key(item, own.frame, sheet.look, sheet.painter.device().devicePixelRatioF())
        kept = self._kept.get(item.name)
        if kept is not None and kept.key.is_same(key):
            _put(sheet.painter, kept, own.frame)
        elif fast:
            self._draw_quickly(own, item, key)
        else:
            self._draw_whole(own, item, key)

    def _draw_whole(self, sheet: Sheet, item: Laid, key: _Key) -> None:
        box = _box(item.shown, sheet.frame)
        if box.width() * box.height() * key.ratio**2 > LARGEST:
            self._draw(sheet, item, key)
        else:
            picture = _picture(key, box, partial(self._draw, item=item, key=key))
            kept = self._kept[item.name] = _Kept(key, picture, (box.x(), box.y()))
            _put(sheet.painter, kept, sheet.frame)

    def _draw(self, sheet: Sheet, item: Laid, key: _Key) -> None:
        draw_piece(sheet, item.shown)
        for fold in item.folds:
            draw_fold(sheet, fold, with_words=True)
        label, lines = self.label(item, fast=False), self._lines_of(sheet, item, key, fast=False).words
        draw_marks(sheet, item.shown, label, lines)
        draw_ease(sheet, item.shown)
        draw_label(sheet, item.shown, label, lines)

    def _draw_quickly(self, sheet: Sheet, item: Laid, key: _Key) -> None:
        """Draw a piece that a hand changes; its name stays divided into lines as it was when the hand took hold."""
        draw_quickly(sheet, item.shown, self._shape(item, key))
        for fold in item.folds:
            draw_fold(sheet, fold, with_words=False)
        lines = self._lines_of(sheet, item, key, fast=True)
        draw_label(sheet, item.shown, self.label(item, fast=True), lines.words)

    def _lines_of(self, sheet: Sheet, item: Laid, key: _Key, *, fast: bool) -> _Lines:
        """How the name is divided; `fast`: as it was for the piece before, if it is drawn alike."""
        known = self._lines.get(item.name)
        if known is None or not (known.key.is_alike(key) if fast else known.key.is_same(key)):
            words = label_lines(sheet, item.shown, self.label(item, fast=fast))
            known = self._lines[item.name] = _Lines(key, words, label_box(lines=words, look=sheet.look))
        return known

    def label_box(self, sheet: Sheet, item: Laid) -> QRectF:
        """The pixels that a piece's label takes on the table, as it was drawn last."""
        own = Sheet(sheet.painter, sheet.frame.moved(item.place), sheet.look)
        key = _key(item, own.frame, sheet.look, sheet.painter.device().devicePixelRatioF())
        return self._lines_of(own, item, key, fast=True).box.translated(own.frame.point(self.label(item, fast=True)))

    def _shape(self, item: Laid, key: _Key) -> QuickShape:
        """What a piece is drawn with while a hand drags; its label is placed anew where it would lie off the piece."""
        known = self._shapes.get(item.name)
        if known is not None and known[0].is_same(key):
            return known[1]
        frame = Frame(key.scale, turn=key.turn)
        shape = quick_shape(item.shown, frame)
        self._shapes[item.name] = (key, shape)
        if not shape.cloth.containsPoint(frame.point(self.label(item, fast=True)), Qt.FillRule.OddEvenFill):
            del self._labels[item.name]
        return shape

    def box(self, item: Laid, frame: Frame, look: Look, ratio: float) -> QRect:
        """The pixels of the table that a piece is drawn on while a hand drags."""
        own = frame.moved(item.place)
        shape = self._shape(item, _key(item, own, look, ratio))
        return shape.cloth.boundingRect().translated(own.x, own.y).toAlignedRect().marginsAdded(_MARGINS)

    def draw_ghost(self, sheet: Sheet, item: Laid) -> None:
        """Draw the outline of a piece as it was before the step in hand; it does not change while a hand drags."""
        own = sheet.frame.moved(item.place)
        key = _key(item, own, sheet.look, sheet.painter.device().devicePixelRatioF())
        if self._ghost is None or not self._ghost.key.is_same(key):
            box = _box(item.shown, own)
            if box.width() * box.height() * key.ratio**2 > LARGEST:
                draw_ghost(Sheet(sheet.painter, own, sheet.look), item.shown)
                return
            self._ghost = _Kept(key, _picture(key, box, partial(draw_ghost, piece=item.shown)), (box.x(), box.y()))
        _put(sheet.painter, self._ghost, own)

    def label(self, item: Laid, *, fast: bool) -> Point:
        """Where the piece's label stands, in its own mm; while the piece is dragged it stays where it was."""
        known = self._labels.get(item.name)
        if known is not None and (fast or known.piece is item.shown):
            return known.place
        now = self._labels[item.name] = _Label(item.shown, label_place(item.shown, item.folds))
        return now.place

    def forget_others(self, names: frozenset[str]) -> None:
        """Drop the pictures of pieces that are there no more."""
        self._kept = {name: kept for name, kept in self._kept.items() if name in names}
        self._shapes = {name: shape for name, shape in self._shapes.items() if name in names}
        self._lines = {name: lines for name, lines in self._lines.items() if name in names}
        self._labels = {name: label for name, label in self._labels.items() if name in names}


def _key(item: Laid, own: Frame, look: Look, ratio: float) -> _Key:
    return _Key(item.shown, own.scale, own.turn, ratio, look)


def _picture(key: _Key, box: QRect, draw: Callable[[Sheet], None]) -> QPixmap:
    picture = QPixmap(ceil(box.width() * key.ratio), ceil(box.height() * key.ratio))
    picture.setDevicePixelRatio(key.ratio)
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        draw(Sheet(painter, Frame(key.scale, -box.x(), -box.y(), key.turn), key.look))
    return picture


def _put(painter: QPainter, kept: _Kept, own: Frame) -> None:
    """Lay a kept picture where its piece lies, on whole pixels, so that it stays sharp."""
    painter.drawPixmap(QPointF(round(own.x + kept.corner[0]), round(own.y + kept.corner[1])), kept.picture)


def _box(piece: Piece, own: Frame) -> QRect:
    """The box of a piece's picture in pixels, from the piece's own origin."""
    pixels = Frame(own.scale, turn=own.turn).pixels(piece.loop)
    (left, top), (right, bottom) = pixels.min(axis=0).tolist(), pixels.max(axis=0).tolist()
    whole = QRectF(left, top, right - left, bottom - top)
    around = whole.adjusted(-AROUND, -AROUND, AROUND, AROUND)
    corner = (floor(around.left()), floor(around.top()))
    return QRect(*corner, ceil(around.right()) - corner[0], ceil(around.bottom()) - corner[1])
