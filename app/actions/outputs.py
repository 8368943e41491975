"""Outputs besides the print: each asks for a file and is made beside the window; the texts of the sheets; the beam."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QMainWindow, QProgressDialog

from app import settings
from app.actions.typed import Typed
from app.background import Work
from app.dialogs.choose_file import file_name_for, save_dialog
from app.dialogs.output_task import OUTPUTS, Output, OutputTask
from app.dialogs.sentence import tell
from app.session import Session

PATIENCE: Final = 1000
"""Milliseconds after which progress is shown, with a way to stop."""


class Outputs(QObject):
    """`said` carries a sentence for the status line. What is half typed into a measurement counts as typed before."""

    said = Signal(str)

    def __init__(self, session: Session, typed: Typed, window: QMainWindow) -> None:
        super().__init__(window)
        self.session = session
        self.typed = typed
        self.window = window
        self._wanted: Output = OUTPUTS[0]
        self._work: Work | None = None
        self._box: QProgressDialog | None = None

    def ask(self, output_id: str) -> None:
        """Ask where an output is to go, and make it."""
        self.typed.commit()
        refused = self.session.replay.refused
        if refused is not None:
            tell(self.window, f"Nothing is written while a step is refused: {refused.sentence}")
            return
        self._wanted = next(output for output in OUTPUTS if output.id == output_id)
        path = self.session.path
        folder = path.absolute().parent if path else settings.last_folder()
        suffix = self._wanted.suffixes[0].removeprefix(".")
        here = folder / file_name_for(f"{self.session.design.name} {self._wanted.tag}", suffix)
        dialog = save_dialog(self.window, here, title=self._wanted.title, kind=self._wanted.filter, suffix=suffix)
        dialog.fileSelected.connect(self._make)
        dialog.open()

    def _make(self, name: str) -> None:
        self._work = Work(OutputTask(self._wanted, self.session.replay, Path(name)), self)
        self._box = _progress_box(self.window, self._wanted.title)
        self._box.canceled.connect(self._work.cancel)
        self._work.progressed.connect(self._show)
        self._work.done.connect(self._done)
        self._work.refused.connect(self._refused)
        self._work.cancelled.connect(self._stopped)
        self._work.start()

    def _show(self, done: int, total: int) -> None:
        if self._box is not None:
            self._box.setMaximum(total)
            self._box.setValue(done)

    def _done(self, sentence: object) -> None:
        self._end(str(sentence))

    def _refused(self, sentence: str) -> None:
        self._end("")
        tell(self.window, sentence)

    def _stopped(self) -> None:
        self._end("It was stopped; no file was written.")

    def _end(self, sentence: str) -> None:
        if self._box is not None:
            self._box.reset()
            self._box.deleteLater()
            self._box = None
        if sentence:
            self.said.emit(sentence)

    def abandon(self) -> None:
        """The window closes: what is being made is stopped."""
        if self._work is not None:
            self._work.abandon()

    # --- texts and the beam

    def texts(self) -> None:
        """Show what is written by hand for the sheets."""
        from app.dialogs.sheet_texts import SheetTextsDialog

        self.typed.commit()
        SheetTextsDialog(self.session, self.window).open()

    def project(self) -> None:
        """Show the pieces at true size for a beam."""
        from app.dialogs.projector import ProjectorDialog

        self.typed.commit()
        ProjectorDialog(self.session.replay, self.window).showFullScreen()


def _progress_box(window: QMainWindow, title: str) -> QProgressDialog:
    box = QProgressDialog(f"{title} is being made…", "Cancel", 0, 0, window)
    box.setWindowTitle(title)
    box.setAccessibleName(title)
    box.setWindowModality(Qt.WindowModality.WindowModal)
    box.setMinimumDuration(PATIENCE)
    return box
