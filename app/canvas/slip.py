"""A slip of paper pinned to the table: one sentence that asks, and two buttons."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from app.canvas.rulers import WIDE
from app.messages import guard
from app.theme import Theme

FROM_EDGE = 16
"""Pixels between the slip and the table's edges."""


class Slip(QFrame):
    """Asks whether what is shown shall be done. It lies at the foot of the table and goes with its tool."""

    accepted = Signal()
    dropped = Signal()

    def __init__(self, table: QWidget, theme: Theme, *, accept: str, drop: str = "Leave it") -> None:
        super().__init__(table)
        self._table, self._theme = table, theme
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._words = QLabel(self)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._accept, self._drop = QPushButton(accept, self), QPushButton(drop, self)
        row = QHBoxLayout(self)
        for button in (self._accept, self._drop):
            button.setAccessibleName(button.text())
            button.setAutoDefault(True)
        self._accept.clicked.connect(self.accepted)
        self._drop.clicked.connect(self.dropped)
        row.addWidget(self._words)
        row.addWidget(self._accept)
        row.addWidget(self._drop)
        table.installEventFilter(self)

    def ask(self, words: str, *, can_accept: bool = True) -> None:
        """Show a sentence; the first button is there only when it can be done."""
        self._words.setText(words)
        self.setAccessibleName(words)
        self._accept.setEnabled(can_accept)
        self.adjustSize()
        self._pin()
        self.setPalette(self._paper())
        self.show()
        self.raise_()

    def _paper(self) -> QPalette:
        """The table's own paper and ink, whatever the window's buttons look like."""
        found = QPalette(self.palette())
        found.setColor(QPalette.ColorRole.Window, QColor(self._theme.label))
        found.setColor(QPalette.ColorRole.WindowText, QColor(self._theme.ink))
        return found

    def _pin(self) -> None:
        self.move(WIDE + FROM_EDGE, self._table.height() - self.height() - FROM_EDGE)

    @guard(default=False)
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The slip stays at the foot of a table whose size changes."""
        if event.type() == QEvent.Type.Resize:
            self._pin()
        return False

    def take_away(self) -> None:
        """Take the slip off the table for good."""
        self._table.removeEventFilter(self)
        self.hide()
        self.deleteLater()
