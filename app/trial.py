"""Designs worked out while a hand drags: some steps at a time, so that no frame waits for a whole garment.

What is done within one frame's share is whole at once. Else the rest follows between the frames; of the designs that are
asked for meanwhile the last is begun when the one under way is whole, so that the garment never stays behind for long.
"""

from __future__ import annotations

from collections.abc import Iterator
from time import perf_counter
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from core.design.design import Design
from core.design.replay import Replay, replaying

SHARE: Final = 0.004
"""Seconds of a frame that go into the garment; a step that is begun is finished."""

PATIENCE: Final = 0.06
"""Seconds after which a design is finished without another pause: what a hand did is seen within a tenth of one."""


class Trial(QObject):
    """Works out one design after another for the hand that drags."""

    whole = Signal(object)
    """Emitted with the `Replay` of a design as soon as it is worked out."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.share = SHARE
        self._under_way: Iterator[Replay] | None = None
        self._next: tuple[Design, Replay] | None = None
        self._begun = 0.0
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self.go_on)

    @property
    def is_under_way(self) -> bool:
        """Whether a design is still to be worked out."""
        return self._under_way is not None or self._next is not None

    def ask(self, design: Design, known: Replay) -> bool:
        """Work a design out, taking over from `known` what is the same; True when it is whole at once."""
        self._next = (design, known)
        self.go_on()
        return not self.is_under_way

    def drop(self) -> None:
        """Forget whatever was asked for."""
        self._under_way = self._next = None
        self._timer.stop()

    def go_on(self) -> None:
        """Work for one share, and again when the window has nothing else to do."""
        if self._under_way is None and self._next is not None:
            self._under_way, self._next, self._begun = replaying(*self._next), None, perf_counter()
        if self._under_way is not None:
            whole = self._worked(self._under_way)
            if whole is not None:
                self._under_way = None
                self.whole.emit(whole)
        if self.is_under_way:
            self._timer.start()

    def _worked(self, steps: Iterator[Replay]) -> Replay | None:
        """The whole replay; None when the share is used up before."""
        started = perf_counter()
        for so_far in steps:
            if so_far.is_whole:
                return so_far
            now = perf_counter()
            if now - started >= self.share and now - self._begun < PATIENCE:
                return None
        return None
