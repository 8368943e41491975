"""The slip of a pivot: what the angle is sewn as where it opens, over how much of the edge, and further shares."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox

from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from core.steps.pivot import Becomes

KEYS: dict[Qt.Key, str] = {Qt.Key.Key_E: "ease", Qt.Key.Key_G: "gathers", Qt.Key.Key_A: "another"}
"""What the keys on the table mean while a goal is in hand."""


class PivotSlip(Slip):
    """Asks how the angle that opens is sewn, and how much of it is turned.

    `meant` carries "ease", "gathers", "another", "reach" and a length, or "turn" and a share, an angle or a width.
    """

    meant = Signal(str)

    def __init__(self, table: CuttingTable, *, accept: str) -> None:
        super().__init__(table, accept=accept)
        self.turned = self.field(letters=8)
        self.turned.call("Turned")
        self.turned.setToolTip("For example 50 %, 6.5 degrees, or 3/4 in: how wide it opens.")
        self.turned.meant.connect(self._turned_meant)
        self.reach = self.field(letters=8)
        self.reach.call("Spread on each side")
        self.reach.meant.connect(self._reach_meant)
        self._boxes: dict[Becomes, QCheckBox] = {
            "ease": self.toggle("As ease", key="E"),
            "gathers": self.toggle("As gathers", key="G"),
        }
        self._boxes["ease"].clicked.connect(self._ease)
        self._boxes["gathers"].clicked.connect(self._gathers)
        self._another = self.button("Another share elsewhere", key="A")
        self._another.clicked.connect(self._more)

    def tell(self, words: str, *, becomes: Becomes, reach: str, turned: str, can_accept: bool) -> None:
        """Show the sentence, and what is chosen; the spread is asked for only where something is spread."""
        for kind, box in self._boxes.items():
            box.setChecked(kind == becomes)
        for widget in (self.reach, self.reach.label):
            widget.setVisible(becomes != "dart")
        for field, text in ((self.reach, reach), (self.turned, turned)):
            if not field.hasFocus():
                field.setText(text)
        self.ask(words, can_accept=can_accept)

    def _ease(self) -> None:
        self.meant.emit("ease")

    def _gathers(self) -> None:
        self.meant.emit("gathers")

    def _more(self) -> None:
        self.meant.emit("another")

    def _turned_meant(self, text: str) -> None:
        self.meant.emit(f"turn {text}")

    def _reach_meant(self, text: str) -> None:
        self.meant.emit(f"reach {text}")
