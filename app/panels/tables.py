"""Tables that are read and not written in: how they behave, and their cells."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QTableWidget, QTableWidgetItem, QWidget

SMALLEST_ROW: Final = 24
"""Logical pixels: a row is a target for the pointer (WCAG 2.2, 2.5.8)."""


def table(name: str, columns: tuple[str, ...], parent: QWidget) -> QTableWidget:
    """An empty table of whole rows; Tab leaves it."""
    made = QTableWidget(0, len(columns), parent)
    made.setAccessibleName(name)
    made.setHorizontalHeaderLabels(list(columns))
    made.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    made.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    made.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    made.setTabKeyNavigation(False)
    made.setWordWrap(False)
    made.verticalHeader().hide()
    made.verticalHeader().setDefaultSectionSize(max(SMALLEST_ROW, made.fontMetrics().height() + 8))
    made.horizontalHeader().setHighlightSections(False)
    return made


def put(table: QTableWidget, at: tuple[int, int], text: str, *, tip: str = "", right: bool = False) -> None:
    """Write a cell, and only what differs of it."""
    item = table.item(*at)
    if item is None:
        item = QTableWidgetItem()
        if right:
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        table.setItem(*at, item)
    if item.text() != text:
        item.setText(text)
    if item.toolTip() != tip:
        item.setToolTip(tip)
