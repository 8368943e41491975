"""The main jobs from end to end with nothing but mouse and keys, every widget found by its accessible name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QMainWindow,
    QPushButton,
    QTableWidget,
    QWidget,
)

from tests.app.at_window import opened
from tests.app.journeys import (
    CONTROL,
    LEFT,
    cell,
    choose_seam,
    click,
    drag,
    edit_step,
    named,
    seams,
    step_texts,
    take,
    take_in_one_side,
)

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def demo_window(qtbot: QtBot) -> QMainWindow:
    """The window on the demo, shown and ready for keys."""
    return opened(qtbot, demo=True)


def test_a_drag_of_the_sheer_line_changes_the_seam_table_live_and_is_one_act(qtbot: QtBot) -> None:
    """The seam's both sides follow while the button is down, stay equal, and one undo brings the old lengths back."""
    window = demo_window(qtbot)
    before = seams(window)
    edit_step(window, "sheer line")
    drag(window, "Point 3", QPoint(0, 10), release=False)
    qtbot.waitUntil(lambda: seams(window)["front sheer line"] != before["front sheer line"])
    during = seams(window)
    table = named(QWidget, "Cutting table", window)
    spot = named(QWidget, "Point 3", table).geometry().center()
    QTest.mouseRelease(table, LEFT, pos=spot)
    after = seams(window)
    assert after["front sheer line"] != before["front sheer line"]
    assert during.keys() == after.keys() == before.keys()
    assert [cells[-1] for cells in after.values()] == ["= exact"] * len(after)
    QTest.keyClick(table, Qt.Key.Key_Z, CONTROL)
    assert seams(window) == before


def test_a_drag_of_the_sheer_line_changes_the_panels(qtbot: QtBot) -> None:
    """The step says its new length, and the yoke's own edge is as long as the seam table says; undo brings all back."""
    window = demo_window(qtbot)
    steps, yoke = step_texts(window), yoke_edges(window)
    edit_step(window, "sheer line")
    drag(window, "Point 3", QPoint(0, 10))
    now = yoke_edges(window)
    assert step_texts(window)[2] != steps[2]
    assert now["sheer line"] != yoke["sheer line"]
    assert now["sheer line"] == seams(window)["front sheer line"][1]
    QTest.keyClick(named(QWidget, "Cutting table", window), Qt.Key.Key_Z, CONTROL)
    assert (step_texts(window), yoke_edges(window)) == (steps, yoke)


def yoke_edges(window: QWidget) -> dict[str, str]:
    """The length of each edge of the front yoke, which is taken up by its number."""
    take(window, "Choose")
    click(window, "Piece 1 front yoke")
    edges = named(QTableWidget, "Edges", window)
    return {cell(edges, row, 0): cell(edges, row, 2) for row in range(edges.rowCount())}


def test_esc_during_a_drag_restores_what_was(qtbot: QtBot) -> None:
    """Nothing is committed: the table reads as before, and there is nothing to undo."""
    window = demo_window(qtbot)
    before = seams(window)
    edit_step(window, "sheer line")
    drag(window, "Point 3", QPoint(0, 10), release=False)
    qtbot.waitUntil(lambda: seams(window) != before)
    table = named(QWidget, "Cutting table", window)
    QTest.keyClick(table, Qt.Key.Key_Escape)
    QTest.mouseRelease(table, LEFT, pos=QPoint(300, 300))
    assert seams(window) == before
    assert not window.isWindowModified()


def test_a_handle_is_moved_by_keys_too(qtbot: QtBot) -> None:
    """Arrow keys on a handle move it by a millimetre; taps in a row are one act."""
    window = demo_window(qtbot)
    before = seams(window)
    edit_step(window, "sheer line")
    table = named(QWidget, "Cutting table", window)
    handle = named(QWidget, "Point 3", table)
    old = handle.accessibleName()
    handle.setFocus()
    for _ in range(5):
        QTest.keyClick(handle, Qt.Key.Key_Down)
    assert handle.accessibleName() != old
    assert seams(window)["front sheer line"] != before["front sheer line"]
    QTest.keyClick(table, Qt.Key.Key_Z, CONTROL)
    assert seams(window) == before


def test_a_seam_taken_in_on_one_side_is_trimmed_to_match(qtbot: QtBot) -> None:
    """An inch off the side front alone leaves the princess seam unequal; one press makes it exact, undo unequal."""
    window = demo_window(qtbot)
    assert seams(window)["front princess"][-1] == "= exact"
    take_in_one_side(window, "front princess", "side front", "1")
    unequal = seams(window)["front princess"]
    assert unequal[-1] != "= exact"
    choose_seam(window, "front princess")
    QTest.mouseClick(named(QPushButton, "Trim to match", window), LEFT)
    row = seams(window)["front princess"]
    assert row[-1] == "= exact"
    assert row[1] == row[2]
    QTest.keyClick(named(QWidget, "Seam table", window), Qt.Key.Key_Z, CONTROL)
    assert seams(window)["front princess"] == unequal
