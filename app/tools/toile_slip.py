"""The slip of the toile corrections: how much, what she said, how it was pinned."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from app.canvas.slip import Slip
from app.canvas.table import CuttingTable
from app.tools.pins import Kind, Pin
from core.units import Unit, show_exact

KINDS: Final[tuple[tuple[Kind, str, Qt.Key], ...]] = (
    ("seam", "Along the seam", Qt.Key.Key_S),
    ("fold", "In a fold across", Qt.Key.Key_F),
    ("edge", "Along the whole edge", Qt.Key.Key_W),
)


class ToileSlip(Slip):
    """Two fields, a button for each way of pinning, and one that goes on to the next pin."""

    def __init__(self, table: CuttingTable, *, drops: Callable[[], None]) -> None:
        super().__init__(table, accept="Make the corrections", drops=drops)
        self.amount, self.note = self.field(letters=9), self.field(letters=24)
        self.amount.call("Pinned out")
        self.note.call("What was said")
        self.kinds: dict[Kind, QPushButton] = {}
        for kind, words, key in KINDS:
            self.kinds[kind] = self.button(words, key=chr(key.value))
            self.kinds[kind].setCheckable(True)
        self.parallel = self.toggle("Same width all along", key="A")
        self.next = self.button("Next pin", key="N")

    def show_pin(self, pin: Pin | None, unit: Unit) -> None:
        """Show a pin as it is entered so far; with none in hand there is nothing to type or to choose."""
        for kind, button in self.kinds.items():
            button.setChecked(pin is not None and pin.kind == kind)
            button.setEnabled(pin is not None and (kind != "seam" or bool(pin.seam)))
        self.parallel.setEnabled(pin is not None and pin.kind == "fold")
        self.parallel.setChecked(pin is not None and pin.is_parallel)
        self.next.setEnabled(pin is not None)
        for field in (self.amount, self.note):
            field.setEnabled(pin is not None)
        if not self.amount.hasFocus():
            self.amount.setText(show_exact(pin.amount, unit) if pin is not None else "")
        if not self.note.hasFocus():
            self.note.setText(pin.note if pin is not None else "")
