"""What is in sight at each size of the window and of its text, and how the window comes back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolButton

from app.panels.seams import COLUMNS
from app.panels.sentence_line import WholeSentence
from tests.app.at_window import opened, text_size

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (1920, 1080)])
def test_every_part_is_in_sight(qtbot: QtBot, width: int, height: int) -> None:
    """Table, measurements, steps, piece, seams and order of work, whatever the splitters are dragged to."""
    window = opened(qtbot, demo=True)
    window.resize(width, height)
    window.across.setSizes([0, width, 0])
    window.down.setSizes([height, 0])
    QApplication.processEvents()
    for part in (window.table, window.measurements, window.steps, window.piece, window.seams, window.order):
        shown = part.visibleRegion().boundingRect()
        assert shown.width() > 60, part.accessibleName()
        assert shown.height() > 30, part.accessibleName()
    assert window.width() == width
    assert window.seams.table.visibleRegion().boundingRect().height() > 40


@pytest.mark.parametrize(("width", "times"), [(1920, 1), (1280, 1), (1000, 1), (1280, 2)])
def test_no_tool_hides(qtbot: QtBot, width: int, times: int) -> None:
    """Every button is in sight and at least 24 pixels high (WCAG 2.2, 2.5.8), at twice the text size too (1.4.4)."""
    with text_size(times):
        window = opened(qtbot)
        window.resize(width, 800)
        QApplication.processEvents()
        for button in window.bars.buttons.values():
            assert isinstance(button, QToolButton)
            assert button.isVisible(), button.accessibleName()
            assert button.height() >= 24
            assert button.width() >= button.sizeHint().width()
            assert button.mapTo(window, QPoint(button.width(), 0)).x() <= width


def test_difference_and_verdict_stay_in_sight_at_twice_the_text(qtbot: QtBot) -> None:
    """What the seam table is looked at for comes first; the names of the pieces give way (WCAG 2.2, 1.4.4)."""
    with text_size(2):
        window = opened(qtbot, demo=True)
        window.resize(1280, 800)
        QApplication.processEvents()
        assert (window.width(), window.height()) == (1280, 800)
        table = window.seams.table
        for column in ("Seam", "Verdict", "Difference", "1st side", "2nd side"):
            index = COLUMNS.index(column)
            left = table.columnViewportPosition(index)
            assert left >= 0
            assert left + table.columnWidth(index) <= table.viewport().width(), column
        girths = window.seams.girths
        assert girths.horizontalHeader().length() <= girths.viewport().width()


def test_four_seams_are_in_sight_at_twice_the_text(qtbot: QtBot) -> None:
    """Whole rows, the header saying how many there are in all; dragging the panel's edge never hides them all."""
    with text_size(2):
        window = opened(qtbot, demo=True)
        window.resize(1280, 800)
        QApplication.processEvents()
        table = window.seams.table
        header = table.horizontalHeaderItem(0)
        assert header is not None
        assert header.text() == f"{table.rowCount()} seams"
        assert table.rowViewportPosition(3) + table.rowHeight(3) <= table.viewport().height()
        assert not table.horizontalScrollBar().isVisible()
        window.down.setSizes([10_000, 0])
        QApplication.processEvents()
        assert table.rowViewportPosition(1) + table.rowHeight(1) <= table.viewport().height()


def test_a_long_sentence_of_the_status_bar_is_read_whole(qtbot: QtBot) -> None:
    """It is cut with dots and never widens the window; its tip, F2, and Enter on it by Tab give all of it."""
    window = opened(qtbot)
    window.resize(1000, 700)
    long = "Taking in changes the seam front sheer line by -0.4 cm, which is allowed it as ease. " * 4
    window.desk.said.emit(long)
    line = window.status.words
    assert window.width() == 1000
    assert line.focusPolicy() == Qt.FocusPolicy.TabFocus
    assert line.toolTip() == line.accessibleDescription() == long
    QTest.keyClick(window.table, Qt.Key.Key_F2)
    slip = QApplication.focusWidget()
    assert isinstance(slip, WholeSentence)
    assert slip.accessibleName() == long
    assert window.rect().contains(slip.geometry())
    QTest.keyClick(slip, Qt.Key.Key_Escape)
    assert window.table.hasFocus()
    line.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(line, Qt.Key.Key_Return)
    again = QApplication.focusWidget()
    assert isinstance(again, WholeSentence)
    QTest.mouseClick(again, Qt.MouseButton.LeftButton)
    assert not again.isVisible()
    window.desk.said.emit("Short.")
    assert line.focusPolicy() == Qt.FocusPolicy.NoFocus


def test_all_seams_of_the_demo_are_in_sight_at_1280_pixels(qtbot: QtBot) -> None:
    """Six rows, none of them cut off, and no measurement's name in more than two lines."""
    window = opened(qtbot, demo=True)
    window.resize(1280, 800)
    QApplication.processEvents()
    table = window.seams.table
    last = table.rowCount() - 1
    assert last == 5
    assert table.rowViewportPosition(last) + table.rowHeight(last) <= table.viewport().height()
    for row in window.measurements.rows.values():
        assert row.label.height() < 3 * row.label.fontMetrics().lineSpacing(), row.name


def test_any_size_after_any_other_keeps_every_tool(qtbot: QtBot) -> None:
    """One row of tools more makes the least height grow, and Qt resizes in the middle of it: nothing gets lost."""
    window = opened(qtbot, demo=True)
    for size in ((700, 500), (1300, 900), (1000, 700), (1920, 1000), (700, 500)):
        window.resize(*size)
        QApplication.processEvents()
        assert all(button.isVisible() for button in window.bars.buttons.values())


def test_the_window_is_as_it_was_left(qtbot: QtBot) -> None:
    """Size and splitters come back at the next start."""
    window = opened(qtbot)
    window.resize(700, 760)
    window.beside.setSizes([250, 350])
    QApplication.processEvents()
    left = (window.size(), window.beside.sizes())
    window.close()
    again = opened(qtbot)
    assert (again.size(), again.beside.sizes()) == left


def test_a_larger_window_shows_everything_larger_until_one_has_looked_elsewhere(qtbot: QtBot) -> None:
    """The pieces stay fitted into the table while nobody has zoomed or moved it; after that the view is hers."""
    window = opened(qtbot, demo=True)
    small = window.table.view.zoom
    window.resize(1920, 1080)
    QApplication.processEvents()
    assert window.table.view.zoom > small
    QTest.keyClick(window.table, Qt.Key.Key_1, CONTROL)
    window.resize(1280, 800)
    QApplication.processEvents()
    assert window.table.view.zoom == 1.0
