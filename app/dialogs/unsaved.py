"""Whether to save what would be lost."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

Choice = QMessageBox.StandardButton
NAMES = {Choice.Save: "Save", Choice.Discard: "Discard", Choice.Cancel: "Cancel"}


def unsaved_box(parent: QWidget, name: str) -> QMessageBox:
    """The question; its `finished` gives one of Save, Discard and Cancel, and Esc is Cancel."""
    box = QMessageBox(QMessageBox.Icon.Question, "Unsaved work", f"{name} has changes that are not saved.")
    box.setParent(parent, Qt.WindowType.Dialog)
    box.setAccessibleName("Unsaved work")
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setInformativeText("Save them before going on? What is discarded cannot be brought back.")
    box.setStandardButtons(Choice.Save | Choice.Discard | Choice.Cancel)
    for button, words in NAMES.items():
        box.button(button).setText(words)
        box.button(button).setAccessibleName(words)
    box.setDefaultButton(Choice.Save)
    box.setEscapeButton(Choice.Cancel)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return box
