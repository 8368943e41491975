"""The table is found as it was left: how a file's pieces lay is kept with the state of the window, not in the file."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject

from app import settings
from app.canvas.arrangement import IN_ORDER, read, written
from app.canvas.table import CuttingTable
from app.session import Changed, Session


class Arrangements(QObject):
    """Knows how the pieces of the open file lie, and keeps it when another design comes, on saving and on leaving."""

    def __init__(self, session: Session, table: CuttingTable, parent: QObject) -> None:
        super().__init__(parent)
        self.session = session
        self.table = table
        self._path: Path | None = session.path
        self._now = IN_ORDER
        table.arranged.connect(self._note)
        session.changed.connect(self._follow)
        self._lay()

    def _note(self) -> None:
        self._now = self.table.scene.arrangement

    def _follow(self, changed: Changed) -> None:
        if not changed.file:
            return
        if changed.design:
            # The table has begun anew already; what is kept was noted before.
            self.keep()
        self._path = self.session.path
        if changed.design:
            self._lay()
        else:
            self.keep()

    def _lay(self) -> None:
        """Lay the pieces of the file as they were left."""
        kept = settings.kept_table(self._path) if self._path is not None else ""
        self._now = read(kept)
        if self._now != IN_ORDER:
            self.table.arrange(self._now)

    def keep(self) -> None:
        """Remember how the pieces lie, for a design that has a file."""
        if self._path is not None:
            settings.keep_table(self._path, written(self._now))
