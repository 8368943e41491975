"""Whether a file that is there already may be replaced."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

REPLACE: Final = QMessageBox.StandardButton.Yes
NAMES: Final = {REPLACE: "Replace it", QMessageBox.StandardButton.Cancel: "Keep it"}


def replace_box(parent: QWidget, name: str) -> QMessageBox:
    """The question; its `finished` gives REPLACE, or Cancel, which Enter and Esc mean too."""
    box = QMessageBox(QMessageBox.Icon.Question, "Replace the file", f"There is a file {name} already.")
    box.setParent(parent, Qt.WindowType.Dialog)
    box.setAccessibleName("Replace the file")
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setInformativeText("Replace it? What it holds now cannot be brought back.")
    box.setStandardButtons(REPLACE | QMessageBox.StandardButton.Cancel)
    for button, words in NAMES.items():
        box.button(button).setText(words)
        box.button(button).setAccessibleName(words)
    box.setDefaultButton(QMessageBox.StandardButton.Cancel)
    box.setEscapeButton(QMessageBox.StandardButton.Cancel)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return box
