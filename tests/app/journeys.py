"""What a journey does in the window: nothing but mouse and keys, every widget found by its accessible name."""

from __future__ import annotations

from typing import TypeVar

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QTableWidget,
    QToolButton,
    QWidget,
)

W = TypeVar("W", bound=QWidget)

LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier

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


def step_texts(window: QWidget) -> list[str]:
    """Every step as it reads."""
    steps = named(QListWidget, "Steps", window)
    return [steps.item(row).text() for row in range(steps.count())]


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


def choose_seam(window: QWidget, seam: str) -> None:
    """Click on a row of the seam table."""
    table = named(QTableWidget, "Seam table", window)
    item = next(table.item(row, 0) for row in range(table.rowCount()) if cell(table, row, 0) == seam)
    assert item is not None
    QTest.mouseClick(table.viewport(), LEFT, pos=table.visualItemRect(item).center())


def take_in_one_side(window: QWidget, seam: str, piece: str, inches: str) -> None:
    """Take so much off one side alone of a seam at the waist."""
    take(window, "Take in")
    click(window, f"Seam {seam}")
    both = named(QCheckBox, "Both sides alike", window)
    QTest.mouseClick(both, LEFT, pos=QPoint(8, both.height() // 2))
    click(window, f"{piece} at the waist")
    type_into(named(QLineEdit, f"Off the {piece} at the waist", window), inches)
    QTest.mouseClick(named(QPushButton, "Take in", window), LEFT)


def type_into(field: QLineEdit, text: str) -> None:
    """Type over what stands in a field, and press Enter."""
    QTest.mouseClick(field, LEFT)
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)
