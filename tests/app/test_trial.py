"""Working a design out while a hand drags: in shares, the newest next, whole in time, and the same as at once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

import numpy as np
import pytest
from PySide6.QtCore import QObject

from app import trial as trial_module
from app.trial import Trial
from core.design.design import Design
from core.design.replay import Replay, replay
from tests.benchmarks.recompute import moved
from tests.demo_designs import concert

TENTH = 0.1
"""Seconds within which the garment follows the hand (the brief of the window)."""


class Clock:
    """Tells a later time whenever it is asked, by so many seconds."""

    def __init__(self, tick: float) -> None:
        self._ticks: Iterator[int] = count()
        self.tick = tick
        self.now = 0.0

    def __call__(self) -> float:
        """The time in seconds."""
        self.now = next(self._ticks) * self.tick
        return self.now


@pytest.fixture
def parent() -> Iterator[QObject]:
    """What the trials of a test belong to."""
    owner = QObject()
    yield owner
    owner.deleteLater()


def slow(parent: QObject, monkeypatch: pytest.MonkeyPatch, tick: float = 0.006) -> tuple[Trial, Clock, list[Replay]]:
    """A trial for which every step takes longer than a share, its clock, and what it has shown."""
    clock = Clock(tick)
    monkeypatch.setattr(trial_module, "perf_counter", clock)
    trial, shown = Trial(parent), list[Replay]()
    trial.whole.connect(shown.append)
    return trial, clock, shown


def designs(first: Design) -> Iterator[Design]:
    """The demo with its sheer line a little farther on each time."""
    return (moved(first, number) for number in count(1))


def test_what_is_quick_is_shown_at_once(parent: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where every step takes next to nothing, the frame that asks shows it, and nothing is left to do."""
    trial, _, shown = slow(parent, monkeypatch, tick=1e-6)
    design = concert()
    assert trial.ask(moved(design, 1), replay(design))
    assert trial.is_idle
    assert shown[0].is_whole


def test_in_shares_it_comes_to_the_same_bit_for_bit(parent: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    """One step a frame: nothing is shown before the last, and then what a fresh replay gives."""
    trial, _, shown = slow(parent, monkeypatch)
    monkeypatch.setattr(trial_module, "PATIENCE", 1000.0)
    design = moved(concert(), 1)
    assert not trial.ask(design, replay(concert()))
    frames = 1
    while not trial.is_idle:
        assert not shown
        frames += 1
        trial.go_on()
    assert frames == 5, "the two lines, the cut, the cup, and to show it"
    fresh = replay(design)
    assert [stage.step.id for stage in shown[0].stages] == [stage.step.id for stage in fresh.stages]
    for name, piece in fresh.garment.pieces.items():
        assert np.array_equal(shown[0].garment.pieces[name].loop, piece.loop)


def test_it_is_whole_within_a_tenth_of_a_second(parent: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    """However slow the machine: after its patience it does the rest without a pause, and shows it in the same frame."""
    trial, clock, shown = slow(parent, monkeypatch, tick=0.012)
    design = concert()
    asked = before = clock.now
    trial.ask(moved(design, 1), replay(design))
    while not shown:
        before = clock.now
        trial.go_on()
    assert before - asked < TENTH


def test_of_those_asked_for_meanwhile_the_last_is_next(parent: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    """A hand that never rests is followed: each design that is begun is shown, and those between are passed over."""
    trial, _, shown = slow(parent, monkeypatch)
    design = concert()
    known, asked = replay(design), []
    for tried in (next(more) for more in [designs(design)] for _ in range(40)):
        asked.append(tried)
        trial.ask(tried, known)
    while not trial.is_idle:
        trial.go_on()
    order = [asked.index(one.design) for one in shown]
    assert 3 < len(shown) < 20
    assert order == sorted(order)
    assert shown[-1].design is asked[-1]


def test_what_is_dropped_is_never_shown(parent: QObject, monkeypatch: pytest.MonkeyPatch) -> None:
    """After Esc nothing is left that could come into view."""
    trial, _, shown = slow(parent, monkeypatch)
    design = concert()
    trial.ask(moved(design, 1), replay(design))
    trial.ask(moved(design, 2), replay(design))
    trial.drop()
    assert trial.is_idle
    trial.go_on()
    assert not shown
