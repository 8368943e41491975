"""The program's own fault, said in one sentence; the trace is only copied, never shown."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QMessageBox, QWidget

SENTENCE: Final = "A fault in Sheerwright itself stopped what was just being done."
KEPT: Final = (
    "Your design is as it was before, and what is not saved of it is kept for File, Recover work. To be quite sure, "
    "save your design under a new name."
)
NOT_KEPT: Final = "No recovery copy could be kept: save your design under a new name now."
DETAILS: Final = (
    "The details say where the program failed. They are only copied, never sent, and may hold a name or a measurement: "
    "read them before you give them to whoever looks after the program."
)


class FaultBox(QMessageBox):
    """Says that the program failed; goes when it has been read or the details have been copied.

    `traces` may grow while the box is open; what stands there then is copied.
    """

    def __init__(self, parent: QWidget, traces: Sequence[str], *, is_kept: bool) -> None:
        super().__init__(QMessageBox.Icon.Warning, "Sheerwright", SENTENCE, parent=parent)
        self._traces = traces
        self.setAccessibleName("Fault")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setInformativeText(f"{KEPT if is_kept else NOT_KEPT}\n\n{DETAILS}")
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
