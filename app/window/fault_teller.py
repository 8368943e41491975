"""What the user is told when the program itself fails."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QWidget

from app.messages import faults


class FaultTeller(QObject):
    """Says each fault once: the same one may come again with every frame, and others in its wake."""

    def __init__(self, window: QWidget, keep_aside: Callable[[], bool]) -> None:
        super().__init__(window)
        self._window = window
        self._keep_aside = keep_aside
        self._unread: list[str] = []
        self._told: set[str] = set()
        faults.recorded.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def _tell(self, trace: str) -> None:
        if trace in self._told:
            return
        self._told.add(trace)
        self._unread.append(trace)
        if len(self._unread) == 1:
            from app.dialogs.fault import FaultBox

            is_kept = self._keep_aside()
            box = FaultBox(QApplication.activeModalWidget() or self._window, self._unread, is_kept=is_kept)
            box.finished.connect(self._read)
            box.open()

    def _read(self) -> None:
        self._unread.clear()
