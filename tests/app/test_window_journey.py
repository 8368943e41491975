"""The main job on the demo with nothing but mouse and keys, every widget found by its accessible name."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QListWidget, QPushButton, QTableWidget, QWidget

from app.__main__ import make_window

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

W = TypeVar("W", bound=QWidget)

LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier


def demo_window(qtbot: QtBot) -> QWidget:
    """The window on the demo, shown and ready for keys."""
    window = make_window(None, True)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    return window


def named(kind: type[W], name: str, within: QWidget) -> W:
    """The one visible widget whose accessible name begins so."""
    found = [w for w in within.findChildren(kind) if w.accessibleName().startswith(name) and w.isVisible()]
    assert len(found) == 1, f"{len(found)} widgets are called {name}"
    return found[0]


def seams(window: QWidget) -> dict[str, list[str]]:
    """The seam table as it reads: the cells of a row by its seam."""
    table = named(QTableWidget, "Seam table", window)
    rows = [[cell(table, row, column) for column in range(table.columnCount())] for row in range(table.rowCount())]
    return {cells[0]: cells[1:] for cells in rows}


def cell(table: QTableWidget, row: int, column: int) -> str:
    """The text of one cell."""
    item = table.item(row, column)
    assert item is not None
    return item.text()


def edit_step(window: QWidget, words: str) -> None:
    """Choose the step whose sentence holds these words, and press Edit."""
    steps = named(QListWidget, "Steps", window)
    row = next(row for row in range(steps.count()) if words in steps.item(row).text())
    steps.scrollToItem(steps.item(row))
    QTest.mouseClick(steps.viewport(), LEFT, pos=steps.visualItemRect(steps.item(row)).center())
    QTest.mouseClick(named(QPushButton, "Edit", window), LEFT)


def drag(window: QWidget, handle: str, by: QPoint, *, release: bool = True) -> None:
    """Drag a handle of the table by so many pixels, in ten moves."""
    table = named(QWidget, "Cutting table", window)
    widget = named(QWidget, handle, table)
    start = widget.mapTo(table, widget.rect().center())
    QTest.mousePress(table, LEFT, pos=start)
    for step in range(1, 11):
        QTest.mouseMove(table, start + by * (step / 10))
        QApplication.processEvents()
    if release:
        QTest.mouseRelease(table, LEFT, pos=start + by)


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
