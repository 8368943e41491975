"""What the tape does not tell of her figure, and how an edge is to lie: plain choices, no numbers."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QWidget

from core.form.figure import Choices
from core.form.shown import Edge

SHAPES: Final = {
    "fullness": {"above": "fuller above", "average": "evenly full", "below": "fuller below"},
    "profile": {"round": "round", "average": "medium", "pointed": "pointed"},
    "stance": {"upright": "upright", "average": "relaxed", "stooping": "forward"},
}
"""The choice in words."""

EDGES: Final[dict[Edge, str]] = {
    "close": "lies close on her",
    "eased": "keeps the block's ease",
    "hollow": "close, also in the hollow",
}
"""How the edge of the sheer line is to lie."""


class FormChoices(QWidget):
    """A row a choice, its name before it."""

    chosen = Signal()
    """Another shape: another form."""
    edge_chosen = Signal()
    """Another wish for the edge: other numbers on the same form."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = QFormLayout(self)
        self.rows.setContentsMargins(0, 4, 0, 4)
        self.edges = self._row("edge", EDGES, "How the edge along the sheer line is to lie: what is more is too much.")
        self.shapes = {
            name: self._row(name, values, f"The tape does not tell her {name}: choose what you see.")
            for name, values in SHAPES.items()
        }
        self.edges.activated.connect(self.edge_chosen)
        for box in self.shapes.values():
            box.setCurrentIndex(box.findData("average"))
            box.activated.connect(self.chosen)

    def _row(self, name: str, values: dict[str, str] | dict[Edge, str], tip: str) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        box.setToolTip(tip)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for value, words in values.items():
            box.addItem(words, value)
        label = QLabel(name, self)
        label.setBuddy(box)
        self.rows.addRow(label, box)
        return box

    @property
    def choices(self) -> Choices:
        """The shape that is chosen."""
        chosen = {name: box.currentData() for name, box in self.shapes.items()}
        return Choices(**chosen)

    @property
    def edge(self) -> Edge:
        """How the edge is to lie."""
        chosen: Edge = self.edges.currentData()
        return chosen
