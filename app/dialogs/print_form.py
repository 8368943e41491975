"""What is asked before a print: paper, scale, pieces, lines, and what the square of a first print measured."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QListWidget, QListWidgetItem, QWidget

from app.dialogs.form import add_row
from core.design.replay import Replay
from core.errors import Refusal
from core.finishing.finish import numbered
from core.outputs.choices import EXACT, Choices
from core.outputs.papers import PAPERS
from core.units import MM_PER, Unit, parse_length, show_length

SCALES: Final[dict[str, float]] = {"1 (true size)": 1.0, "1/2": 0.5, "1/4": 0.25}
ANY_ROLL: Final = "roll of another width"
WIDE: Final = 914.4
"""mm: the width that a roll has until another is typed, 36 in."""

MOST_ROWS: Final = 5

PAUSE: Final = 250
"""Milliseconds after the last key before what was typed is taken: laying out pages takes about as long."""


class PrintForm(QWidget):
    """The fields. `changed` says that one of them has another value now; nothing is worked out here."""

    changed = Signal()

    def __init__(self, replay: Replay, parent: QWidget) -> None:
        super().__init__(parent)
        self.unit: Unit = replay.design.unit
        self.paper = QComboBox(self)
        for paper in PAPERS.values():
            self.paper.addItem(paper.words, paper.name)
        self.paper.addItem(ANY_ROLL, "")
        self.width_of_roll = QLineEdit(self)
        self.scale = QComboBox(self)
        self.scale.addItems(list(SCALES))
        self.pieces = QListWidget(self)
        self.allowances = QCheckBox("Seam allowances", self)
        self.stitching = QCheckBox("Stitching lines", self)
        self.guides = QCheckBox("Guides: levels, names of edges, mates", self)
        self.across, self.up = QLineEdit(self), QLineEdit(self)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(PAUSE)
        self._fill(replay)
        self._lay_out()
        self._connect()

    def _fill(self, replay: Replay) -> None:
        names = [*PAPERS, ""]
        own = replay.design.paper
        self.paper.setCurrentIndex(names.index(own) if own in PAPERS else len(names) - 1)
        self.width_of_roll.setText(own.removeprefix("roll-") if own not in PAPERS else show_length(WIDE, self.unit))
        for name, number in sorted(numbered(replay.garment).items(), key=lambda row: row[1]):
            item = QListWidgetItem(f"{number}  {name}", self.pieces)
            item.setData(Qt.ItemDataRole.UserRole, name)
            item.setCheckState(Qt.CheckState.Checked)
        for box in (self.allowances, self.stitching, self.guides):
            box.setChecked(True)
            box.setAccessibleName(box.text())
        row = max(self.pieces.sizeHintForRow(0), 24)
        self.pieces.setMaximumHeight(row * min(max(self.pieces.count(), 2), MOST_ROWS) + 6)
        self.across.setPlaceholderText("100 mm")
        self.up.setPlaceholderText("100 mm")

    def _lay_out(self) -> None:
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        rows: tuple[tuple[str, QWidget], ...] = (
            ("&Paper", self.paper),
            ("Roll &width", self.width_of_roll),
            ("&Scale", self.scale),
            ("P&ieces", self.pieces),
        )
        for text, widget in rows:
            add_row(form, text, widget)
        for box in (self.allowances, self.stitching, self.guides):
            form.addRow("", box)
        add_row(form, "Square reads a&cross", self.across)
        add_row(form, "Square reads &up", self.up)
        for field in (self.across, self.up):
            field.setToolTip("What the 100 mm square of a first print measures, in mm: the print makes up for it.")
        self._form = form
        self._show_width()

    def _connect(self) -> None:
        self.paper.currentIndexChanged.connect(self._show_width)
        for box in (self.paper, self.scale):
            box.currentIndexChanged.connect(self.changed)
        for tick in (self.allowances, self.stitching, self.guides):
            tick.toggled.connect(self.changed)
        for field in (self.width_of_roll, self.across, self.up):
            field.textChanged.connect(self._later.start)
        self._later.timeout.connect(self.changed)
        self.pieces.itemChanged.connect(self._piece_ticked)

    def _piece_ticked(self, _item: QListWidgetItem) -> None:
        self.changed.emit()

    def _show_width(self) -> None:
        self._form.setRowVisible(self.width_of_roll, not self.paper.currentData())

    def take_typed(self) -> None:
        """Take what is being typed at once."""
        if self._later.isActive():
            self._later.stop()
            self.changed.emit()

    # --- what was chosen

    @property
    def paper_name(self) -> str:
        """The paper's name. Refusal for a width that is none."""
        if self.paper.currentData():
            return str(self.paper.currentData())
        unit = self.unit
        return f"roll-{parse_length(self.width_of_roll.text(), unit) / MM_PER[unit]:.2f}{unit}"

    @property
    def paper_words(self) -> str:
        """The paper as it is shown."""
        return self.paper.currentText()

    @property
    def scale_chosen(self) -> float:
        """The scale."""
        return SCALES[self.scale.currentText()]

    @property
    def choices(self) -> Choices:
        """All else. Refusal where no piece is ticked, and for a reading that is no number or no printer's own error."""
        items = [self.pieces.item(row) for row in range(self.pieces.count())]
        ticked = [item for item in items if item.checkState() == Qt.CheckState.Checked]
        if items and not ticked:
            raise Refusal("No piece is ticked: tick the pieces that are to be printed.")
        names = () if len(ticked) == len(items) else tuple(str(item.data(Qt.ItemDataRole.UserRole)) for item in ticked)
        without = {"stitching lines"} if not self.stitching.isChecked() else set()
        without |= {"guides"} if not self.guides.isChecked() else set()
        return Choices(
            pieces=names,
            has_allowances=self.allowances.isChecked(),
            without=frozenset(without),  # type: ignore[arg-type] # the names are those of the layers
            reads=(_reading(self.across.text(), EXACT[0]), _reading(self.up.text(), EXACT[1])),
        ).checked()


def _reading(text: str, usual: float) -> float:
    """What a square of 100 mm was measured as, in mm, a plain number or a length in any unit."""
    return parse_length(text, "mm") if text.strip() else usual
