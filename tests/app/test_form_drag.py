"""The boundary of each demo, dragged with the mouse at the table: line and numbers on the form follow the hand."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session import Session
from app.window.main_window import MainWindow
from core.geometry.polyline import Point
from tests.samples import design

pytestmark = pytest.mark.usefixtures("forms_made_once")

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
MADE_WITHIN = 60_000
"""Milliseconds: about one on an idle machine; others may be at work."""


def _with_form(qtbot: QtBot, name: str) -> MainWindow:
    window = MainWindow(Session(design(name)))
    window.resize(2400, 1500)
    window.show()
    window.desk.turn_form()
    qtbot.waitUntil(lambda: window.form.view.laid is not None, timeout=MADE_WITHIN)
    return window


def _pixel(window: MainWindow, at: Point) -> QPoint:
    x, y = window.table.view.to_pixels(at)
    return QPoint(round(x), round(y))


def _settle(window: MainWindow) -> None:
    QApplication.processEvents()
    while window.session.is_trying:
        QTest.qWait(1)


def _take_up(window: MainWindow, yoke: str, point: str) -> Point:
    """Click the edge that was cut along the sheer line; where one of its points is then held."""
    edges = window.session.replay.garment.piece(yoke).edges
    edge = next(edge.points for edge in edges if edge.name.startswith("sheer_line"))
    item = window.table.scene.piece(yoke)
    assert item is not None
    QTest.mouseClick(window.table, LEFT, NONE, _pixel(window, item.to_table(tuple(edge[len(edge) // 3]))))
    _settle(window)
    return next(h.at for h in window.table.shown_handles if h.accessible_name.startswith(point))


def _pull_down(window: MainWindow, start: Point, by: float) -> None:
    """Press and move by so many mm, the button still down."""
    QTest.mousePress(window.table, LEFT, NONE, _pixel(window, start))
    for step in (0.5, 1.0):
        QTest.mouseMove(window.table, _pixel(window, (start[0], start[1] - step * by)))
        _settle(window)


def _line(window: MainWindow) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    laid = window.form.view.laid
    assert laid is not None
    return laid.line.places if laid.line is not None else laid.back.lines[0]


@pytest.mark.parametrize("name", ["concert", "ball", "skater"])
def test_line_and_numbers_on_the_form_follow_the_hand(qtbot: QtBot, name: str) -> None:
    """While the button is down, line, picture and words are others; Esc brings all of it back."""
    window = _with_form(qtbot, name)
    start = _take_up(window, "front yoke", "Point 2")
    line, words, picture = _line(window), window.form.words.text(), window.form.view.grab().toImage()
    _pull_down(window, start, 20.0)
    qtbot.waitUntil(lambda: bool(np.median(_line(window)[:, 2]) < np.median(line[:, 2]) - 1.0))
    assert window.form.words.text() != words
    assert window.form.view.grab().toImage() != picture
    QTest.keyClick(window.table, Qt.Key.Key_Escape)
    _settle(window)
    assert window.form.words.text() == words
    QTest.mouseRelease(window.table, LEFT, NONE, _pixel(window, start))


def test_the_line_of_a_sheer_back_follows_the_hand(qtbot: QtBot) -> None:
    """On the demo that is bare at the back the line moves up her back; numbers there are none, and that is said."""
    window = _with_form(qtbot, "stage")
    start = _take_up(window, "back yoke", "Point 1")
    before = _line(window)
    _pull_down(window, start, -20.0)
    qtbot.waitUntil(lambda: bool(np.median(_line(window)[:, 2]) > np.median(before[:, 2]) + 1.0))
    assert "nothing is measured there" in window.form.words.text()
    QTest.mouseRelease(window.table, LEFT, NONE, _pixel(window, (start[0], start[1] + 20.0)))
    _settle(window)
    assert window.session.history.undo_label == "Move a point of the sheer line"
