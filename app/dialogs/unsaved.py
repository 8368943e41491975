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


def not_kept_box(parent: QWidget, what: str) -> QMessageBox:
    """Word of what is typed or shown and in no design; its `finished` gives Ignore to go on without it, else Cancel."""
    box = QMessageBox(QMessageBox.Icon.Question, "Not kept yet", f"{what[:1].upper()}{what[1:]} is not kept yet.")
    box.setParent(parent, Qt.WindowType.Dialog)
    box.setAccessibleName("Not kept yet")
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setInformativeText("Go back to keep it, or go on without it: it is in no file.")
    box.setStandardButtons(Choice.Cancel | Choice.Ignore)
    for button, words in ((Choice.Cancel, "Go back"), (Choice.Ignore, "Go on without it")):
        box.button(button).setText(words)
        box.button(button).setAccessibleName(words)
    box.setDefaultButton(Choice.Cancel)
    box.setEscapeButton(Choice.Cancel)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return box
