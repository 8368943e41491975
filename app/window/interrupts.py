"""Ctrl+C in the terminal and the system's request to end: both close the window in good order."""

from __future__ import annotations

import signal
import socket
from types import FrameType

from PySide6.QtCore import QObject, QSocketNotifier, Signal

ENDINGS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]


class Interrupts(QObject):
    """Turns signals of the system into `asked_to_end`, inside Qt's loop.

    WORKAROUND: Python runs its handlers only between its own instructions, and none runs while Qt waits. The signal's
    number is therefore written to a socket that Qt watches (https://docs.python.org/3/library/signal.html).
    """

    asked_to_end = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._near, self._far = socket.socketpair()
        self._near.setblocking(False)
        self._far.setblocking(False)
        self._notifier = QSocketNotifier(self._near.fileno(), QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._read)
        self._old_wakeup = signal.set_wakeup_fd(self._far.fileno())
        self._old = {number: signal.signal(number, _heed) for number in ENDINGS}

    def _read(self) -> None:
        if self._near.recv(64):
            self.asked_to_end.emit()

    def release(self) -> None:
        """Give the signals back to whoever had them."""
        self._notifier.setEnabled(False)
        signal.set_wakeup_fd(self._old_wakeup)
        for number, old in self._old.items():
            signal.signal(number, old)
        self._near.close()
        self._far.close()


def _heed(_number: int, _frame: FrameType | None) -> None:
    """The socket carries the message; without any handler Python would raise KeyboardInterrupt in some slot."""
