"""Recovering work that was not saved when the program ended."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QMainWindow

from app import journal
from app.actions.files import Files
from app.autosave import Autosave
from app.dialogs.sentence import tell
from core.errors import Refusal
from core.file.recovery import KeptWork, drop_work, kept_works


class Recovery(QObject):
    """The dialog of kept work, and what is chosen in it."""

    said = Signal(str)

    def __init__(self, autosave: Autosave, files: Files, window: QMainWindow) -> None:
        super().__init__(window)
        self.autosave = autosave
        self.files = files
        self.window = window
        self._wanted: KeptWork | None = None

    def offer(self) -> bool:
        """Show what can be recovered, at the start and only where there is something; whether there was."""
        works, damaged = kept_works(journal.folder(), busy=journal.busy())
        if works:
            self._show(works, damaged)
        return bool(works)

    def ask(self) -> None:
        """Show what can be recovered, or that nothing can."""
        works, damaged = kept_works(journal.folder(), busy=journal.busy())
        self._show(works, damaged)

    def _show(self, works: Sequence[KeptWork], damaged: Sequence[Path]) -> None:
        from app.dialogs.recover import RecoverDialog

        dialog = RecoverDialog(works, damaged, self.window)
        dialog.recover.connect(self._recover)
        dialog.throw_away.connect(self._throw_away)
        dialog.open()

    def _recover(self, work: KeptWork) -> None:
        self._wanted = work
        self.files.unless_unsaved(self._take)

    def _take(self) -> None:
        from app.dialogs.recover import called

        work, self._wanted = self._wanted, None
        if work is None:
            return
        try:
            self.autosave.take_over(work)
        except Refusal as refusal:
            tell(self.window, refusal.sentence)
            return
        self.said.emit(f"{called(work)} is recovered as an unsaved copy: save it where you want it.")

    def _throw_away(self, work: KeptWork) -> None:
        from app.dialogs.recover import called

        drop_work(work.copy)
        self.said.emit(f"The kept work of {called(work)} is gone.")
