"""Measuring a fabric's stretch: a length relaxed, the same pulled out, and what follows from the two."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.dialogs.form import FormDialog
from core.errors import Refusal
from core.fabrics.stretch import reduction_limit, stretch_percent, working_reduction
from core.units import Unit, parse_length

HOW: Final = (
    "Fold the cloth, mark a length along the fold while it lies relaxed, and pull it along a ruler as far as it goes "
    "without curling. Along is with the selvedge, across is square to it; net gives more across."
)


class MeasureStretchDialog(FormDialog):
    """Emits `measured` with the direction ("along" or "across") and the stretch in percent."""

    measured = Signal(str, float)

    def __init__(self, fabric: str, unit: Unit, parent: QWidget) -> None:
        super().__init__("Measure the stretch", parent)
        self.unit = unit
        self.setWindowTitle(f"Measure the stretch of {fabric}")
        self.relaxed = self.field("&Relaxed length")
        self.relaxed.setText("10 in" if unit == "in" else "20 cm")
        self.stretched = self.field("&Stretched length")
        self.direction = self.choice("&Direction", {"across": "across, selvedge to selvedge", "along": "along"})
        for field in (self.relaxed, self.stretched):
            field.textChanged.connect(self._show)
        self.finish((("&Take it", self.take), ("Close", self.reject)))
        self.say(HOW)
        self.resize(460, 240)
        self.stretched.setFocus()

    def percent(self) -> float:
        """The stretch in percent as typed. Refusal for what is no length, or makes no sense."""
        relaxed, stretched = (parse_length(field.text(), self.unit) for field in (self.relaxed, self.stretched))
        return stretch_percent(relaxed, stretched, self.unit)

    def _show(self) -> None:
        """Say what follows while it is typed; while a length is still half typed, how to measure."""
        if not self.stretched.text().strip():
            self.say(HOW)
            return
        try:
            percent = self.percent()
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        self.say(
            f"It stretches by {percent:.0f} %. Cut {reduction_limit(percent):.1%} smaller it would be stretched all it "
            f"can, which nobody can wear; {working_reduction(percent):.0%} is usual across, half of that along. Only "
            f"free edges are cut smaller: a sewn edge keeps the length of its mate, or its seam says how much it is "
            f"stretched."
        )

    def take(self) -> None:
        """Hand the figure on; what makes no sense is said here."""
        try:
            percent = self.percent()
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return
        self.measured.emit(str(self.direction.currentData()), percent)
        self.accept()
