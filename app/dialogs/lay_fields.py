"""What is chosen for a lay: fabric, folded or open, grain, gap, what is bought over, and the time to try."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QSpinBox, QWidget

from app.dialogs.form import add_row
from core.design.kept_lay import GrainChoice, LayChoices, Model
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.units import Unit, parse_length, show_exact, show_length

MODELS: Final[dict[str, tuple[Model, ...]]] = {
    "Whichever is shorter": ("open", "folded"),
    "Open, one layer": ("open",),
    "Folded, two layers": ("folded",),
}
GRAINS: Final[dict[GrainChoice, str]] = {
    "one way": "One way (nap, shine)",
    "both ways": "Either way along the grain",
    "free": "Free (net)",
}
LONGEST: Final = 600
LONGEST_NOTE: Final = 80


class LayFields(QWidget):
    """The fields; `fabric_chosen` says that another fabric is to be shown."""

    fabric_chosen = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.form = QFormLayout(self)
        self.form.setContentsMargins(0, 0, 0, 0)
        self.fabric = self._box("Fabric", ())
        self.model = self._box("Lay the cloth", list(MODELS))
        self.grain = self._box("Grain", list(GRAINS.values()))
        self.gap = self._field("Gap between pieces")
        self.squaring = self._field("To square the ends")
        self.shrink = self._field("Shrinks by, %")
        self.repeat = self._field("Note on a repeat")
        self.repeat.setMaxLength(LONGEST_NOTE)
        self.repeat.setPlaceholderText("plaid or lace, not matched")
        self.time = QSpinBox(self)
        self.time.setMinimumHeight(26)
        self.time.setRange(1, LONGEST)
        add_row(self.form, "Seconds to try", self.time)
        self.fabric.currentIndexChanged.connect(self._tell)

    def _box(self, words: str, rows: Sequence[str]) -> QComboBox:
        box = QComboBox(self)
        box.addItems(list(rows))
        add_row(self.form, words, box)
        return box

    def _field(self, words: str) -> QLineEdit:
        field = QLineEdit(self)
        add_row(self.form, words, field)
        return field

    def _tell(self) -> None:
        self.fabric_chosen.emit()

    # --- what they say

    @property
    def name(self) -> str:
        """The chosen fabric's name, "" where there is none."""
        return str(self.fabric.currentData() or "")

    @property
    def models(self) -> tuple[Model, ...]:
        """The ways of laying that are to be tried."""
        return MODELS[self.model.currentText()]

    @property
    def seconds(self) -> float:
        """How long to try."""
        return float(self.time.value())

    def choices(self, unit: Unit) -> LayChoices:
        """What is chosen. Refusal for a field that says nothing that can be used."""
        gap = _length(self.gap, 50.0, "The gap between pieces is", unit)
        squaring = _length(self.squaring, 2000.0, "Squaring the ends takes", unit)
        shrink = _number(self.shrink.text())
        if not 0.0 <= shrink <= 30.0:
            raise Refusal("What a cloth shrinks by is a percentage from 0 to 30: type that.")
        return LayChoices(list(GRAINS)[self.grain.currentIndex()], gap, squaring, shrink, self.repeat.text().strip())

    # --- what they show

    def show_fabrics(self, fabrics: Sequence[Fabric]) -> bool:
        """Offer fabrics, the same one chosen if it is still among them; whether they are others than before."""
        rows = [(fabric.name, fabric.words) for fabric in fabrics]
        if rows == [(self.fabric.itemData(index), self.fabric.itemText(index)) for index in range(self.fabric.count())]:
            return False
        name = self.name
        with QSignalBlocker(self.fabric):
            self.fabric.clear()
            for named, words in rows:
                self.fabric.addItem(words, named)
            self.fabric.setCurrentIndex(max(self.fabric.findData(name), 0))
        return True

    def show_choices(self, choices: LayChoices, unit: Unit) -> None:
        """Show what was chosen, lengths in a unit."""
        self.grain.setCurrentText(GRAINS[choices.grain])
        self.gap.setText(show_exact(choices.gap, unit))
        self.squaring.setText(show_exact(choices.squaring, unit))
        self.shrink.setText(f"{choices.shrink:g}")
        self.repeat.setText(choices.repeat)


def _number(text: str) -> float:
    try:
        return float(text.strip().rstrip("%").replace(",", ".") or 0)
    except ValueError:
        return -1.0


def _length(field: QLineEdit, most: float, words: str, unit: Unit) -> float:
    """What a field says, in mm. Refusal for what is no length, or none that may be."""
    value = parse_length(field.text(), unit)
    if not 0.0 <= value <= most:
        raise Refusal(f"{words} 0 to {show_length(most, unit)}: type such a length.")
    return value
