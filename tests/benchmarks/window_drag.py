"""A drag of 300 steps on the demo's sheer line in the real window: our part of each frame, recompute included."""

from __future__ import annotations

import resource
from collections.abc import Callable, Iterator
from time import perf_counter

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.__main__ import make_window
from tests.benchmarks.timing import shown

STEPS = 300
SIZES = {"1080p": (1920, 1080), "4K": (3840, 2160)}


def memory() -> float:
    """Resident memory of this process at its largest, in MiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def handle(window: QWidget) -> tuple[QWidget, QPoint]:
    """The cutting table, and where the second point of the sheer line lies on it."""
    table = next(w for w in window.findChildren(QWidget) if w.accessibleName() == "Cutting table")
    point = next(w for w in table.findChildren(QWidget) if w.accessibleName().startswith("Point 2 of"))
    return table, point.geometry().center()


def drag(application: QApplication, size: tuple[int, int], clock: Callable[[], float] = perf_counter) -> list[float]:
    """Milliseconds of each frame by a clock: the move delivered, the design recomputed, the table painted."""
    window = make_window(demo=True)
    window.resize(*size)
    window.show()
    application.processEvents()
    window.desk.edit_step("sheer-line-1")
    application.processEvents()
    table, start = handle(window)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    found = []
    for step in range(STEPS):
        place = start + QPoint(step % 23 - 11, 12 + step % 17)
        begun = clock()
        QTest.mouseMove(table, place)
        application.processEvents()
        found.append((clock() - begun) * 1000.0)
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start)
    window.hide()
    window.deleteLater()
    application.processEvents()
    return found


def figures() -> Iterator[str]:
    """Rows to print."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    for name, size in SIZES.items():
        before = memory()
        yield shown(f"frame at {name}", drag(application, size)[20:])
        yield f"memory grew by {memory() - before:.1f} MiB to {memory():.0f} MiB"
