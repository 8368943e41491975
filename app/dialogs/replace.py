"""Whether a file that is there already may be replaced."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QMessageBox, QWidget

from app.dialogs.question import Answer, question

REPLACE: Final = Answer.Yes


def replace_box(parent: QWidget, name: str) -> QMessageBox:
    """The question; its `finished` gives REPLACE, or Cancel, which Enter and Esc mean too."""
    return question(
        parent,
        "Replace the file",
        (f"There is a file {name} already.", "Replace it? What it holds now cannot be brought back."),
        answers={REPLACE: "Replace it", Answer.Cancel: "Keep it"},
        enter=Answer.Cancel,
    )
