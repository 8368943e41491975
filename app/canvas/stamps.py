"""Small pictures that are drawn again and again: labels, match marks. Each is drawn once and stamped from then on."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from math import ceil
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap

MOST: Final = 200
"""So many stamps are kept; a table has some twenty."""


class Stamps:
    """Pictures by key. They live as long as the look that they were drawn in."""

    def __init__(self) -> None:
        self._made: dict[Hashable, tuple[QPixmap, QPointF]] = {}

    def put(
        self,
        painter: QPainter,
        key: Hashable,
        at: QPointF,
        *,
        box: Callable[[], QRectF],
        draw: Callable[[QPainter], None],
    ) -> None:
        """Stamp a picture with its origin at a pixel; the first time `draw` draws it, within `box` round the origin."""
        ratio = painter.device().devicePixelRatioF()
        whole = (key, ratio)
        if whole not in self._made:
            if len(self._made) >= MOST:
                self._made.clear()
            room = box()
            self._made[whole] = (_drawn(ratio, room, draw), room.topLeft())
        picture, off = self._made[whole]
        corner = at + off
        sharp = QPointF(round(corner.x() * ratio) / ratio, round(corner.y() * ratio) / ratio)
        painter.drawPixmap(sharp, picture)


def _drawn(ratio: float, box: QRectF, draw: Callable[[QPainter], None]) -> QPixmap:
    picture = QPixmap(ceil(box.width() * ratio), ceil(box.height() * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(-box.topLeft())
        draw(painter)
    return picture
