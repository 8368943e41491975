"""The design on another client: her measurements beside those it is on, what cannot follow, and one act for all."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app import settings
from app.dialogs.choose_file import body_dialog
from app.dialogs.form import plain_button, plain_label
from app.dialogs.typed_table import TypedTable
from app.session import Session
from core.blocks.own_block import OWN
from core.body.body import LONGEST_NAME, Body
from core.body.catalogue import MEASUREMENTS
from core.body.comparison import Compared, compared
from core.body.size_table import SIZE_TABLE_SOURCE, starting_body
from core.design.following import Followed, followed, for_another, pinned
from core.errors import Refusal
from core.file.body_file import body_in
from core.units import parse_length, said_in

NEW: Final = 2
HEADINGS: Final = ("Measurement", "Now", "On her", "Difference")
HOW: Final = (
    "Open the file of a body or of another design, begin from the size table, or type: Enter goes from one measurement "
    "to the next. What is left empty is estimated."
)
OWN_STAYS: Final = "The design begins with her own block, which stays as typed: only the checks follow the body."
ROWS: Final = tuple(MEASUREMENTS.values())


class AnotherClientDialog(QDialog):
    """Compares two bodies while one is chosen; the design goes onto it as one act that undo takes back.

    One for her `own` is left alone with its client instead: `made` carries the style as a new design on the other body.
    """

    made = Signal(object)

    def __init__(self, session: Session, parent: QWidget, *, own: bool = False) -> None:
        super().__init__(parent)
        self.is_own = own
        title = "The same style for another client" if own else "Another client"
        self.setWindowTitle(title)
        self.setAccessibleName(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.session = session
        self.unit = session.design.unit
        self.measurements = dict(session.design.body.measurements)
        self.from_table = set(session.design.body.from_table)
        self.shape = session.design.body.shape
        self.wrong: dict[int, str] = {}
        self.client = QLineEdit(self)
        self.client.setMaxLength(LONGEST_NAME)
        self.bust = QLineEdit(self)
        self.table = TypedTable("Both bodies", HEADINGS, self)
        self.table.setRowCount(len(ROWS))
        self.sentence = plain_label("", self)
        self.sentence.setAccessibleName("What follows")
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.sentence.setMinimumHeight(4 * self.fontMetrics().lineSpacing())
        self._lay_out()
        self._fill()
        self.table.itemChanged.connect(self._typed)
        self.table.currentCellChanged.connect(self._say_how)
        self.client.setFocus()

    # --- laying out

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        self.how = plain_label(HOW, self)
        self.how.setAccessibleName("What to do")
        self.how.setMinimumHeight(2 * self.fontMetrics().lineSpacing())
        column.addWidget(self.how)
        self.open_button = plain_button("&Open a body or design…", self)
        self.open_button.clicked.connect(self.open_file)
        self.fill_button = plain_button("&From the size table", self)
        self.fill_button.clicked.connect(self.fill_from_table)
        who, where = QHBoxLayout(), QHBoxLayout()
        self._named(who, "&Client", self.client)
        self._named(where, "&Bust for the size table", self.bust)
        where.addWidget(self.fill_button)
        where.addWidget(self.open_button)
        column.addLayout(who)
        column.addLayout(where)
        column.addWidget(self.table, 1)
        column.addWidget(self.sentence)
        last = QHBoxLayout()
        last.addStretch(1)
        words = "Be&gin her design" if self.is_own else "&Put the design on her"
        self.put_button, cancel = plain_button(words, self), plain_button("Cancel", self)
        self.put_button.clicked.connect(self.put_on)
        cancel.clicked.connect(self.reject)
        last.addWidget(self.put_button)
        last.addWidget(cancel)
        column.addLayout(last)
        self.resize(700, 760)

    def _named(self, row: QHBoxLayout, words: str, field: QLineEdit) -> None:
        label = QLabel(words, self)
        label.setBuddy(field)
        field.setAccessibleName(words.replace("&", ""))
        row.addWidget(label)
        row.addWidget(field, 1)

    # --- the other body

    def _body(self) -> Body:
        """The body as typed. Refusal, naming the measurement, for one that is no length."""
        if self.wrong:
            raise Refusal(next(iter(self.wrong.values())))
        taken = {row.id: self.measurements[row.id] for row in ROWS if row.id in self.measurements}
        name = " ".join(self.client.text().split()) or "Client not named yet"
        table = tuple(id_ for id_ in taken if id_ in self.from_table)
        return Body(name, self.unit, taken, table, self.shape)

    def _take_body(self, body: Body) -> None:
        self.measurements, self.from_table, self.shape = dict(body.measurements), set(body.from_table), body.shape
        self.wrong.clear()
        self._fill()

    def _typed(self, item: QTableWidgetItem) -> None:
        about = ROWS[item.row()]
        self.wrong.pop(item.row(), None)
        try:
            value = about.read(item.text(), self.unit)
        except Refusal as refusal:
            self.wrong[item.row()] = f"{about.name}: {refusal.sentence}"
        else:
            self.measurements.pop(about.id, None)
            self.from_table.discard(about.id)
            if value is not None:
                self.measurements[about.id] = value
        self._show()

    def fill_from_table(self) -> None:
        """Begin with the average figure of a bust, each row to be typed over."""
        try:
            body = starting_body(parse_length(self.bust.text(), self.unit), self.unit)
        except Refusal as refusal:
            self.sentence.setText(f"≠ {refusal.sentence}")
            self.bust.setFocus()
            return
        self._take_body(body)
        self.how.setText(SIZE_TABLE_SOURCE)

    def open_file(self) -> None:
        """Ask for the file of a body, or of a design that is on one."""
        dialog = body_dialog(self, settings.last_folder())
        dialog.fileSelected.connect(self._read)
        dialog.open()

    def _read(self, name: str) -> None:
        try:
            body = body_in(Path(name))
        except Refusal as refusal:
            self.sentence.setText(f"≠ {refusal.sentence}")
            return
        self.client.setText(body.name)
        self._take_body(body)

    # --- showing

    def _fill(self) -> None:
        """Every row anew."""
        self.table.blockSignals(True)
        for index, about in enumerate(ROWS):
            value = self.measurements.get(about.id)
            self.table.put(index, 0, about.name.capitalize(), typed=False)
            text = "" if value is None else about.show(value, self.unit)
            self.table.put(index, NEW, text, typed=True, name=f"{about.name}, on her")
        self.table.blockSignals(False)
        self._show()

    def _show(self) -> None:
        """The comparison and what follows, or why there is none."""
        try:
            body = self._body()
            rows = compared(self.session.design.body, body)
            self.sentence.setText(self._said(self._followed(body)))
        except Refusal as refusal:
            rows = ()
            self.sentence.setText(f"≠ {said_in(refusal.sentence, self.unit)}")
        self.put_button.setEnabled(bool(rows))
        self.table.blockSignals(True)
        for index, row in enumerate(rows):
            self._show_row(index, row)
        self.table.blockSignals(False)
        self.table.widen()

    def _show_row(self, index: int, row: Compared) -> None:
        before, _, difference = row.said(self.unit)
        if row.about.id in self.from_table:
            difference += ", size table"
        if row.is_estimated:
            difference += f", estimated {row.about.show(row.after, self.unit)}"
        self.table.put(index, 1, before, typed=False)
        self.table.put(index, 3, difference, typed=False)

    def _say_how(self, row: int) -> None:
        if 0 <= row < len(ROWS):
            self.how.setText(f"{ROWS[row].name.capitalize()}: {ROWS[row].how}")

    def _followed(self, body: Body) -> Followed:
        return followed(replace(self.session.design, body=body), self.session.replay)

    def _said(self, fits: Followed) -> str:
        count = len(fits.done.stages)
        follow = f"All {count} steps follow." if count else "The block drafts."
        if fits.lost:
            reasons = "\n".join(f"{refused.step_id}: {refused.sentence}" for refused in fits.lost)
            follow = f"{count} steps follow. These cannot and will be switched off:\n{reasons}"
        first = OWN_STAYS if self.session.design.method == OWN else ""
        return "\n".join(part for part in (first, follow, self._pinned_words(fits)) if part)

    def _pinned_words(self, fits: Followed) -> str:
        """What was pinned on the first client's toile and comes along."""
        steps = pinned(fits.design)
        if not steps:
            return ""
        whose = self.session.design.body.name or "the first client"
        return f"Pinned on the toile of {whose}, switch off what is not hers: {', '.join(steps)}."

    def put_on(self) -> None:
        """The design on her, as one act, or a design of her own."""
        try:
            body = self._body()
            design = self._followed(body).design
            if self.is_own:
                self.made.emit(for_another(design, body))
            else:
                self.session.do(f"Put on {body.name}", design)
        except Refusal as refusal:
            self.sentence.setText(f"≠ {said_in(refusal.sentence, self.unit)}")
            return
        self.accept()
