"""The contour that the form advises: what it would do, in words, and the button that does it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.panels.panel import button, heading, sentence_label
from core.design.replay import Replay
from core.errors import Refusal
from core.form.advice import Advice, advice_words, advised
from core.form.shown import Edge, Laid


class ContourOffer(QWidget):
    """Says what is to be taken in where, or why nothing is. What is offered counts until anything changes."""

    accepted = Signal(object)
    """The `Advice` whose button was pressed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.advice: Advice | None = None
        self.words = sentence_label(parent=self)
        self.words.setAccessibleName("What the form advises")
        self.button = button("Take it in", self, tip="Do what is advised, as one act that can be undone.")
        self.button.clicked.connect(self._accept)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        row = QHBoxLayout()
        row.addWidget(heading("Contour", self), 1)
        row.addWidget(self.button)
        column.addLayout(row)
        column.addWidget(self.words)
        self.withdraw()

    def withdraw(self) -> None:
        """Offer nothing while something changes; the words stay, so that the page does not jump."""
        self.advice = None
        self.button.setEnabled(False)

    def offer(self, done: Replay, laid: Laid, edge: Edge) -> None:
        """Work out what is to be taken in of a line as it lies."""
        try:
            self.advice = advised(done, laid, edge)
        except Refusal as refusal:
            self.withdraw()
            self.words.setText(refusal.sentence)
        else:
            self.words.setText("\n".join(advice_words(self.advice, done.design.unit)))
            self.button.setEnabled(True)

    def _accept(self) -> None:
        if self.advice is not None:
            self.accepted.emit(self.advice)
