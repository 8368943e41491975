"""The program's own fault, said in one sentence; the trace is only copied, never shown."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QMessageBox, QWidget

SENTENCE: Final = (
    "A fault in Sheerwright itself stopped what was just being done: save your design under a new name, and give the "
    "details to whoever looks after the program."
)


class FaultBox(QMessageBox):
    """Says that the program failed; goes when it has been read or the details have been copied.

    `traces` may grow while the box is open; what stands there then is copied.
    """

    def __init__(self, parent: QWidget, traces: Sequence[str]) -> None:
        super().__init__(QMessageBox.Icon.Warning, "Sheerwright", SENTENCE, parent=parent)
        self._traces = traces
        self.setAccessibleName("Fault")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.copy = self.addButton("Copy details", QMessageBox.ButtonRole.ActionRole)
        self.copy.setAccessibleName("Copy details")
        close = self.addButton("Close", QMessageBox.ButtonRole.RejectRole)
        close.setAccessibleName("Close")
        self.setDefaultButton(close)
        self.setEscapeButton(close)
        self.buttonClicked.connect(self._copy)

    def _copy(self, button: QAbstractButton) -> None:
        if button is self.copy:
            QGuiApplication.clipboard().setText("\n".join(self._traces))
