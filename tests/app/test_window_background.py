"""Long work beside the window: it tells its progress, can be stopped, and ends in exactly one way."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QObject

from app import messages
from app.background import FAULT, Work
from core.errors import Refusal
from core.progress import Progress

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def owner(qapp: QObject) -> QObject:
    """What owns the work, as a dialog would."""
    return QObject(qapp)


class Heard(QObject):
    """Everything that a work says, in order."""

    def __init__(self, work: Work) -> None:
        super().__init__(work)
        self.words: list[object] = []
        work.done.connect(self.hear)
        work.refused.connect(self.hear)
        work.cancelled.connect(self.hear_end)

    def hear(self, words: object) -> None:
        """A result, or the sentence of a refusal."""
        self.words.append(words)

    def hear_end(self) -> None:
        """Stopped."""
        self.words.append("cancelled")


def ended(qtbot: QtBot, work: Work) -> list[object]:
    """What the work says until it has ended."""
    heard = Heard(work)
    work.start()
    qtbot.waitUntil(lambda: not work.is_running)
    return heard.words


def test_work_runs_beside_the_window_and_gives_its_result(qtbot: QtBot, owner: QObject) -> None:
    """The result comes once, and the work was done by another thread than the window's."""
    assert ended(qtbot, Work(lambda _progress: threading.current_thread().name, owner)) == ["work"]


def test_a_refusal_comes_as_its_sentence(qtbot: QtBot, owner: QObject) -> None:
    """As said where it was raised."""

    def refuse(_progress: Progress) -> None:
        raise Refusal("The disk is full: make room and print again.")

    assert ended(qtbot, Work(refuse, owner)) == ["The disk is full: make room and print again."]


def test_a_fault_is_recorded_and_said(qtbot: QtBot, owner: QObject) -> None:
    """The user reads that the program failed; the trace is in the record."""

    def fail(_progress: Progress) -> None:
        raise ZeroDivisionError

    assert ended(qtbot, Work(fail, owner)) == [FAULT]
    assert "ZeroDivisionError" in messages.unhandled.pop()


def test_progress_is_told_and_cancelling_stops_the_work(qtbot: QtBot, owner: QObject) -> None:
    """The work ends at its next step, and says only that it was stopped."""

    def count(progress: Progress) -> None:
        while True:
            progress(1, 2)

    work = Work(count, owner)
    heard = Heard(work)
    with qtbot.waitSignal(work.progressed) as told:
        work.start()
    assert told.args == [1, 2]
    work.cancel()
    qtbot.waitUntil(lambda: not work.is_running)
    assert heard.words == ["cancelled"]


def test_abandoned_work_has_ended_and_says_nothing(owner: QObject) -> None:
    """As when its window closes: no thread is left."""

    def count(progress: Progress) -> None:
        while True:
            progress(1, 2)

    work = Work(count, owner)
    heard = Heard(work)
    work.start()
    work.abandon()
    assert not work.is_running
    assert "work" not in [thread.name for thread in threading.enumerate()]
    assert heard.words == []
