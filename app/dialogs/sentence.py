"""A sentence in a box of its own, for what must be read."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget


def tell(parent: QWidget, sentence: str, *, title: str = "Sheerwright") -> QMessageBox:
    """Show a sentence in a box over a window; returns at once, and the box goes when it has been read."""
    box = QMessageBox(QMessageBox.Icon.Information, title, sentence, QMessageBox.StandardButton.Ok, parent)
    box.setAccessibleName("Message")
    # Text from a file may look like markup; it is shown as it stands.
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.button(QMessageBox.StandardButton.Ok).setAccessibleName("OK")
    box.open()
    return box
