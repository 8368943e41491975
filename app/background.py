"""Long work beside the window: a thread that gets plain records, tells how far it is, and can be told to stop.

The window asks the thread how it stands a few times a second, from its own timer. Nothing of Qt is touched in the
thread, and no signal leaves it: a signal from a Python thread may run its slot there, or meet a deleted receiver.
"""

from __future__ import annotations

import threading
import traceback
from collections.abc import Callable
from typing import Final, Generic, TypeVar

from PySide6.QtCore import QObject, QTimer, Signal

from app.messages import record
from core.errors import Cancelled, Refusal
from core.progress import Progress

Result = TypeVar("Result")

ASKED_EVERY: Final = 40
"""Milliseconds between two looks at the thread."""

FAULT: Final = "Sheerwright itself failed in this work: that is a fault in the program, and nothing was written."


class _Thread(threading.Thread, Generic[Result]):
    """The work, how far it is, and how it ended."""

    def __init__(self, task: Callable[[Progress], Result]) -> None:
        super().__init__(name="work", daemon=True)
        self._task = task
        self._asked_to_stop = threading.Event()
        self.at = (0, 0)
        self.result: Result | None = None
        self.refusal = ""
        self.trace = ""

    def run(self) -> None:
        """Do the work; whatever ends it is kept for the window to find."""
        try:
            self.result = self._task(self._progress)
        except Cancelled:
            pass
        except Refusal as refusal:
            self.refusal = refusal.sentence
        except Exception:  # noqa: BLE001 - told to the user and recorded by the window's own thread
            self.refusal, self.trace = FAULT, traceback.format_exc()

    def _progress(self, done: int, total: int) -> None:
        self.at = (done, total)
        if self._asked_to_stop.is_set():
            raise Cancelled

    def stop(self) -> None:
        """Ask the work to end at its next step."""
        self._asked_to_stop.set()


class Work(QObject):
    """One piece of long work. Exactly one of `done`, `refused` and `cancelled` is emitted, unless it is abandoned."""

    progressed = Signal(int, int)
    done = Signal(object)
    refused = Signal(str)
    cancelled = Signal()

    def __init__(self, task: Callable[[Progress], object], parent: QObject) -> None:
        super().__init__(parent)
        self._thread = _Thread(task)
        self._told = (0, 0)
        self._timer = QTimer(self)
        self._timer.setInterval(ASKED_EVERY)
        self._timer.timeout.connect(self._look)

    def start(self) -> None:
        """Begin; returns at once."""
        self._thread.start()
        self._timer.start()

    def cancel(self) -> None:
        """Ask the work to stop; `cancelled` follows, or `done` when it was quicker."""
        self._thread.stop()

    def abandon(self) -> None:
        """Stop, wait for the thread to end, and say nothing more: for a window that closes."""
        self._timer.stop()
        self._thread.stop()
        if self._thread.is_alive():
            self._thread.join()

    @property
    def is_running(self) -> bool:
        """Whether the work has not ended, or its end has not been told yet."""
        return self._timer.isActive()

    def _look(self) -> None:
        thread = self._thread
        has_ended = not thread.is_alive()
        if thread.at != self._told:
            self._told = thread.at
            self.progressed.emit(*self._told)
        if has_ended:
            self._timer.stop()
            self._tell_end(thread)

    def _tell_end(self, thread: _Thread[object]) -> None:
        if thread.trace:
            record(thread.trace)
        if thread.refusal:
            self.refused.emit(thread.refusal)
        elif thread.result is None:
            self.cancelled.emit()
        else:
            self.done.emit(thread.result)
