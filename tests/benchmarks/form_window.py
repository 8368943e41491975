"""A change of measurements with the form in sight: how long it takes, and how alive the window is meanwhile.

`python -m tests.benchmarks.form_window`. The window's loop is asked for a turn every 5 ms; the longest wait for one is
the longest pause a hand could feel. Its baseline is the same loop with nothing to do.
"""

from __future__ import annotations

import os
from time import perf_counter, process_time, thread_time

from msgspec.structs import replace
from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from app.panels.form import WORKING
from app.session import Session
from app.window.main_window import MainWindow
from tests.demo_designs import concert

CHANGES = 6
WAITING = QEventLoop.ProcessEventsFlag.WaitForMoreEvents
ASKED = 5
"""Milliseconds between two turns that the loop is asked for."""


class Pulse:
    """A timer that notes how long the loop lets it wait, and how long of that the window's own thread is at work."""

    def __init__(self) -> None:
        self._waits: list[tuple[float, float]] = []
        self._last = perf_counter(), thread_time()
        self._timer = QTimer()
        self._timer.setInterval(ASKED)
        self._timer.timeout.connect(self._beat)
        self._timer.start()

    def _beat(self) -> None:
        now = perf_counter(), thread_time()
        self._waits.append((1000.0 * (now[0] - self._last[0]), 1000.0 * (now[1] - self._last[1])))
        self._last = now

    def longest(self) -> tuple[float, float]:
        """The longest wait and the most work in one (ms) since this was last asked."""
        found = [max(column) for column in zip(*self._waits, strict=True)] or [0.0, 0.0]
        self._waits, self._last = [], (perf_counter(), thread_time())
        return found[0], found[1]


def _until(application: QApplication, window: MainWindow) -> None:
    """Run the loop until the form stands, and all that is said of it once the hands rest."""
    while window.form.words.text() in ("", WORKING) or window.form.spokes.isHidden():
        application.processEvents(WAITING)


def figures() -> list[str]:
    """One row for the time of a change, one for the pauses."""
    held = QApplication.instance() or QApplication([])
    assert isinstance(held, QApplication)
    window = MainWindow(Session(concert()))
    window.resize(1440, 900)
    window.show()
    window.desk.turn_form()
    _until(held, window)
    pulse = Pulse()
    begun = perf_counter()
    while perf_counter() - begun < 2.0:
        held.processEvents(WAITING)
    idle = pulse.longest()
    changes = [_changed(held, window, pulse, 190.0 + change) for change in range(CHANGES)]
    window.close()
    clock, whole, pauses, busy = zip(*changes, strict=True)
    took = (
        f"{min(clock):.2f} to {max(clock):.2f} s on the clock, {min(whole):.2f} to {max(whole):.2f} s of the processor"
    )
    paused = f"{max(pauses):.0f} ms on the clock, {max(busy):.0f} ms of it the window's own work"
    return [
        f"a change of measurements, redraft and panels and all: {took}",
        f"longest pause of the loop: {paused}; with nothing to do {idle[0]:.0f}",
    ]


def _changed(application: QApplication, window: MainWindow, pulse: Pulse, span: float) -> tuple[float, ...]:
    """Another bust span: seconds on the clock and of the processor, then the longest pause and the busiest, in ms."""
    given = window.session.design
    taken = dict(given.body.measurements) | {"bust_span": span}
    pulse.longest()
    clock, cpu = perf_counter(), process_time()
    window.session.do("Bust span", replace(given, body=replace(given.body, measurements=taken)))
    _until(application, window)
    return perf_counter() - clock, process_time() - cpu, *pulse.longest()


if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    for row in figures():
        print(row)
