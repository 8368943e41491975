"""Which bytes are read as a picture: two kinds, told by how they begin, of a size that is known beforehand."""

from __future__ import annotations

import struct
import zlib
from time import process_time

import pytest
from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtGui import QColor, QImage

from app.canvas.underlay import LONGEST, MOST_PIXELS, read_image

pytestmark = pytest.mark.usefixtures("qapp")


def encoded(kind: str, width: int = 30, height: int = 20) -> bytes:
    """A red picture in some format."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor("red"))
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    assert image.save(buffer, kind)  # type: ignore[call-overload] # the stubs want bytes here, Qt takes either
    return bytes(buffer.data().data())


def claimed(width: int, height: int) -> bytes:
    """A PNG that says it is so large (PNG specification, IHDR: one bit a pixel) and holds next to nothing."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    packed = zlib.compress(b"\0" * 1000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


@pytest.mark.qt_log_ignore("JPEG datastream contains no image", "Unsupported marker type", extend=True)
@pytest.mark.parametrize("kind", ["png", "jpeg"])
def test_only_two_kinds_of_picture_are_read(kind: str) -> None:
    """PNG and JPEG; not another that Qt knows, not a drawing, not a page, not one kind with another's beginning."""
    image = read_image(encoded(kind))
    assert image is not None
    assert (image.width(), image.height()) == (30, 20)
    begins = {"png": b"\x89PNG\r\n\x1a\n", "jpeg": b"\xff\xd8\xff"}[kind]
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>'
    for data in (encoded("bmp"), drawing, b"%PDF-1.7\n", b"", begins, begins + drawing, begins + encoded("bmp")):
        assert read_image(data) is None


def test_a_picture_bomb_is_refused() -> None:
    """A few bytes that claim 900 million pixels cost no time; one pixel too many is too many."""
    begun = process_time()
    assert read_image(claimed(30_000, 30_000)) is None
    assert read_image(claimed(MOST_PIXELS // 1000 + 1, 1000)) is None
    assert process_time() - begun < 0.5


def test_a_large_picture_is_kept_small() -> None:
    """Its longer side is what a line drawn over it needs, its shape is kept."""
    image = read_image(encoded("png", 2 * LONGEST, LONGEST))
    assert image is not None
    assert (image.width(), image.height()) == (LONGEST, LONGEST // 2)
