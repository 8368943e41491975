"""The whole road from a new client to her pages by the keyboard alone, and back to its beginning and on again."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QListWidget, QMainWindow, QTableWidget, QWidget

from app.__main__ import make_window
from tests.app.journeys import CONTROL, HERS

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

W = TypeVar("W", bound=QWidget)

SHIFT = Qt.KeyboardModifier.ShiftModifier
NONE = Qt.KeyboardModifier.NoModifier
Key = Qt.Key


def press(key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    """Strike a key where the keyboard is."""
    QTest.keyClick(focus(), key, held)
    QApplication.processEvents()


def focus() -> QWidget:
    """What has the keyboard."""
    widget = QApplication.focusWidget()
    assert widget is not None, "nothing has the keyboard"
    return widget


def tab_to(words: str) -> None:
    """Tab on until what has the keyboard is called so; of a handle, before its figures are said."""
    seen: list[str] = []
    for _ in range(400):
        if focus().accessibleName().partition(",")[0] == words:
            return
        seen.append(focus().accessibleName())
        press(Key.Key_Tab)
    pytest.fail(f"Tab never comes to {words}; it went to {', '.join(dict.fromkeys(seen))}")


def typed(text: str) -> None:
    """Type over what stands in the field that has the keyboard."""
    press(Key.Key_A, CONTROL)
    QTest.keyClicks(focus(), text)


def named(kind: type[W], name: str, within: QWidget) -> W:
    """The one visible widget of that accessible name."""
    found = [w for w in within.findChildren(kind) if w.accessibleName() == name and w.isVisible()]
    assert len(found) == 1, f"{len(found)} widgets are called {name}"
    return found[0]


def dialog(qtbot: QtBot, name: str) -> QWidget:
    """The open dialog of that name, with the keyboard in it."""

    def found() -> list[QWidget]:
        return [w for w in QApplication.topLevelWidgets() if w.accessibleName() == name and w.isVisible()]

    qtbot.waitUntil(lambda: len(found()) == 1 and found()[0].isAncestorOf(QApplication.focusWidget() or found()[0]))
    return found()[0]


def texts(table: QTableWidget) -> list[list[str]]:
    """A table as it reads."""
    rows = range(table.rowCount())
    items = [[table.item(row, column) for column in range(table.columnCount())] for row in rows]
    return [[item.text() if item is not None else "" for item in row] for row in items]


def state(window: QWidget) -> tuple[object, ...]:
    """All that the window says of the design: steps, seams, girths, pieces with their places."""
    steps = named(QListWidget, "Steps", window)
    tables = [texts(named(QTableWidget, name, window)) for name in ("Seam table", "Finished girths")]
    lying = {w.accessibleName() for w in named(QWidget, "Cutting table", window).findChildren(QWidget) if w.isVisible()}
    return ([steps.item(row).text() for row in range(steps.count())], *tables, lying)


def verdict(window: QWidget, seam: str) -> str:
    """What the seam table says of a seam."""
    return next(row[-1] for row in texts(named(QTableWidget, "Seam table", window)) if row[0] == seam)


def test_from_a_new_client_to_her_pages_by_keys_alone(qtbot: QtBot, tmp_path: Path) -> None:
    """Measured, drafted, drawn, pivoted, cut, taken in, trimmed, printed; undo and redo give both ends again."""
    window = make_window()
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    named(QWidget, "Cutting table", window).setFocus()
    draft_new_client(qtbot, window)
    press(Key.Key_V)
    begun = state(window)
    draw(window)
    cut_and_match(window)
    press(Key.Key_V)
    ended = state(window)
    path = tmp_path / "hers.pdf"
    print_pages(qtbot, window, path)
    assert path.read_bytes().startswith(b"%PDF")
    assert travelled(window, Key.Key_Z, CONTROL, begun) == travelled(window, Key.Key_Y, CONTROL, ended)


def draft_new_client(qtbot: QtBot, window: QMainWindow) -> None:
    """Ctrl+N, her name, Tab from field to field, Enter."""
    press(Key.Key_N, CONTROL)
    dialog(qtbot, "New client")
    tab_to("Client")
    typed("Mrs Thornapple")
    for name, text in HERS.items():
        tab_to(name)
        typed(text)
    tab_to("Draft the block")
    with qtbot.waitActive(window):
        press(Key.Key_Space)
        window.activateWindow()
    named(QWidget, "Cutting table", window).setFocus()


def take(letter: Qt.Key) -> None:
    """Leave what is in hand and take up the tool of a letter."""
    press(Key.Key_Escape)
    press(letter)


def draw(window: QMainWindow) -> None:
    """A neckline as proposed; the shoulder dart into the waist; a sheer line by typed places."""
    take(Key.Key_N)
    press(Key.Key_Return)
    take(Key.Key_P)
    tab_to("Shoulder dart of front")
    press(Key.Key_Return)
    tab_to("To the waist dart")
    press(Key.Key_Return)
    press(Key.Key_Return)
    take(Key.Key_S)
    for words in ("6 in from the waist along the centre front", "1 in above the bust point", "mid armhole"):
        tab_to("Or type a place")
        typed(words)
        press(Key.Key_Return)
    steps = state(window)[0]
    assert isinstance(steps, list)
    assert [words[:8] for words in steps] == ["1. Cut a", "2. Pivot", "3. Draw "]


def cut_and_match(window: QMainWindow) -> None:
    """Cut; half an inch off one side of the side seam; and both sides equal again."""
    take(Key.Key_C)
    press(Key.Key_Return)
    assert verdict(window, "front sheer line") == "= exact"
    take(Key.Key_I)
    tab_to("Seam side")
    press(Key.Key_Return)
    tab_to("Both sides alike")
    press(Key.Key_Space)
    tab_to("lower front at the waist")
    press(Key.Key_1)
    press(Key.Key_Return)
    press(Key.Key_Return)
    assert verdict(window, "side") != "= exact"
    take(Key.Key_T)
    tab_to("Seam side")
    press(Key.Key_Return)
    tab_to("Trim side at the waist")
    press(Key.Key_Return)
    assert verdict(window, "side") == "= exact"


def print_pages(qtbot: QtBot, window: QMainWindow, path: Path) -> None:
    """Ctrl+P, the file's name, Print, and wait until it is said that the pages are there."""
    press(Key.Key_P, CONTROL)
    box = dialog(qtbot, "Print")
    counted = named(QLabel, "Page count", box)
    qtbot.waitUntil(lambda: "pages of" in counted.text(), timeout=10_000)
    count = counted.text().split()[0]
    tab_to("File")
    typed(str(path))
    tab_to("Print")
    press(Key.Key_Space)
    words = f"{count} pages were written to {path.name}."
    qtbot.waitUntil(lambda: named(QLabel, "How to print", box).text().startswith(words), timeout=10_000)
    with qtbot.waitActive(window):
        press(Key.Key_Escape)
        window.activateWindow()
    named(QWidget, "Cutting table", window).setFocus()


def travelled(window: QMainWindow, key: Qt.Key, held: Qt.KeyboardModifier, goal: tuple[object, ...]) -> int:
    """Strike a key until the window reads as it did once; how often that took."""
    for count in range(1, 60):
        press(key, held)
        if state(window) == goal:
            return count
    pytest.fail(f"{state(window)} is not {goal}")
