"""Two variants on one form: a line that was kept, or that of another file, beside the line at hand."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import msgspec
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QHeaderView, QVBoxLayout, QWidget

from app.canvas.form_view import FormView
from app.panels.panel import button, sentence_label
from app.panels.tables import put, table
from app.theme import Theme
from core.body.body import Body
from core.design.design import Design
from core.design.replay import replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.reader import read_design
from core.form.compared import compared
from core.form.shown import Fitter, Laid, garments_of
from core.units import Unit, said_in

KEPT: Final = "the kept line"
NOW: Final = "now"


class Variant(msgspec.Struct, frozen=True, eq=False):
    """A design to compare with, and what it is called."""

    design: Design
    name: str

    def on(self, body: Body) -> Design:
        """The design on the client who stands there now: two lines are compared on one body."""
        return self.design if self.design.body is body else msgspec.structs.replace(self.design, body=body)


class FormCompare(QWidget):
    """Buttons that take a variant, and its numbers beside those at hand. `view` shows it; whoever owns this places it.

    A kept line is the design as it was then: go back and forth with undo to hold any two states against each other.
    """

    changed = Signal()
    """Another variant, or none."""
    file_wanted = Signal()
    """She wants to be asked for a file; it is handed to `take_file`."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.variant: Variant | None = None
        self.laid: Laid | None = None
        self.view = FormView(theme, self, name="The form with the kept line")
        self.keep = button(
            "Keep this line to compare", self, tip="Show the design as it is now beside what you make of it."
        )
        self.file = button("Compare with a file…", self, tip="Show the line of another design beside this one, on her.")
        self.drop = button("Stop comparing", self, tip="Show this design alone.")
        self.table = table("The two lines compared", ("On the form", KEPT, NOW), self)
        self.refusal = sentence_label(parent=self)
        self._present: Design | None = None
        self._laid_with: tuple[Fitter, Variant, Body] | None = None
        self.keep.clicked.connect(self._keep)
        self.file.clicked.connect(self.file_wanted)
        self.drop.clicked.connect(self._drop)
        self._lay_out()
        self._take(None)

    def _lay_out(self) -> None:
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.table.setMinimumWidth(1)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        # Two rows: beside each other all three would take the cutting table's room.
        for each in ((self.keep,), (self.file, self.drop)):
            row = QHBoxLayout()
            for one in each:
                row.addWidget(one)
            row.addStretch(1)
            column.addLayout(row)
        column.addWidget(self.refusal)
        column.addWidget(self.table)

    # --- taking a variant

    def _keep(self) -> None:
        if self._present is not None:
            self._take(Variant(self._present, KEPT))

    def take_file(self, name: str) -> None:
        """Compare with the design of a file; why not is said here."""
        path = Path(name)
        try:
            self._take(Variant(read_design(path), shown_name(path)))
        except Refusal as refusal:
            self._take(None, refusal.sentence)

    def _drop(self) -> None:
        self._take(None)

    def _take(self, variant: Variant | None, sentence: str = "") -> None:
        self.variant, self.laid, self._laid_with = variant, None, None
        for part in (self.view, self.table, self.drop):
            part.setVisible(variant is not None)
        self._say(sentence)
        self.changed.emit()

    def _say(self, sentence: str) -> None:
        self.refusal.setText(sentence)
        self.refusal.setVisible(bool(sentence))

    # --- showing it

    def show_now(self, fitter: Fitter, now: Laid, present: Design) -> None:
        """Hold the variant against the line at hand; `present` is the design that it belongs to."""
        self._present = present
        if self.variant is None:
            return
        wanted = (fitter, self.variant, present.body)
        if self._laid_with is None or any(a is not b for a, b in zip(wanted, self._laid_with, strict=True)):
            self._laid_with = wanted
            self.laid = self._lay(fitter, self.variant, present)
        self._write(now, present.unit)

    def show_nothing(self) -> None:
        """There is no form yet."""
        self.laid = self._laid_with = None
        self.view.show_stand(None)
        self.table.setRowCount(0)

    def _lay(self, fitter: Fitter, variant: Variant, present: Design) -> Laid | None:
        """The variant on the same stand, its own view included."""
        self.view.show_stand(fitter.stand)
        self.view.set_caption(variant.name)
        try:
            done = replay(variant.on(present.body))
        except Refusal as refusal:
            self._say(f"{variant.name[:1].upper()}{variant.name[1:]} cannot be laid on her: {refusal.sentence}")
            return None
        laid = Fitter(fitter.stand, fitter.edge).laid(garments_of(done), done.design.ease, present.unit)
        self.view.show_laid(laid)
        self._say(said_in(done.refused.sentence, present.unit) if done.refused is not None else "")
        return laid

    def _write(self, now: Laid, unit: Unit) -> None:
        rows = compared(self.laid, now, unit) if self.laid is not None else ()
        self.table.setRowCount(len(rows))
        for row, texts in enumerate(rows):
            for place, text in enumerate(texts):
                put(self.table, (row, place), text, right=place > 0)
        high = sum(self.table.rowHeight(row) for row in range(len(rows)))
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + high + 4)
