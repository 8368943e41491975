"""A drag that alters a step in the middle of the largest demo: our part of each frame, and what letting go takes.

`python -m tests.benchmarks.tool_drag`, by hand: each step is taken up in the real window at 1920 x 1080, its pin is
dragged, and the processor's time of every frame is counted, then that of letting go.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from time import process_time
from unittest.mock import patch

from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.session import Session
from app.window.main_window import MainWindow
from core.design.design import Design
from core.steps.take_in import Level, TakeIn
from tests.benchmarks.timing import shown
from tests.demo_designs import gala

STEPS = 120
SIZE = (1920, 1080)
LATER = 2
"""So many of the demo's steps, the copies and the cup, are done after the seam that is taken in."""


def taken_in() -> Design:
    """The largest demo with its front princess seam taken in before the copies and the cup."""
    design = gala()
    levels = (
        Level("sheer_line", 3.0, 3.0),
        Level("bust_point", 0.0, 0.0),
        Level("under_bust_line", 2.0, 2.0),
        Level("waist", 0.0, 0.0),
    )
    step = TakeIn("take-in-1", "front.princess", levels)
    return replace(design, steps=(*design.steps[:-LATER], step, *design.steps[-LATER:]))


CASES: tuple[tuple[str, Callable[[], Design], str, str], ...] = (
    ("sheer line, by its point", gala, "sheer-line-1", "Point 2 of"),
    ("neckline, by its front", gala, "neckline-1", "Depth at centre front"),
    ("pivot, by its share", gala, "pivot-1", "Share of"),
    ("taking in, by a pin", taken_in, "take-in-1", "side front at the under bust"),
    ("cup, by a point", gala, "cup-1", "Top of the cup"),
)


def opened(application: QApplication, design: Design, step: str) -> MainWindow:
    """The window with a step taken up."""
    window = MainWindow(Session(design))
    window.resize(*SIZE)
    window.show()
    application.processEvents()
    window.desk.edit_step(step)
    application.processEvents()
    return window


def pin(window: MainWindow, words: str) -> QPoint:
    """Where the pin stands that is dragged."""
    handles = window.table.shown_handles
    named = [handle for handle in handles if handle.words.startswith(words) and handle.moves]
    return window.table.frame().point(named[0].at).toPoint()


def worked_out(application: QApplication, table: QWidget, session: Session, start: QPoint) -> float:
    """Milliseconds of the processor for letting go: all worked out, kept, and drawn, and what is put off after it."""
    begun = process_time()
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start + QPoint(3, 9))
    application.processEvents()
    while session.is_trying:
        QTest.qWait(1)
    application.processEvents()
    return (process_time() - begun) * 1000.0


def drag(application: QApplication, design: Design, step: str, words: str) -> tuple[list[float], float]:
    """Milliseconds of the processor for each frame, and for letting go."""
    window = opened(application, design, step)
    table, start = window.table, pin(window, words)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    found = []
    with patch("app.trial.perf_counter", process_time):
        for count in range(STEPS):
            begun = process_time()
            QTest.mouseMove(table, start + QPoint(count % 13 - 6, 6 + count % 11))
            application.processEvents()
            found.append((process_time() - begun) * 1000.0)
    release = worked_out(application, table, window.session, start)
    window.hide()
    window.deleteLater()
    application.processEvents()
    return found[10:], release


def figures() -> Iterator[str]:
    """Rows to print."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    for name, design, step, words in CASES:
        frames, release = drag(application, design(), step, words)
        yield shown(f"{name}: a frame, processor's time", frames)
        yield f"  letting go, processor's time: {release:.1f} ms"


if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    for row in figures():
        print(row)
