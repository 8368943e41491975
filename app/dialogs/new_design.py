"""A new client: her name, the unit, and the measurements that no block can do without."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
from core.blocks.draft import METHODS
from core.blocks.ease import EASE_PRESETS, Ease
from core.body.average import AVERAGE_FIGURE
from core.body.body import Body
from core.body.catalogue import MEASUREMENTS, Measurement
from core.body.size_table import starting_body
from core.design.design import Design, today
from core.design.replay import replay
from core.errors import Refusal
from core.units import Unit, parse_length, show_length

UNIT_WORDS: Final[dict[Unit, str]] = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}
HOW_TO_BEGIN: Final = (
    "Type each measurement over the average one, in either unit: 36 1/2, 36.5in or 92,5 cm. Begin with her bust: the "
    "rest then starts from the size table."
)
TABLE: Final = "size table, replace with hers"


class MeasurementField(QLineEdit):
    """A field that begins with the average figure's measurement and knows whether another was typed."""

    entered = Signal(str)

    def __init__(self, row: Measurement, parent: QWidget) -> None:
        super().__init__(parent)
        self.row = row
        self.is_hers = False
        self.start = AVERAGE_FIGURE[row.id]
        self.is_from_table = False
        self.setAccessibleName(_title(row.name))
        self.setAccessibleDescription(row.how)
        self.setToolTip(row.how)
        # A length is never cut off, however large the letters.
        self.setMinimumWidth(self.fontMetrics().horizontalAdvance(" 36 21/32 in ") + 2 * self.fontMetrics().height())
        self.mark = QLabel(AVERAGE, parent)
        # So that no field grows while the words beside it become shorter.
        self.mark.setMinimumWidth(self.mark.sizeHint().width())
        self.mark.setAccessibleName(f"{_title(row.name)}: {AVERAGE}")
        self.textEdited.connect(self._typed)

    def _typed(self, _text: str) -> None:
        self.is_hers, self.is_from_table = True, False
        self.mark.setText("hers")
        self.mark.setAccessibleName(f"{_title(self.row.name)}: hers")

    def begin_from(self, table: Mapping[str, float], unit: Unit) -> None:
        """Begin with the size table's figure of her bust, unless hers was typed."""
        if not self.is_hers:
            self.start, self.is_from_table = table[self.row.id], True
            self.mark.setText(TABLE)
            self.mark.setAccessibleName(f"{_title(self.row.name)}: {TABLE}")
            self.show_start(unit)

    def show_start(self, unit: Unit) -> None:
        """Show in a unit what the field begins with, unless hers was typed."""
        if not self.is_hers:
            self.setText(show_length(self.start, unit))

    def value(self, unit: Unit) -> float:
        """The length in mm. Refusal, naming the measurement, for text that is none."""
        if not self.is_hers:
            return self.start
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
        self.method = _choice("Drafting method", [m.name for m in METHODS.values()], self)
        self.ease = _choice("How close", [preset.name for preset in EASE_PRESETS], self)
        self.ease.setCurrentIndex(next(i for i, preset in enumerate(EASE_PRESETS) if preset.ease == Ease()))
        rows = [row for row in MEASUREMENTS.values() if row.required]
        self.fields = [MeasurementField(row, self) for row in rows]
        self.sentence = QLabel(HOW_TO_BEGIN, self)
        self._lay_out()
        self._show_starts()
        for choice, say in ((self.method, self._say_method), (self.ease, self._say_ease)):
            choice.activated.connect(say)
            choice.highlighted.connect(say)
        next(field for field in self.fields if field.row.id == "bust").textEdited.connect(self._follow_bust)
        self.client.setFocus()

    def _unit_box(self, unit: Unit) -> QComboBox:
        box = QComboBox(self)
        box.setAccessibleName("Unit")
        for id_, words in UNIT_WORDS.items():
            box.addItem(words, id_)
        box.setCurrentIndex(list(UNIT_WORDS).index(unit))
        box.currentIndexChanged.connect(self._show_starts)
        return box

    def _lay_out(self) -> None:
        grid = QGridLayout()
        named: tuple[tuple[str, QWidget], ...] = (
            ("&Client", self.client),
            ("&Design", self.name),
            ("&Unit", self.unit),
            ("Drafting &method", self.method),
            ("&How close", self.ease),
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
        self.resize(560, 640)

    def _lay_sentence(self, column: QVBoxLayout) -> None:
        self.sentence.setWordWrap(True)
        self.sentence.setTextFormat(Qt.TextFormat.PlainText)
        self.sentence.setAccessibleName("What to do")
        # Room for the longest way of measuring, so that the dialog keeps its shape while one tabs through.
        self.sentence.setMinimumHeight(4 * self.fontMetrics().lineSpacing())
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

    def _show_starts(self) -> None:
        for field in self.fields:
            field.show_start(self.chosen_unit)

    def _follow_bust(self, text: str) -> None:
        """Begin the others with the size table's figure of her bust; outside the table they stay."""
        try:
            table = starting_body(parse_length(text, self.chosen_unit)).measurements
        except Refusal:
            return
        for field in self.fields:
            field.begin_from(table, self.chosen_unit)

    def _say_method(self, index: int) -> None:
        self._say(list(METHODS.values())[index].words)

    def _say_ease(self, index: int) -> None:
        preset = EASE_PRESETS[index]
        self._say(f"{preset.words} From: {preset.source}.")

    def _say(self, words: str) -> None:
        self.sentence.setText(words)

    @guard(None)
    def accept(self) -> None:
        """Draft; what cannot be drafted is said here, and the dialog stays."""
        try:
            design = self.design()
            replay(design)
        except Refusal as refusal:
            self._refuse(refusal.sentence)
            return
        self.made.emit(design)
        super().accept()

    def _refuse(self, sentence: str) -> None:
        """Go to the field that the sentence is about; of two that contradict each other to the one that is not hers."""
        about = [field for field in self.fields if _is_about(sentence, field.row.name)]
        not_hers = [field for field in about if not field.is_hers]
        if about:
            first = (not_hers or about)[0]
            first.setFocus()
            first.selectAll()
        if not_hers:
            sentence = f"{sentence} The {not_hers[0].row.name} is not hers yet: take that first."
        self._say(sentence)

    def design(self) -> Design:
        """The design as typed. Refusal for a measurement that is no length."""
        unit = self.chosen_unit
        values = {field.row.id: field.value(unit) for field in self.fields}
        from_table = tuple(field.row.id for field in self.fields if field.is_from_table)
        client = self.client.text().strip()
        name = self.name.text().strip() or (f"Bodice for {client}" if client else "New commission")
        return Design(
            name=name,
            body=Body(client or "Client not named yet", unit, values, from_table),
            date=today(),
            unit=unit,
            method=self.method.currentText(),
            ease=EASE_PRESETS[self.ease.currentIndex()].ease,
        )


def _is_about(sentence: str, name: str) -> bool:
    """Whether a refusal names a measurement: at its beginning, or with its length after it."""
    words = sentence.lower()
    return words.startswith((f"{name}:", f"a {name} of ", f"an {name} of ")) or f"the {name} (" in words


def _line(name: str, parent: QWidget) -> QLineEdit:
    field = QLineEdit(parent)
    field.setAccessibleName(name)
    field.setMaxLength(120)
    return field


def _choice(name: str, rows: Sequence[str], parent: QWidget) -> QComboBox:
    box = QComboBox(parent)
    box.setAccessibleName(name)
    box.addItems(list(rows))
    return box


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
    area.setMinimumWidth(content.sizeHint().width() + area.verticalScrollBar().sizeHint().width())
    return area
