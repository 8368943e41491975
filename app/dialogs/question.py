"""Questions with an answer to each button, asked in one way: plain text, Esc means the answer that loses nothing."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

Answer = QMessageBox.StandardButton


def question(
    parent: QWidget, title: str, words: tuple[str, str], *, answers: Mapping[Answer, str], enter: Answer
) -> QMessageBox:
    """A box that asks: the matter and what follows from it, and each answer by its words.

    Its `finished` gives one of the answers: Cancel is what Esc means, `enter` what Enter means. It is not shown
    yet, and goes when it has been answered.
    """
    box = QMessageBox(QMessageBox.Icon.Question, title, words[0])
    box.setParent(parent, Qt.WindowType.Dialog)
    box.setAccessibleName(title)
    # Text from a file may look like markup; it is shown as it stands.
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setInformativeText(words[1])
    for answer, said in answers.items():
        button = box.addButton(answer)
        button.setText(said)
        button.setAccessibleName(said)
    box.setDefaultButton(enter)
    box.setEscapeButton(Answer.Cancel)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return box
