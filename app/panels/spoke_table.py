"""The table of block less body, from the bust point to each landmark."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QVBoxLayout, QWidget

from app.panels.panel import heading, sentence_label
from app.panels.tables import put, table
from core.form.spokes import ROUGH, TAPED, Spoke, spoke_cells, spoke_words
from core.units import Unit, show_length

COLUMNS: Final = ("To the", "Block", "Her", "Over her")
TIPS: Final = {
    "Block": "As drafted, less the ease that it was drafted with.",
    "Her": "A taut tape over the form.",
    "Over her": "Block less body, with a sign and a word.",
}


class SpokeTable(QWidget):
    """One row a landmark; as tall as its rows, so that the page scrolls and not the table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table: QTableWidget = table("From the bust point to", COLUMNS, self)
        self.bands = sentence_label(parent=self)
        self._dress()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        column.addWidget(heading("From the bust point", self))
        column.addWidget(self.table)
        column.addWidget(self.bands)

    def _dress(self) -> None:
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.table.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.table.setWordWrap(True)
        self.table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.table.setMinimumWidth(1)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for place, name in enumerate(COLUMNS):
            item = self.table.horizontalHeaderItem(place)
            if item is not None:
                item.setToolTip(TIPS.get(name, ""))

    def show_spokes(self, spokes: tuple[Spoke, ...], unit: Unit) -> None:
        """Write the rows; none hides the table."""
        self.setVisible(bool(spokes))
        self.table.setRowCount(len(spokes))
        for row, spoke in enumerate(spokes):
            for place, text in enumerate(spoke_cells(spoke, unit)):
                put(self.table, (row, place), text, tip=spoke_words(spoke, unit), right=place > 0)
        taped, rough = show_length(TAPED, unit), show_length(ROUGH, unit)
        self.bands.setText(
            f"Close is within {taped} along the centre front and over the bust, where a tape was laid; within {rough} "
            "at shoulder, arm and side, which the form knows from the girths alone."
        )
        self.table.resizeRowsToContents()
        high = sum(self.table.rowHeight(row) for row in range(len(spokes)))
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + high + 4)
