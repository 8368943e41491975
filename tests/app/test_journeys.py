"""The main jobs from end to end with nothing but mouse and keys, every widget found by its accessible name."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QMainWindow,
    QMenu,
    QPushButton,
    QTableWidget,
    QToolButton,
    QWidget,
)

from app.__main__ import make_window

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

W = TypeVar("W", bound=QWidget)

LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier


def demo_window(qtbot: QtBot) -> QMainWindow:
    """The window on the demo, shown and ready for keys."""
    return shown(qtbot, make_window(None, True))


def shown(qtbot: QtBot, window: QMainWindow) -> QMainWindow:
    """The window, ready for keys."""
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    return window


def named(kind: type[W], name: str, within: QWidget) -> W:
    """The one visible widget of that accessible name, or else the one whose name begins so."""
    begun = [w for w in within.findChildren(kind) if w.accessibleName().startswith(name) and w.isVisible()]
    found = [w for w in begun if w.accessibleName() == name] or begun
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


def step_texts(window: QWidget) -> list[str]:
    """Every step as it reads."""
    steps = named(QListWidget, "Steps", window)
    return [steps.item(row).text() for row in range(steps.count())]


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


# --- making a pair equal


def take(window: QWidget, tool: str) -> None:
    """Press a tool's button."""
    QTest.mouseClick(named(QToolButton, tool, window), LEFT)
    QApplication.processEvents()


def click(window: QWidget, handle: str) -> None:
    """Click on a handle of the table."""
    table = named(QWidget, "Cutting table", window)
    click_at(window, middle(named(QWidget, handle, table), table))


def middle(widget: QWidget, within: QWidget) -> QPoint:
    """Where a widget's middle lies within another."""
    return widget.mapTo(within, widget.rect().center())


def click_at(window: QWidget, spot: QPoint) -> None:
    """Go to a spot of the table and click."""
    table = named(QWidget, "Cutting table", window)
    hover(window, spot)
    QTest.mouseClick(table, LEFT, pos=spot)
    QApplication.processEvents()


def hover(window: QWidget, spot: QPoint) -> str:
    """Go to a spot of the table; what a click would do there, as the status line says it."""
    QTest.mouseMove(named(QWidget, "Cutting table", window), spot)
    QApplication.processEvents()
    return named(QLabel, "What the pointer would do", window).text()


def test_a_seam_taken_in_on_one_side_is_trimmed_to_match(qtbot: QtBot) -> None:
    """An inch off the side front alone leaves the princess seam unequal; one press makes it exact, undo unequal."""
    window = demo_window(qtbot)
    assert seams(window)["front princess"][-1] == "= exact"
    take(window, "Take in")
    click(window, "Seam front princess")
    both = named(QCheckBox, "Both sides alike", window)
    QTest.mouseClick(both, LEFT, pos=QPoint(8, both.height() // 2))
    click(window, "side front at the waist")
    type_into(named(QLineEdit, "Off the side front at the waist", window), "1")
    QTest.mouseClick(named(QPushButton, "Take in", window), LEFT)
    unequal = seams(window)["front princess"]
    assert unequal[-1] != "= exact"
    choose_seam(window, "front princess")
    QTest.mouseClick(named(QPushButton, "Trim to match", window), LEFT)
    row = seams(window)["front princess"]
    assert row[-1] == "= exact"
    assert row[1] == row[2]
    QTest.keyClick(named(QWidget, "Seam table", window), Qt.Key.Key_Z, CONTROL)
    assert seams(window)["front princess"] == unequal


def choose_seam(window: QWidget, seam: str) -> None:
    """Click on a row of the seam table."""
    table = named(QTableWidget, "Seam table", window)
    item = next(table.item(row, 0) for row in range(table.rowCount()) if cell(table, row, 0) == seam)
    assert item is not None
    QTest.mouseClick(table.viewport(), LEFT, pos=table.visualItemRect(item).center())


def type_into(field: QLineEdit, text: str) -> None:
    """Type over what stands in a field, and press Enter."""
    QTest.mouseClick(field, LEFT)
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


# --- from a new client to her pages

HERS = {
    "Bust": "37",
    "High bust": "35",
    "Under-bust": "31",
    "Waist": "28 1/2",
    "Bust span": "7 1/2",
    "Side neck to bust point": "10 1/2",
    "Front waist length": "17 1/4",
    "Back waist length": "16",
    "Shoulder length": "4 7/8",
}
"""An invented figure, in inches."""


def test_from_a_new_client_to_her_pages(qtbot: QtBot, tmp_path: Path) -> None:
    """Measured, drafted, drawn, pivoted, cut, trimmed, the pages lie in a file; undo and redo give both ends again."""
    window = shown(qtbot, make_window())
    assert state(window, "Measure").startswith("next")
    draft_new_client(qtbot, window)
    begun = reads(window)
    assert state(window, "Measure") == state(window, "Draft") == "done"
    assert state(window, "Draw") == "next: neckline"
    draw_neckline(window)
    draw_sheer_line(window)
    pivot_shoulder_dart(window)
    take(window, "Cut into panels")
    QTest.mouseClick(named(QPushButton, "Cut", window), LEFT)
    assert seams(window)["front sheer line"][-1] == "= exact"
    assert seams(window)["front sheer line"][0] == "front yoke to lower front"
    assert state(window, "Panels") == state(window, "Match") == "done"
    take_in_one_side_and_trim(window)
    ended = reads(window)
    path = tmp_path / "hers.pdf"
    print_pages(qtbot, window, path)
    assert path.read_bytes().startswith(b"%PDF")
    assert travelled(window, "Undo", begun) == travelled(window, "Redo", ended) == 6


def state(window: QWidget, station: str) -> str:
    """What a station of the order of work says of itself."""
    return named(QLabel, f"{station}: ", window).accessibleName().partition(": ")[2]


def dialog(qtbot: QtBot, name: str) -> QWidget:
    """The open dialog of that name."""

    def found() -> list[QWidget]:
        return [w for w in QApplication.topLevelWidgets() if w.accessibleName() == name and w.isVisible()]

    qtbot.waitUntil(lambda: len(found()) == 1)
    return found()[0]


def draft_new_client(qtbot: QtBot, window: QWidget) -> None:
    """New, her name, her measurements, draft."""
    QTest.mouseClick(named(QToolButton, "New", window), LEFT)
    box = dialog(qtbot, "New client")
    QTest.keyClicks(named(QLineEdit, "Client", box), "Mrs Thornapple")
    for name, text in HERS.items():
        field = named(QLineEdit, name, box)
        QTest.mouseClick(field, LEFT)
        field.selectAll()
        QTest.keyClicks(field, text)
    with qtbot.waitActive(window):
        QTest.mouseClick(named(QPushButton, "Draft the block", box), LEFT)
        window.activateWindow()


def draw_neckline(window: QWidget) -> None:
    """Lower the proposed neckline at the centre front by a drag, which keeps it."""
    take(window, "Neckline")
    drag(window, "Depth at centre front", QPoint(0, 8))
    QApplication.processEvents()
    assert step_texts(window)[0].startswith("1. Cut a round neckline")


def draw_sheer_line(window: QMainWindow) -> None:
    """With the shoulder dart folded, from the centre front to wherever the armhole is met."""
    take(window, "Choose")
    click(window, "Piece front")
    fold_shoulder_dart(window)
    take(window, "Sheer line")
    centre = below_the_pit(window)
    click_at(window, centre)
    click_at(window, centre + QPoint(40, 6))
    click_at(window, first_spot(window, "Armhole", centre + QPoint(60, 14), QPoint(3, 0)))
    assert "with the shoulder dart folded" in step_texts(window)[1]


def below_the_pit(window: QWidget) -> QPoint:
    """A spot on the centre front a little under the neckline, wherever the table shows it now."""
    half_way = QPoint(30, named(QWidget, "Cutting table", window).height() // 2)
    on_fold = first_spot(window, "Centre front", half_way, QPoint(6, 0))
    top = first_spot(window, "Centre front", QPoint(on_fold.x(), 40), QPoint(0, 2))
    return first_spot(window, "Centre front", top + QPoint(0, 12), QPoint(0, 2))


def pivot_shoulder_dart(window: QWidget) -> None:
    """Three clicks: the dart, where it goes, and the button."""
    take(window, "Pivot a dart")
    click(window, "Shoulder dart of front")
    click(window, "To the waist dart")
    QTest.mouseClick(named(QPushButton, "Pivot", window), LEFT)
    assert step_texts(window)[2].startswith("3. Pivot the shoulder dart into the waist dart")


def take_in_one_side_and_trim(window: QWidget) -> None:
    """Half an inch off the front alone at the side seam, and both sides made equal again."""
    take(window, "Take in")
    click(window, "Seam side")
    both = named(QCheckBox, "Both sides alike", window)
    QTest.mouseClick(both, LEFT, pos=QPoint(8, both.height() // 2))
    click(window, "lower front at the waist")
    type_into(named(QLineEdit, "Off the lower front at the waist", window), "1/2")
    QTest.mouseClick(named(QPushButton, "Take in", window), LEFT)
    assert seams(window)["side"][-1] != "= exact"
    choose_seam(window, "side")
    QTest.mouseClick(named(QPushButton, "Trim to match", window), LEFT)
    assert seams(window)["side"][-1] == "= exact"


def reads(window: QWidget) -> tuple[object, ...]:
    """All that the window says of the design: steps, seams, and the pieces with their places."""
    take(window, "Choose")
    lying = named(QWidget, "Cutting table", window).findChildren(QWidget)
    return (step_texts(window), seams(window), {w.accessibleName() for w in lying if w.isVisible()})


def travelled(window: QWidget, button: str, goal: tuple[object, ...]) -> int:
    """Press Undo or Redo until the window reads as it did once; how often that took."""
    for count in range(1, 40):
        QTest.mouseClick(named(QToolButton, button, window), LEFT)
        if reads(window) == goal:
            return count
    pytest.fail(f"{reads(window)} is not {goal}")


def first_spot(window: QWidget, words: str, start: QPoint, step: QPoint) -> QPoint:
    """The first spot on the way from a start where the status line begins with these words."""
    return next(spot for spot in (start + step * n for n in range(200)) if hover(window, spot).startswith(words))


def fold_shoulder_dart(window: QMainWindow) -> None:
    """Fold one dart of the piece after the other until it is the one at the shoulder."""
    actions = [action for menu in window.findChildren(QMenu) for action in menu.actions()]
    fold = next(action for action in actions if action.text().startswith("&Fold"))
    for _ in range(3):
        words = fold.text()
        QTest.keyClick(named(QWidget, "Cutting table", window), Qt.Key.Key_D, CONTROL)
        if "shoulder" in words:
            return
    pytest.fail("no dart at the shoulder could be folded")


def print_pages(qtbot: QtBot, window: QWidget, path: Path) -> None:
    """Press the last station, name the file, print, and wait until it is said that the pages are there."""
    QTest.mouseClick(named(QPushButton, "Print", window), LEFT)
    box = dialog(qtbot, "Print")
    counted = named(QLabel, "Page count", box)
    qtbot.waitUntil(lambda: "pages of" in counted.text(), timeout=10_000)
    count = counted.text().split()[0]
    field = named(QLineEdit, "File", box)
    field.selectAll()
    QTest.keyClicks(field, str(path))
    QTest.mouseClick(named(QPushButton, "Print", box), LEFT)
    words = f"{count} pages were written to {path.name}."
    qtbot.waitUntil(lambda: named(QLabel, "How to print", box).text().startswith(words), timeout=10_000)
