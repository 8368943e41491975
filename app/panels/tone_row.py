"""The tone in which the form is shown: a row of swatches, of which one is taken. It is no part of the design."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QToolButton, QWidget

from app.messages import guard
from app.theme import TONES, Tone, ToneName

SWATCH: Final = 18
"""Logical pixels of a swatch; its button is larger."""

BUTTON: Final = 28


class ToneRow(QWidget):
    """A button a tone; the arrow keys go from one to the next and take it."""

    chosen = Signal(str)

    def __init__(self, tone: ToneName, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Tone of the form")
        self.group = QButtonGroup(self)
        self.buttons: dict[ToneName, QToolButton] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        for name, about in TONES.items():
            each = self.buttons[name] = self._button(about)
            each.setChecked(name == tone)
            row.addWidget(each)
        row.addStretch(1)
        self.group.buttonClicked.connect(self._clicked)

    def _button(self, about: Tone) -> QToolButton:
        button = QToolButton(self)
        button.setAccessibleName(about.name)
        button.setToolTip(f"Show the form in this tone: {about.name.lower()}. It is kept with the settings.")
        button.setCheckable(True)
        button.setAutoRaise(True)
        button.setIcon(_swatch(about))
        button.setIconSize(QSize(SWATCH, SWATCH))
        button.setFixedSize(BUTTON, BUTTON)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.group.addButton(button)
        return button

    @guard(None)
    def _clicked(self, button: QToolButton) -> None:
        self.chosen.emit(next(name for name, each in self.buttons.items() if each is button))


def _swatch(tone: Tone) -> QIcon:
    """The tone with a corner of its cloth."""
    picture = QPixmap(2 * SWATCH, 2 * SWATCH)
    picture.fill(QColor(tone.colour))
    with QPainter(picture) as painter:
        painter.fillRect(0, SWATCH, SWATCH, SWATCH, QColor(tone.main))
    picture.setDevicePixelRatio(2.0)
    return QIcon(picture)
