"""Measurements on screen: the client, what was measured and what is estimated, ease and the way of drafting."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from app.panels.block_choice import BlockChoice
from app.panels.body_entry import (
    EASES,
    act_label,
    differences,
    ease_words,
    in_unit,
    is_believable,
    with_client,
    with_ease,
    with_values,
)
from app.panels.entry_row import GRID_ROWS, EntryRow
from app.panels.panel import Panel, TallList, coloured, heading, sentence_label
from app.session import Changed, Session
from app.theme import Theme
from core.body.average import still_average
from core.body.body import LONGEST_NAME, Measured, complete
from core.body.catalogue import MEASUREMENTS, Measurement
from core.design.design import Design
from core.design.replay import replay
from core.errors import Refusal
from core.units import show_length

CLIENT: Final = "client's name"
NOT_TAKEN: Final = "Not taken yet, for the reason at the top: correct this or the other one, or press Esc."
NARROW: Final = 120
"""Letters across the window under which it is narrow."""

HINT: Final = "Choose a field to read how it is measured. Fractions, centimetres and millimetres are understood."


class MeasurementsPanel(Panel):
    """A field for every measurement in the order of work; each change is one act that undo takes back.

    Values that only hold together are kept in their fields, refused, until the others are typed: then all are taken
    in one act.
    """

    typing = Signal()
    """What is half typed has changed, or was given up."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(session, theme, parent)
        self.setAccessibleName("Measurements")
        self._pending: dict[str, str] = {}
        self._to_reveal = ""
        self.contradiction = sentence_label(parent=self)
        self.contradiction.hide()
        self.how = sentence_label(HINT, self)
        self._content = content = QWidget(self)
        self._grid = QGridLayout(content)
        self._grid.setContentsMargins(0, 0, 4, 0)
        # The names take what is left over: they are read, while a field is as wide as a length.
        self._grid.setColumnStretch(0, 1)
        self._next_row = 0
        self._is_narrow = False
        self.client = self._row(CLIENT, CLIENT, self._take_client)
        self.client.field.setMaxLength(LONGEST_NAME)
        self.rows = {id_: self._row(id_, row.name, self._take_value) for id_, row in MEASUREMENTS.items()}
        for row in self.rows.values():
            row.given_up.connect(self._give_up)
        self.shape = sentence_label(parent=content)
        self._across(self.shape)
        self._across(heading("Ease", content))
        self.eases = {name: self._row(name, ease_words(name), self._take_ease) for name in EASES}
        self.block = BlockChoice(session, content)
        self._across(self.block)
        self._lay(content)
        self._colour()
        self.refresh(Changed())

    # ------------------------------------------------------------------------------------------------------------
    # building

    def _row(self, id_: str, name: str, take: Callable[[str, str], None]) -> EntryRow:
        row = EntryRow(id_, name, self._content)
        row.typed.connect(take)
        row.entered.connect(self._show_how)
        row.refused.connect(self._reveal)
        row.typing.connect(self.typing)
        row.given_up.connect(self._say_given_up)
        row.add_to(self._grid, self._next_row, wide=id_ == CLIENT)
        self._next_row += GRID_ROWS
        return row

    def fit(self, width: int) -> bool:
        """Stand the names over their fields in a window that is narrow for its letters; whether that has changed."""
        is_narrow = width < NARROW * self.fontMetrics().averageCharWidth()
        if is_narrow == self._is_narrow:
            return False
        self._is_narrow = is_narrow
        for row in self._all_rows():
            row.stand(is_narrow=is_narrow)
        self.how.setVisible(not is_narrow or self.how.text() != HINT)
        self._scroll.updateGeometry()
        return True

    def _across(self, widget: QWidget) -> None:
        self._grid.addWidget(widget, self._next_row, 0, 1, 3)
        self._next_row += 1

    def _lay(self, content: QWidget) -> None:
        self._scroll = scroll = TallList(content, self)
        self._grid.setRowStretch(self._next_row, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 4, 2, 4)
        column.addWidget(self.contradiction)
        column.addWidget(scroll, 1)
        column.addWidget(self.how)

    # ------------------------------------------------------------------------------------------------------------
    # showing

    def refresh(self, changed: Changed) -> None:
        """Show the committed body, ease and method. A drag changes none of them."""
        if changed.preview or not changed.design:
            return
        if changed.file:
            self._forget_typed()
        design = self.session.design
        measured = complete(design.body)
        self.client.show_text(design.body.name)
        for id_, row in self.rows.items():
            self._show_measurement(row, MEASUREMENTS[id_], measured, design)
        for name, row in self.eases.items():
            amount = getattr(design.ease, name)
            row.show_text(show_length(amount, design.unit), tip=f"{EASES[name]} Now {amount:.2f} mm.")
        shapes = (f"{words}: {show_length(amount, design.unit)}" for words, amount in differences(design))
        self.shape.setText("\n".join(shapes))
        self.block.show_design(design)

    def _show_measurement(self, row: EntryRow, about: Measurement, measured: Measured, design: Design) -> None:
        value = measured.values[row.id]
        if about.rule is not None and row.id in measured.estimated:
            estimate = about.show(value, design.unit)
            row.show_text(
                "", estimate=estimate, state="estimated", tip=f"Estimated: {in_unit(about.rule.text, design.unit)}."
            )
        else:
            state, how = "hers", f"{about.how}{_exactly(about, value)}"
            if row.id in design.body.from_table:
                state, how = "size table", f"From the size table, to be replaced with hers. {how}"
            elif row.id in still_average(design.body):
                state, how = "average", f"The average figure's, to be replaced with hers. {how}"
            row.show_text(about.show(value, design.unit), state=state, tip=how)

    def _reveal(self, id_: str) -> None:
        """Bring a refusal into sight, once the list has made room for it."""
        self._to_reveal = id_
        QTimer.singleShot(0, self, self._reveal_now)

    def _reveal_now(self) -> None:
        row = next(row for row in self._all_rows() if row.id == self._to_reveal)
        self._scroll.ensureWidgetVisible(row.refusal)
        self._scroll.ensureWidgetVisible(row.field)

    def _show_how(self, id_: str) -> None:
        """Say under the list how the measurement of the focused field is taken, and by which rule it is estimated."""
        self.how.show()
        if id_ in self.eases:
            self.how.setText(EASES[id_])
        if id_ not in self.rows:
            return
        about = MEASUREMENTS[id_]
        rule = f"\nWhen it is left empty: {in_unit(about.rule.text, self.session.design.unit)}." if about.rule else ""
        unit = self.session.design.unit
        span = f" {about.show(about.low, unit)} to {about.show(about.high, unit)} is believed."
        self.how.setText(f"{about.name.capitalize()}: {about.how}{span}{rule}")

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        super().set_theme(theme)
        self._colour()

    def _colour(self) -> None:
        for row in self._all_rows():
            row.set_theme(self.theme)
        coloured(self.contradiction, self.theme.verdicts["wrong"])
        self.block.set_theme(self.theme)

    # ------------------------------------------------------------------------------------------------------------
    # taking what is typed

    def commit(self) -> None:
        """Take what is typed and not yet taken, as before a save."""
        for row in self._all_rows():
            if row.field.hasFocus():
                row.commit()

    @property
    def untaken(self) -> list[str]:
        """The names of the fields that hold what was refused."""
        return [row.name for row in self._all_rows() if row.is_refused]

    def _all_rows(self) -> tuple[EntryRow, ...]:
        return (self.client, *self.rows.values(), *self.eases.values())

    def _say_given_up(self, _id: str) -> None:
        self.typing.emit()

    def with_half_typed(self, design: Design) -> Design:
        """The design as it would be if what is half typed counted; the same one where nothing is, or it cannot."""
        for row in self._all_rows():
            if row.is_half_typed:
                with suppress(Refusal):
                    taken = self._with(design, row)
                    replay(replace(taken, steps=()))  # whether a block can be drafted with it
                    design = taken
        return design

    def _with(self, design: Design, row: EntryRow) -> Design:
        """The design with one field's text taken. Refusal where that cannot be."""
        text = row.field.text()
        if row is self.client:
            return with_client(design, " ".join(text.split()))
        if row is self.eases.get(row.id):
            return with_ease(design, row.id, text)
        return with_values(design, {row.id: MEASUREMENTS[row.id].read(text, design.unit)})

    def _take_value(self, id_: str, text: str) -> None:
        """Take one value; with those that were refused before if they hold only together, else alone."""
        self._pending[id_] = text
        values = self._readable()
        if id_ not in values:
            return
        try:
            self._do_values(self._that_hold(id_, values))
        except Refusal as refusal:
            self.rows[id_].refuse(NOT_TAKEN)
            self._name_contradiction(refusal.sentence)

    def _readable(self) -> dict[str, float | None]:
        """The values typed and not taken that could be true by themselves; the others' rows say why not."""
        values: dict[str, float | None] = {}
        for id_, text in self._pending.items():
            try:
                value = MEASUREMENTS[id_].read(text, self.session.design.unit)
                if not is_believable(MEASUREMENTS[id_], value):
                    complete(with_values(self.session.design, {id_: value}).body)
            except Refusal as refusal:
                self.rows[id_].refuse(refusal.sentence)
            else:
                values[id_] = value
        return values

    def _that_hold(self, id_: str, values: dict[str, float | None]) -> dict[str, float | None]:
        """All values where they hold together or none does, else the one that was typed last."""
        alone = {id_: values[id_]}
        return alone if not self._holds(values) and self._holds(alone) else values

    def _holds(self, values: dict[str, float | None]) -> bool:
        try:
            complete(with_values(self.session.design, values).body)
        except Refusal:
            return False
        return True

    def _do_values(self, values: dict[str, float | None]) -> None:
        design = self.session.design
        changed = with_values(design, values)
        if changed.body.measurements != design.body.measurements:
            self.session.do(act_label(values, design.unit), changed)
        for id_ in values:
            self._pending.pop(id_)
            self.rows[id_].take()
        self._name_contradiction("")

    def _name_contradiction(self, sentence: str) -> None:
        self.contradiction.setText(f"≠ {sentence}" if sentence else "")
        self.contradiction.setVisible(bool(sentence))

    def _give_up(self, id_: str) -> None:
        self._pending.pop(id_, None)
        if not self._pending:
            self._name_contradiction("")

    def _forget_typed(self) -> None:
        self._pending.clear()
        self._name_contradiction("")
        for row in self._all_rows():
            row.take()

    def _take_client(self, _id: str, text: str) -> None:
        name = " ".join(text.split())
        try:
            self.session.do(f"Client's name {name}", with_client(self.session.design, name))
        except Refusal as refusal:
            self.client.refuse(refusal.sentence)
        else:
            self.client.take()

    def _take_ease(self, name: str, text: str) -> None:
        row, design = self.eases[name], self.session.design
        words = ease_words(name).capitalize()
        try:
            changed = with_ease(design, name, text)
            if changed.ease != design.ease:
                self.session.do(f"{words} {show_length(getattr(changed.ease, name), design.unit)}", changed)
        except Refusal as refusal:
            row.refuse(refusal.sentence)
        else:
            row.take()


def _exactly(about: Measurement, value: float) -> str:
    return "" if about.kind == "angle" else f" Now {value:.2f} mm."
