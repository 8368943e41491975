"""Keeps a copy of unsaved work: two seconds after a change, at least twice a minute, and whenever the end may be near.

What is half typed counts as a change too.

The copy is written by a thread, from immutable records, while the hand rests. It goes when the work has been saved or
was discarded, and stays when the program ends in any other way.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication

from app.background import Work
from app.journal import Journal
from app.messages import log
from app.session import Changed, Session
from core.design.design import Design
from core.errors import Refusal
from core.file.recovery import KeptWork, drop_work, keep_work
from core.progress import Progress

AFTER: Final = 2000
"""Milliseconds of rest after a change before the copy is written."""
AT_LEAST_EVERY: Final = 28.0
"""Seconds after the first change that no copy holds; two less than promised, for the writing itself."""
HAND_BUSY: Final = 200
"""Milliseconds until it is tried again while a mouse button is down."""


def _kept(copy: Path, design: Design, original: Path | None, _progress: Progress) -> bool:
    keep_work(copy, design, original)
    return True


def _as_it_is(design: Design) -> Design:
    return design


class Autosave(QObject):
    """Follows a session and keeps its unsaved work. `said` carries a sentence when that fails.

    `in_hand` gives the design with what is half typed in it: a crash must not take that either.
    """

    said = Signal(str)

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self.session = session
        self.in_hand: Callable[[Design], Design] = _as_it_is
        self.journal = Journal()
        self._changed_at: float | None = None
        self._writing: Work | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._write)
        session.changed.connect(self._follow)

    def _follow(self, changed: Changed) -> None:
        if changed.preview:
            return
        if changed.file and changed.design:
            self._drop()
            self.journal.turn()
        if self.session.is_dirty:
            self.wait()
        else:
            self._drop()

    def wait(self) -> None:
        """Something is typed or done: write the copy once the hand rests."""
        now = time.monotonic()
        if self._changed_at is None:
            self._changed_at = now
        left = AT_LEAST_EVERY - (now - self._changed_at)
        self._timer.start(max(0, min(AFTER, round(1000 * left))))

    def _write(self) -> None:
        if self._writing is not None:
            self._timer.start(AFTER)
        elif self._hand_is_busy():
            self._timer.start(HAND_BUSY)
        elif (design := self._unsaved()) is not None:
            self._changed_at = None
            self._writing = work = Work(partial(_kept, self.journal.copy, design, self.session.path), self)
            work.done.connect(self._written)
            work.refused.connect(self._refused)
            work.start()
        else:
            # What was half typed was given up.
            self._drop()

    def _unsaved(self) -> Design | None:
        """What the copy has to hold; None where the file has all of it."""
        try:
            design = self.in_hand(self.session.design)
        except Exception:  # noqa: BLE001 - whatever is amiss with half a text, the work itself is kept
            design = self.session.design
        return design if self.session.is_dirty or design is not self.session.design else None

    def _hand_is_busy(self) -> bool:
        """Whether a drag is under way that can be waited for."""
        waited = time.monotonic() - (self._changed_at or 0.0)
        return QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton and waited < AT_LEAST_EVERY

    def _written(self) -> None:
        self._finish()

    def _refused(self, sentence: str) -> None:
        self._finish()
        self._say_failed(sentence)

    def _finish(self) -> None:
        if self._writing is not None:
            self._writing.abandon()
            self._writing.deleteLater()
            self._writing = None

    def _say_failed(self, sentence: str) -> None:
        log.error("no recovery copy could be kept")
        self.said.emit(sentence)

    def _drop(self) -> None:
        self._timer.stop()
        self._changed_at = None
        self._finish()
        drop_work(self.journal.copy)

    # --- what the window asks for

    def keep_now(self) -> bool:
        """Write the copy at once, for the end may be near; whether the work is safe, in its file or in the copy."""
        design = self._unsaved()
        if design is None:
            return True
        self._timer.stop()
        self._finish()
        try:
            keep_work(self.journal.copy, design, self.session.path)
        except Refusal as refusal:
            self._say_failed(refusal.sentence)
            return False
        return True

    def take_over(self, work: KeptWork) -> None:
        """Go on with recovered work as an unsaved copy; the old copy goes once a new one is written."""
        self.session.begin(work.design, is_saved=False)
        if self.keep_now():
            drop_work(work.copy)

    def end(self, *, keeps: bool) -> None:
        """The window closes: throw the copy away, unless the work in it was never asked about."""
        if keeps:
            self._timer.stop()
            self._finish()
        else:
            self._drop()
        self.journal.end()
