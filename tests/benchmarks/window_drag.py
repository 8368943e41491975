"""A drag of the sheer line in the real window: our part of each frame, and how soon line and garment follow the hand.

`python -m tests.benchmarks window_drag`. A frame is all that is done between two moves: the line, a share of the
garment, what is painted. Its baseline is Qt alone painting the same outlines and lines once, each piece filled and
stroked. By the processor's time, so that other work counts as little as it can; the shares go by the same clock.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from time import perf_counter, process_time
from unittest.mock import patch

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.canvas.table import CuttingTable
from app.session import Session
from app.window.main_window import MainWindow
from core.design.design import Design
from tests.benchmarks.timing import shown, times
from tests.demo_designs import concert, gala

STEPS = 300
SIZES = {"1080p": (1920, 1080), "4K": (3840, 2160)}
DEMOS: dict[str, Callable[[], Design]] = {"ball, the largest demo": gala, "concert": concert}
FRAME = 16
"""Milliseconds from one move to the next where a hand moves and a screen is drawn at 60 Hz."""


def handle(window: QWidget) -> tuple[QWidget, QPoint]:
    """The cutting table, and where the second point of the sheer line lies on it."""
    table = next(w for w in window.findChildren(QWidget) if w.accessibleName() == "Cutting table")
    point = next(w for w in table.findChildren(QWidget) if w.accessibleName().startswith("Point 2 of"))
    return table, point.geometry().center()


def opened(application: QApplication, size: tuple[int, int], design: Design) -> MainWindow:
    """The window with the sheer line in hand."""
    window = MainWindow(Session(design))
    window.resize(*size)
    window.show()
    application.processEvents()
    window.desk.edit_step("sheer-line-1")
    application.processEvents()
    return window


def closed(application: QApplication, window: MainWindow) -> None:
    """Put a window away."""
    window.hide()
    window.deleteLater()
    application.processEvents()


def place(start: QPoint, step: int) -> QPoint:
    """Where the hand is: about the point, never twice in a row at one place."""
    return start + QPoint(step % 23 - 11, 12 + step % 17)


def drag(
    application: QApplication,
    size: tuple[int, int],
    clock: Callable[[], float] = perf_counter,
    design: Callable[[], Design] = concert,
) -> list[float]:
    """Milliseconds of each frame by a clock: the move delivered, a share of the design done, the table painted."""
    window = opened(application, size, design())
    table, start = handle(window)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    found = []
    with patch("app.trial.perf_counter", clock):
        for step in range(STEPS):
            begun = clock()
            QTest.mouseMove(table, place(start, step))
            application.processEvents()
            found.append((clock() - begun) * 1000.0)
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start)
    closed(application, window)
    return found


def bare_painting(application: QApplication, size: tuple[int, int], design: Design) -> list[float]:
    """Milliseconds for Qt to paint the table's ground, and every outline and line that lies on it, once."""
    window = opened(application, size, design)
    polygons, lines = paths(window.table)
    picture = QPixmap(window.table.size())

    def paint(_: int) -> None:
        with QPainter(picture) as painter:
            painter.fillRect(picture.rect(), QColor("linen"))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor("black"), 1.0))
            painter.setBrush(QColor("wheat"))
            for polygon in polygons:
                painter.drawPolygon(polygon)
            for line in lines:
                painter.drawPolyline(line)

    found = times(paint, runs=100, clock=process_time)
    closed(application, window)
    return found


def paths(table: CuttingTable) -> tuple[list[QPolygonF], list[QPolygonF]]:
    """Outlines and lines of the pieces as they lie, in pixels, with every point that the core gives."""
    frame = table.frame()
    polygons = [QPolygonF([frame.point(at) for at in item.on_table(item.shown.loop)]) for item in table.scene.laid]
    lines = [
        QPolygonF([frame.point(at) for at in item.on_table(stretch)])
        for item in table.scene.laid
        for line in item.shown.lines
        for stretch in line.stretches
    ]
    return polygons, lines


def delays(application: QApplication, size: tuple[int, int], design: Design) -> tuple[list[float], list[float]]:
    """Milliseconds on the wall from a move until the line is painted there, and until the garment is, at 60 Hz."""
    window = opened(application, size, design)
    table, start = handle(window)
    session, asked, seen, followed = window.session, dict[int, float](), list[float](), list[float]()
    tried: list[Design] = []
    ask = session.try_out

    def noting(design: Design) -> bool:
        tried.append(design)
        asked[id(design)] = moved
        return ask(design)

    def note(_: object) -> None:
        followed.append((perf_counter() - asked[id(session.shown.design)]) * 1000.0)

    session.worked_out.connect(note)
    QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
    with patch.object(session, "try_out", noting):
        for step in range(STEPS):
            moved = perf_counter()
            QTest.mouseMove(table, place(start, step))
            application.processEvents()
            seen.append((perf_counter() - moved) * 1000.0)
            QTest.qWait(max(1, round(FRAME - seen[-1])))
    QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start)
    closed(application, window)
    return seen, followed


def figures() -> Iterator[str]:
    """Rows to print."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    for demo, design in DEMOS.items():
        for name, size in SIZES.items():
            baseline = bare_painting(application, size, design())
            yield shown(f"{demo} at {name}: bare Qt painting of its paths", baseline)
            yield shown("  a frame, processor's time", drag(application, size, process_time, design)[20:], baseline)
            seen, followed = delays(application, size, design())
            yield shown("  from the move to the line, wall", seen[20:])
            yield shown("  from the move to the whole garment, wall", followed[5:])
