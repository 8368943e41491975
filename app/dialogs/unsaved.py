"""What would be lost: whether to save it, or to go on without it."""

from __future__ import annotations

from PySide6.QtWidgets import QMessageBox, QWidget

from app.dialogs.question import Answer, question


def unsaved_box(parent: QWidget, name: str) -> QMessageBox:
    """The question; its `finished` gives one of Save, Discard and Cancel, and Esc is Cancel."""
    return question(
        parent,
        "Unsaved work",
        (
            f"{name} has changes that are not saved.",
            "Save them before going on? What is discarded cannot be brought back.",
        ),
        answers={Answer.Save: "Save", Answer.Discard: "Discard", Answer.Cancel: "Cancel"},
        enter=Answer.Save,
    )


def not_kept_box(parent: QWidget, what: str) -> QMessageBox:
    """Word of what is typed or shown and in no design; its `finished` gives Ignore to go on without it, else Cancel."""
    return question(
        parent,
        "Not kept yet",
        (
            f"{what[:1].upper()}{what[1:]} is not kept yet.",
            "Go back to keep it, or go on without it: it is in no file.",
        ),
        answers={Answer.Cancel: "Go back", Answer.Ignore: "Go on without it"},
        enter=Answer.Cancel,
    )
