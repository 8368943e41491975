"""A new client: her name, the unit, and the measurements that no block can do without."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.dialogs.average_figure import AVERAGE
from app.messages import guard
from core.body.average import AVERAGE_FIGURE
from core.body.body import Body
from core.body.catalogue import MEASUREMENTS, Measurement
from core.design.design import Design, today
from core.design.replay import replay
from core.errors import Refusal
from core.units import Unit, parse_length, show_length

UNIT_WORDS: Final[dict[Unit, str]] = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}
HOW_TO_BEGIN: Final = "Type each measurement over the average one, in either unit: 36 1/2, 36.5in or 92,5 cm."


class MeasurementField(QLineEdit):
    """A field that begins with the average figure's measurement and knows whether another was typed."""

    entered = Signal(str)

    def __init__(self, row: Measurement, parent: QWidget) -> None:
        super().__init__(parent)
        self.row = row
        self.is_hers = False
        self.setAccessibleName(_title(row.name))
        self.setAccessibleDescription(row.how)
        self.setToolTip(row.how)
        self.mark = QLabel(AVERAGE, parent)
        self.mark.setAccessibleName(f"{_title(row.name)}: {AVERAGE}")
        self.textEdited.connect(self._typed)

    def _typed(self, _text: str) -> None:
        self.is_hers = True
        self.mark.setText("hers")
        self.mark.setAccessibleName(f"{_title(self.row.name)}: hers")

    def show_average(self, unit: Unit) -> None:
        """Show the average in a unit, unless hers was typed."""
        if not self.is_hers:
            self.setText(show_length(AVERAGE_FIGURE[self.row.id], unit))

    def value(self, unit: Unit) -> float:
        """The length in mm. Refusal, naming the measurement, for text that is none."""
        if not self.is_hers:
            return AVERAGE_FIGURE[self.row.id]
        try:
            return parse_length(self.text(), unit)
        except Refusal as refusal:
            raise Refusal(f"{_title(self.row.name)}: {refusal.sentence}") from refusal

    @guard(None)
    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say how it is taken, and select the old text so that typing replaces it."""
        super().focusInEvent(event)
        self.entered.emit(f"{_title(self.row.name)}: {self.row.how}")
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.selectAll()


def _title(words: str) -> str:
    return words[:1].upper() + words[1:]


class NewDesignDialog(QDialog):
    """Asks for client, unit and required measurements; emits the design once its block can be drafted."""

    made = Signal(object)

    def __init__(self, unit: Unit, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("New client")
        self.setAccessibleName("New client")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.client = _line("Client", self)
        self.name = _line("Design", self)
        self.unit = self._unit_box(unit)
        rows = [row for row in MEASUREMENTS.values() if row.required]
        self.fields = [MeasurementField(row, self) for row in rows]
        self.sentence = QLabel(HOW_TO_BEGIN, self)
        self._lay_out()
        self._show_averages()
        self.client.setFocus()

    def _unit_box(self, unit: Unit) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName("Unit")
        for id_, words in UNIT_WORDS.items():
            box.addItem(words, id_)
        box.setCurrentIndex(list(UNIT_WORDS).index(unit))
        box.currentIndexChanged.connect(self._show_averages)
        return box

    def _lay_out(self) -> None:
        grid = QGridLayout()
        named: tuple[tuple[str, QWidget], ...] = (
            ("&Client", self.client),
            ("&Design", self.name),
            ("&Unit", self.unit),
        )
        for index, (words, widget) in enumerate(named):
            grid.addWidget(_label(words, widget, self), index, 0)
            grid.addWidget(widget, index, 1, 1, 2)
        for index, field in enumerate(self.fields, start=len(named)):
            grid.addWidget(_label(_title(field.row.name), field, self), index, 0)
            grid.addWidget(field, index, 1)
            grid.addWidget(field.mark, index, 2)
            field.entered.connect(self._say)
        column = QVBoxLayout(self)
        column.addWidget(_scrolling(grid, self))
        self._lay_sentence(column)
        column.addWidget(self._buttons())
        self.resize(560, 600)

    def _lay_sentence(self, column: QVBoxLayout) -> None:
        self.sentence.setWordWrap(True)
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        self.sentence.setAccessibleName("What to do")
        # Room for the longest way of measuring, so that the dialog keeps its shape while one tabs through.
        self.sentence.setMinimumHeight(3 * self.fontMetrics().lineSpacing())
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.sentence)

    def _buttons(self) -> QDialogButtonBox:
        box = QDialogButtonBox(self)
        for words, role in (
            ("Draft the block", QDialogButtonBox.ButtonRole.AcceptRole),
            ("Cancel", QDialogButtonBox.ButtonRole.RejectRole),
        ):
            box.addButton(words, role).setAccessibleName(words)
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        return box

    @property
    def chosen_unit(self) -> Unit:
        """The unit that bare numbers are in."""
        return list(UNIT_WORDS)[self.unit.currentIndex()]

    def _show_averages(self) -> None:
        for field in self.fields:
            field.show_average(self.chosen_unit)

    def _say(self, words: str) -> None:
        self.sentence.setText(words)

    @guard(None)
    def accept(self) -> None:
        """Draft; what cannot be drafted is said here, and the dialog stays."""
        try:
            design = self.design()
            replay(design)
        except Refusal as refusal:
            self._say(refusal.sentence)
            return
        self.made.emit(design)
        super().accept()

    def design(self) -> Design:
        """The design as typed. Refusal for a measurement that is no length."""
        unit = self.chosen_unit
        values = {field.row.id: field.value(unit) for field in self.fields}
        client = self.client.text().strip()
        name = self.name.text().strip() or (f"Bodice for {client}" if client else "New commission")
        return Design(
            name=name,
            body=Body(client or "Client not named yet", unit, values),
            date=today(),
            unit=unit,
        )


def _line(name: str, parent: QWidget) -> QLineEdit:
    field = QLineEdit(parent)
    field.setAccessibleName(name)
    field.setMaxLength(120)
    return field


def _label(words: str, buddy: QWidget, parent: QWidget) -> QLabel:
    label = QLabel(words, parent)
    label.setBuddy(buddy)
    return label


def _scrolling(grid: QGridLayout, parent: QWidget) -> QScrollArea:
    content = QWidget(parent)
    content.setLayout(grid)
    area = QScrollArea(parent)
    area.setWidget(content)
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area
