"""The picture of the style as it is seen through the cloth: read with suspicion, laid by its pins over the block.

It is drawn over the pieces and not under them, so that it shows through their tint; lines, marks and handles lie on it.
"""

from __future__ import annotations

from typing import Final

import msgspec
import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPointF, QSize, Qt
from PySide6.QtGui import QImage, QImageReader, QPainter, QPixmap, QTransform

from app.canvas.paths import Frame
from core.design.picture import StylePicture, laid_picture
from core.errors import Refusal
from core.geometry.polyline import Point

LONGEST: Final = 1600
"""Pixels of a kept picture's longer side: finer than a line drawn over it needs."""

MOST_PIXELS: Final = 60_000_000
"""Of a picture that is read at all; a large photograph has 50 million."""

LARGEST: Final = 6_000_000
"""Pixels of a laid picture that is kept ready; a nearer view of it is drawn anew, without smoothing."""

_STARTS: Final = {b"\x89PNG\r\n\x1a\n": b"png", b"\xff\xd8\xff": b"jpeg"}


def read_image(data: bytes) -> QImage | None:
    """The image in the bytes of a PNG or a JPEG, scaled down to what is kept; None for anything else.

    What it is told by its first bytes alone, and its size before a pixel of it is unpacked.
    """
    kind = next((name for start, name in _STARTS.items() if data.startswith(start)), None)
    if kind is None:
        return None
    held = QByteArray(data)
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(kind))
    reader.setDecideFormatFromContent(False)
    reader.setAutoTransform(True)
    size = reader.size()
    if size.isEmpty() or size.width() * size.height() > MOST_PIXELS:
        return None
    if max(size.width(), size.height()) > LONGEST:
        reader.setScaledSize(size.scaled(QSize(LONGEST, LONGEST), Qt.AspectRatioMode.KeepAspectRatio))
    image = reader.read()
    buffer.close()
    return None if image.isNull() else image


class _Ready(msgspec.Struct, frozen=True, eq=False):
    """A picture laid at one zoom: what it was made of, and where its corner lies from the block's origin, in pixels."""

    image: bytes
    matrix: NDArray[np.float64]
    scale: float
    """Device pixels a mm."""
    pixels: QPixmap
    corner: Point

    def shows(self, image: bytes, matrix: NDArray[np.float64], scale: float) -> bool:
        """Whether it is this picture, laid so, at this zoom."""
        return self.image is image and self.scale == scale and np.array_equal(self.matrix, matrix)


class Underlay:
    """Draws the pictures of a design; each is unpacked once, and laid once for every zoom."""

    def __init__(self) -> None:
        self._images: dict[str, tuple[bytes, QImage]] = {}
        self._ready: dict[str, _Ready] = {}

    def image(self, picture: StylePicture) -> QImage:
        """The picture unpacked; a grey sheet where it cannot be."""
        known = self._images.get(picture.piece)
        if known is None or known[0] is not picture.image:
            image = read_image(picture.image)
            if image is None:
                image = QImage(60, 80, QImage.Format.Format_RGB32)
                image.fill(Qt.GlobalColor.lightGray)
            known = self._images[picture.piece] = (picture.image, image)
        return known[1]

    def aspect(self, picture: StylePicture) -> float:
        """Its width / height."""
        image = self.image(picture)
        return image.width() / image.height()

    def draw(self, painter: QPainter, frame: Frame, picture: StylePicture, marks: dict[str, Point]) -> None:
        """Draw a picture by its pins over a block whose landmarks are `marks`; nothing when they do not place it."""
        try:
            laying = laid_picture(picture, self.aspect(picture), marks)
        except Refusal:
            return
        if laying is not None:
            self._draw(painter, frame, picture, laying.matrix)

    def _draw(self, painter: QPainter, frame: Frame, picture: StylePicture, matrix: NDArray[np.float64]) -> None:
        """Draw a picture by a matrix (2, 3) from units of its height to mm."""
        ratio = painter.device().devicePixelRatioF()
        known = self._ready.get(picture.piece)
        if known is None or not known.shows(picture.image, matrix, frame.scale * ratio):
            image = self.image(picture)
            way = _to_pixels(image, matrix, frame.scale * ratio)
            if abs(way.determinant()) * image.width() * image.height() > LARGEST:
                _draw_large(painter, frame, image, _to_pixels(image, matrix, frame.scale), strength=picture.strength)
                return
            pixels = QPixmap.fromImage(image.transformed(way, Qt.TransformationMode.SmoothTransformation))
            pixels.setDevicePixelRatio(ratio)
            box = way.mapRect(image.rect().toRectF())
            corner = (box.left() / ratio, box.top() / ratio)
            known = self._ready[picture.piece] = _Ready(picture.image, matrix, frame.scale * ratio, pixels, corner)
        painter.setOpacity(picture.strength)
        painter.drawPixmap(QPointF(round(frame.x + known.corner[0]), round(frame.y + known.corner[1])), known.pixels)
        painter.setOpacity(1.0)


def _to_pixels(image: QImage, matrix: NDArray[np.float64], scale: float) -> QTransform:
    """From the image's pixels to the widget's, the block's origin at (0, 0)."""
    unit = scale / image.height()
    (a, b, dx), (c, d, dy) = matrix.tolist()
    return QTransform(a * unit, -c * unit, -b * unit, d * unit, dx * scale, -dy * scale)


def _draw_large(painter: QPainter, frame: Frame, image: QImage, way: QTransform, *, strength: float) -> None:
    painter.save()
    painter.setOpacity(strength)
    painter.translate(frame.x, frame.y)
    painter.setTransform(way, True)
    painter.drawImage(0, 0, image)
    painter.restore()
