"""What assistive technology is told without being asked: the act that was done, and what it did to the seams."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget

from app.session import Changed, Session
from core.checks.seam_rows import SeamRow, seam_rows
from core.units import Unit, show_length


class Announcer(QObject):
    """Says each act once, with the seams whose verdict it changed, and what it leaves undone."""

    announced = Signal(str)

    def __init__(self, session: Session, widget: QWidget) -> None:
        super().__init__(widget)
        self._session = session
        self._widget = widget
        self._rows = seam_rows(session.replay.garment)
        self._at = session.history.index
        self._stages = session.replay.stages
        session.changed.connect(self._follow)

    def _follow(self, changed: Changed) -> None:
        if changed.preview or not changed.design:
            return
        before, self._rows = self._rows, seam_rows(self._session.replay.garment)
        words = [self._act(), *self._notes(), *changed_verdicts(before, self._rows, self._session.design.unit)]
        refused = self._session.replay.refused
        if refused is not None:
            words.append(refused.sentence)
        self._say(" ".join(word for word in words if word))

    def _act(self) -> str:
        """The act that was done, or taken back."""
        history, was = self._session.history, self._at
        self._at = history.index
        if history.index < was:
            return f"Undone: {history.redo_label}."
        return f"{history.undo_label}." if history.undo_label else ""

    def _notes(self) -> list[str]:
        """What the steps that were done anew have to say, as the list of steps shows it and the status bar cuts it."""
        now, before = self._session.replay, {stage.step.id: stage for stage in self._stages}
        self._stages = now.stages
        found = []
        for stage in now.stages:
            was = before.get(stage.step.id)
            if was is None or was.step != stage.step:
                found += [note.sentence for note in now.notes_of(stage)]
        return found

    def _say(self, words: str) -> None:
        if words:
            self.announced.emit(words)
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._widget, words))


def changed_verdicts(before: tuple[SeamRow, ...], after: tuple[SeamRow, ...], unit: Unit) -> list[str]:
    """A sentence for every seam whose verdict is another one now, or that is new and does not match."""
    was = {row.name: row.verdict for row in before}
    found = []
    for row in after:
        if row.verdict != was.get(row.name, "exact"):
            by = "" if row.verdict == "exact" else f", {show_length(abs(row.difference), unit)} apart"
            found.append(f"Seam {row.words}: {row.verdict}{by}.")
    return found
