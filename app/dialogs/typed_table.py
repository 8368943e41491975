"""A table for typing many lengths quickly: a key begins a cell, Enter and Tab go on to the next that can be typed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.messages import guard

NOTHING: Final = "\N{EN DASH}"
"""Stands in a cell that takes nothing."""

Move = QAbstractItemView.CursorAction


class TypedTable(QTableWidget):
    """Rows of plain words and of cells to type in."""

    def __init__(self, name: str, headings: Sequence[str], parent: QWidget) -> None:
        super().__init__(0, len(headings), parent)
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels(list(headings))
        self.verticalHeader().hide()
        self.horizontalHeader().setStretchLastSection(True)
        self.setWordWrap(False)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.AnyKeyPressed | triggers.DoubleClicked | triggers.EditKeyPressed)

    def put(self, row: int, column: int, text: str, *, typed: bool, name: str = "") -> None:
        """Fill a cell; `name` is what it is called, for those who cannot see its row and column."""
        item = QTableWidgetItem(text if typed or text else NOTHING)
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        item.setFlags(flags | Qt.ItemFlag.ItemIsEditable if typed else flags)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{name}: {text}" if name else text)
        self.setItem(row, column, item)

    def next_cell(self, step: int) -> tuple[int, int] | None:
        """The next cell that can be typed, or the one before; None past the ends."""
        across = self.columnCount()
        place = self.currentRow() * across + self.currentColumn() + step
        while 0 <= place < self.rowCount() * across:
            item = self.item(*divmod(place, across))
            if item is not None and is_typed(item):
                return divmod(place, across)
            place += step
        return None

    def widen(self) -> None:
        """Take the width of all columns, so that none is scrolled out of sight."""
        self.resizeColumnsToContents()
        frame = 2 * self.frameWidth() + self.verticalScrollBar().sizeHint().width() + 2
        header = self.horizontalHeader()
        columns = range(self.columnCount())
        self.setMinimumWidth(frame + sum(max(self.sizeHintForColumn(c), header.sectionSizeHint(c)) for c in columns))

    def _go_on(self) -> None:
        found = self.next_cell(1)
        if found is not None:
            self.setCurrentCell(*found)

    @guard(QModelIndex())
    def moveCursor(self, action: Move, modifiers: Qt.KeyboardModifier) -> QModelIndex:
        """Tab goes to cells that can be typed only, and past the last one out of the table."""
        if action in {Move.MoveNext, Move.MovePrevious}:
            found = self.next_cell(1 if action == Move.MoveNext else -1)
            return self.model().index(*found) if found else self.currentIndex()
        return super().moveCursor(action, modifiers)

    @guard(None)
    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """After Enter the next cell waits."""
        super().closeEditor(editor, hint)
        if hint == QAbstractItemDelegate.EndEditHint.SubmitModelCache:
            self._go_on()

    @guard(None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter on a cell that is not being typed goes on; Delete empties it; Tab past the ends leaves the table."""
        item = self.item(self.currentRow(), self.currentColumn())
        ahead = {Qt.Key.Key_Tab: 1, Qt.Key.Key_Backtab: -1}.get(Qt.Key(event.key()), 0)
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            # An editor hands Enter on before it is closed; then `closeEditor` goes on.
            if self.state() != QAbstractItemView.State.EditingState:
                self._go_on()
        elif event.key() == Qt.Key.Key_Delete and item is not None and is_typed(item):
            item.setText("")
        elif ahead and self.next_cell(ahead) is None:
            self.focusNextPrevChild(ahead > 0)
        else:
            super().keyPressEvent(event)


def is_typed(item: QTableWidgetItem) -> bool:
    """Whether a cell can be typed in."""
    return bool(item.flags() & Qt.ItemFlag.ItemIsEditable)
