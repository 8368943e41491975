"""What the tape does not tell of her figure, and how an edge is to lie: plain choices, no numbers."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QWidget

from app.panels.tone_row import ToneRow
from app.theme import ToneName
from core.body.shape import SHAPES, Shape
from core.form.shown import Edge

EDGES: Final[dict[Edge, str]] = {
    "close": "lies close on her",
    "eased": "keeps the block's ease",
    "hollow": "close, also in the hollow",
}
"""How the edge of the sheer line is to lie."""


class FormChoices(QWidget):
    """A row a choice, its name before it."""

    chosen = Signal()
    """Another shape: another body."""
    edge_chosen = Signal()
    """Another wish for the edge: other numbers on the same form."""

    def __init__(self, tone: ToneName, parent: QWidget | None = None) -> None:
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
            box.activated.connect(self.chosen)
        self.tones = ToneRow(tone, self)
        self._named("tone", self.tones)
        self.show_shape(Shape())

    def _row(self, name: str, values: dict[str, str] | dict[Edge, str], tip: str) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName(name)
        box.setToolTip(tip)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for value, words in values.items():
            box.addItem(words, value)
        self._named(name, box)
        return box

    def _named(self, name: str, field: QWidget) -> None:
        label = QLabel(name, self)
        label.setBuddy(field)
        self.rows.addRow(label, field)

    @property
    def shape(self) -> Shape:
        """The shape that is chosen."""
        chosen = {name: box.currentData() for name, box in self.shapes.items()}
        return Shape(**chosen)

    def show_shape(self, shape: Shape) -> None:
        """Show what the body at hand has."""
        for name, box in self.shapes.items():
            box.setCurrentIndex(box.findData(getattr(shape, name)))

    @property
    def edge(self) -> Edge:
        """How the edge is to lie."""
        chosen: Edge = self.edges.currentData()
        return chosen
