"""What was not saved when the program ended: a list to recover from or to throw away."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.dialogs.question import Answer, question
from core.file.naming import shown_name
from core.file.recovery import KeptWork

NAME = "Recover work"
WORDS = (
    "Sheerwright ended before this work was saved. Recovered work opens as an unsaved copy: the file it belongs to "
    "stays as it is until you save."
)
NOTHING = "There is no work to recover: everything was saved or discarded."


class RecoverDialog(QDialog):
    """Lists kept work, newest first. `recover` and `throw_away` carry the work that was chosen."""

    recover = Signal(object)
    throw_away = Signal(object)

    def __init__(self, works: Sequence[KeptWork], damaged: Sequence[Path], parent: QWidget) -> None:
        super().__init__(parent)
        self._works = list(works)
        self.setWindowTitle(NAME)
        self.setAccessibleName(NAME)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        column = QVBoxLayout(self)
        self.words = QLabel(WORDS if works else NOTHING, self)
        self.words.setWordWrap(True)
        column.addWidget(self.words)
        self.list = QListWidget(self)
        self.list.setAccessibleName("Work to recover")
        self.list.setAlternatingRowColors(True)
        for work in self._works:
            self.list.addItem(said(work))
        self.list.setVisible(bool(works))
        self.list.setCurrentRow(0)
        self.list.itemActivated.connect(self._recover)
        column.addWidget(self.list, 1)
        if damaged:
            column.addWidget(self._damaged(damaged))
        column.addWidget(self._buttons())
        self.resize(560, 320 if works else 120)

    def _damaged(self, damaged: Sequence[Path]) -> QLabel:
        count, folder = len(damaged), damaged[0].parent
        copies = "1 more copy is" if count == 1 else f"{count} more copies are"
        label = QLabel(f"{copies} damaged and cannot be recovered; what is left of it lies in {folder}.", self)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        label.setWordWrap(True)
        return label

    def _buttons(self) -> QDialogButtonBox:
        box = QDialogButtonBox(self)
        self.recover_button = self._button(box, "Recover", QDialogButtonBox.ButtonRole.AcceptRole)
        self.throw_button = self._button(box, "Throw away…", QDialogButtonBox.ButtonRole.DestructiveRole)
        later = self._button(box, "Later" if self._works else "Close", QDialogButtonBox.ButtonRole.RejectRole)
        self.recover_button.clicked.connect(self._recover)
        self.throw_button.clicked.connect(self._ask_throw)
        later.clicked.connect(self.reject)
        self.recover_button.setVisible(bool(self._works))
        self.throw_button.setVisible(bool(self._works))
        (self.recover_button if self._works else later).setDefault(True)
        return box

    def _button(self, box: QDialogButtonBox, words: str, role: QDialogButtonBox.ButtonRole) -> QPushButton:
        button = box.addButton(words, role)
        button.setAccessibleName(words)
        return button

    def _chosen(self) -> KeptWork:
        return self._works[max(self.list.currentRow(), 0)]

    def _recover(self) -> None:
        work = self._chosen()
        self.accept()
        self.recover.emit(work)

    def _ask_throw(self) -> None:
        box = question(
            self,
            "Throw away",
            (f"Throw away the kept work of {called(self._chosen())}?", "It cannot be brought back."),
            answers={Answer.Discard: "Throw away", Answer.Cancel: "Cancel"},
            enter=Answer.Cancel,
        )
        box.finished.connect(self._throw)
        box.open()

    def _throw(self, answer: int) -> None:
        if answer != Answer.Discard:
            return
        work = self._chosen()
        self._works.remove(work)
        self.list.takeItem(self.list.currentRow())
        self.throw_away.emit(work)
        if not self._works:
            self.accept()


def called(work: KeptWork) -> str:
    """Kept work by the name of its file, or by its own."""
    return shown_name(work.original) if work.original else work.design.name


def said(work: KeptWork) -> str:
    """Kept work on two lines: what and when, and what it has other than its file."""
    return f"{called(work)}, kept {work.at:%A %d %B %Y, %H:%M}\n    {work.differs}"
