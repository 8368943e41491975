"""What to do where a file is not hers alone: changed by somebody else, or open in another window."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QPushButton, QWidget

KEEP_MINE = "Keep mine"
OPEN_THEIRS = "Open theirs"
SAVE_AS = "Save as…"
OPEN_COPY = "Open a copy"
CANCEL = "Cancel"


def changed_box(parent: QWidget, name: str) -> QMessageBox:
    """The question about a file that changed on the disk; `buttonClicked` gives a button by its words."""
    return _box(
        parent,
        ("Changed on the disk", f"{name} was changed by somebody else since you opened it."),
        f"{KEEP_MINE}: your work goes in, and theirs is kept beside it as {name}~.\n"
        f"{OPEN_THEIRS}: your unsaved work is given up.\n{SAVE_AS[:-1]}: both stay.",
        (KEEP_MINE, OPEN_THEIRS, SAVE_AS, CANCEL),
    )


def open_elsewhere_box(parent: QWidget, name: str, where: str) -> QMessageBox:
    """The question about a file that another window has open; `buttonClicked` gives a button by its words."""
    return _box(
        parent,
        ("Open elsewhere", f"{name} is open {where}."),
        "Go on there, or open an unsaved copy here that is saved under another name.",
        (OPEN_COPY, CANCEL),
    )


def _box(parent: QWidget, title: tuple[str, str], more: str, buttons: tuple[str, ...]) -> QMessageBox:
    box = QMessageBox(QMessageBox.Icon.Question, *title, parent=parent)
    box.setAccessibleName(title[0])
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setInformativeText(more)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    for words in buttons:
        role = QMessageBox.ButtonRole.RejectRole if words == CANCEL else QMessageBox.ButtonRole.ActionRole
        box.addButton(words, role).setAccessibleName(words)
    cancel = next(button for button in box.buttons() if button.text() == CANCEL)
    assert isinstance(cancel, QPushButton)
    box.setDefaultButton(cancel)
    box.setEscapeButton(cancel)
    return box
