"""Choosing a picture of the style: read with suspicion, scaled down, and kept without what else was in its file."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, Qt, Signal
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QMainWindow

from app import settings
from app.canvas.underlay import read_image
from app.dialogs.choose_file import picture_dialog
from app.dialogs.sentence import tell
from app.session import Session
from core.design.picture import LARGEST_IMAGE, Pin, StylePicture
from core.errors import Refusal
from core.file.gates import Unfit, read_bytes
from core.file.naming import shown_name

LARGEST_FILE: Final = 40_000_000
"""Bytes of a file that is read at all."""

QUALITY: Final = 85

FIRST_PINS: Final = (
    Pin("neck_pit", 0.5, 0.2),
    Pin("shoulder_point", 0.72, 0.2),
    Pin("bust_point", 0.6, 0.42),
    Pin("waist_centre", 0.5, 0.7),
)
"""Where a bust-length picture has these, roughly, so that the pins lie near where they are dragged to."""


def kept_picture(path: Path) -> bytes:
    """The picture in a file as the design keeps it: at most 1600 pixels long, JPEG, nothing but its pixels.

    A photograph carries where and when it was taken; none of that is kept. Refusal when it is no PNG or JPEG, too
    large, or cannot be read.
    """
    name = shown_name(path)
    try:
        data = read_bytes(path, LARGEST_FILE + 1)
    except Unfit as unfit:
        raise Refusal(f"{name} cannot be read: {unfit}; choose another picture.") from unfit
    except OSError as error:
        raise Refusal(f"{name} cannot be read: {error.strerror}; choose another picture.") from error
    image = read_image(data) if len(data) <= LARGEST_FILE else None
    if image is None:
        raise Refusal(f"{name} is no PNG or JPEG picture of under 40 MB that can be shown; choose another one.")
    kept = _as_jpeg(image)
    if len(kept) > LARGEST_IMAGE:
        raise Refusal(f"{name} is too large to be kept in the design even when scaled down; choose another one.")
    return kept


def _as_jpeg(image: QImage) -> bytes:
    sheet = QImage(image.size(), QImage.Format.Format_RGB32)
    sheet.fill(Qt.GlobalColor.white)
    with QPainter(sheet) as painter:
        painter.drawImage(0, 0, image)
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    sheet.save(buffer, "jpeg", QUALITY)  # type: ignore[call-overload]  # the stubs want bytes for a format's name
    buffer.close()
    return bytes(held.data())


class StylePictures(QObject):
    """Asks for a picture and puts it into the design; `taken` when it is there to be pinned."""

    taken = Signal()

    def __init__(self, session: Session, window: QMainWindow) -> None:
        super().__init__(window)
        self._session = session
        self._window = window

    def choose(self) -> None:
        """Ask which picture."""
        dialog = picture_dialog(self._window, settings.last_folder())
        dialog.fileSelected.connect(self._take)
        dialog.open()

    def _take(self, name: str) -> None:
        try:
            image = kept_picture(Path(name))
        except Refusal as refusal:
            tell(self._window, refusal.sentence)
            return
        design = self._session.design
        others = tuple(picture for picture in design.pictures if picture.piece != "front")
        pictures = (*others, StylePicture(image, pins=FIRST_PINS))
        self._session.do("Lay a picture over the block", replace(design, pictures=pictures))
        self.taken.emit()
