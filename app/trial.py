"""Designs worked out while a hand drags: a share in each frame, so that no frame waits for a whole garment.

Of the designs that are asked for while one is under way the last is begun when that one is shown: the garment follows
the hand a few frames behind, and never stays behind for long. What each step took the time before tells whether it
still fits into a share; to show the garment takes a share of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from time import perf_counter
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from core.design.design import Design
from core.design.replay import Replay, replaying

SHARE: Final = 0.0045
"""Seconds of a frame that go into the garment; of a step that takes longer alone, one is done in a frame."""

AT_ONCE: Final = 0.001
"""What took no longer than this is shown in the same frame."""

PATIENCE: Final = 0.07
"""Seconds after which a design is finished without another pause: what a hand did is seen within a tenth of one."""

PAUSE: Final = 8
"""Milliseconds after which work goes on where no frame has come."""


class Trial(QObject):
    """Works out one design after another for the hand that drags."""

    whole = Signal(object)
    """Emitted with the `Replay` of a design that is worked out."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.share = SHARE
        self._next: tuple[Design, Replay] | None = None
        self._under_way: Iterator[Replay] | None = None
        self._whole: Replay | None = None
        self._begun = 0.0
        self._spent: list[float] = []
        self._last_spent: list[float] = []
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(PAUSE)
        self._timer.timeout.connect(self.go_on)

    @property
    def is_idle(self) -> bool:
        """Whether all that was asked for is shown."""
        return self._next is None and self._under_way is None and self._whole is None

    def ask(self, design: Design, known: Replay) -> bool:
        """Work a design out, taking over from `known` what is the same; whether one was shown just now."""
        self._next = (design, known)
        return self.go_on()

    def drop(self) -> None:
        """Forget whatever was asked for."""
        self._next = self._under_way = self._whole = None
        self._timer.stop()

    def go_on(self) -> bool:
        """Work for one share, or show what is whole; whether something was shown. More is done when a frame comes."""
        started, has_waited = perf_counter(), self._whole is not None
        if not has_waited:
            self._work(started)
        whole = self._whole
        shows = whole is not None and (has_waited or perf_counter() - started <= AT_ONCE or self._is_late())
        if shows:
            self._whole = None
            self.whole.emit(whole)
        if not self.is_idle:
            self._timer.start()
        return shows

    def _work(self, started: float) -> None:
        if self._under_way is None and self._next is not None:
            self._under_way, self._next = replaying(*self._next), None
            self._begun, self._spent, self._last_spent = started, [], self._spent
        if self._under_way is None:
            return
        before = started
        for so_far in self._under_way:
            now = perf_counter()
            self._spent.append(now - before)
            before = now
            if so_far.is_whole:
                self._under_way, self._whole = None, so_far
                return
            if now - started + self._next_takes() > self.share and not self._is_late():
                return

    def _next_takes(self) -> float:
        """What the next step took the time before."""
        done = len(self._spent)
        return self._last_spent[done] if done < len(self._last_spent) else 0.0

    def _is_late(self) -> bool:
        return perf_counter() - self._begun >= PATIENCE
