"""Altering a step by numbers, or one that no tool alters: a form of what it holds, seen as it is typed."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QWidget

from app.dialogs.form import FormDialog, take
from app.dialogs.step_fields import StepField, read, shown, step_fields, with_value
from app.session import Session
from core.errors import Refusal
from core.pieces.names import spoken_in_full
from core.steps.catalogue import AnyStep
from core.steps.trim import Trim


class EditStepDialog(FormDialog):
    """The step as it would be is shown on the table; Keep makes it one act, Cancel leaves all as it was."""

    def __init__(self, session: Session, step: AnyStep, parent: QWidget) -> None:
        super().__init__("Edit step", parent)
        self.session = session
        self.step = step
        self.number = [old.id for old in session.design.steps].index(step.id) + 1
        self.setWindowTitle(f"Edit step {self.number}")
        self._fields = step_fields(step)
        self._inputs = [self._input(field) for field in self._fields]
        self.finish((("&Keep", self.keep), ("Cancel", self.reject)), scrolls=True)
        self.rejected.connect(session.drop_preview)
        self.say(self._sentence())
        self.resize(520, 380)
        if self._inputs:
            self._inputs[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _input(self, field: StepField) -> QWidget:
        """A row for a field, filled with what stands in it."""
        words, measure = field.words.capitalize(), field.known.measure
        if measure == "tick":
            tick = self.tick(words)
            tick.setChecked(bool(field.value))
            tick.toggled.connect(self._try)
            return tick
        if measure in ("choice", "fabric", "end"):
            box = self.choice(words, self._choices(field))
            take(box, str(field.value))
            box.activated.connect(self._try)
            return box
        typed = self.field(words, letters=80)
        typed.setText(shown(field, self.session.design.unit))
        typed.textEdited.connect(self._try)
        return typed

    def _choices(self, field: StepField) -> dict[str, str]:
        if field.known.measure == "fabric":
            return {fabric.name: fabric.name for fabric in self.session.design.fabrics}
        if field.known.measure == "end":
            seam = self.session.replay.garment.seams.get(getattr(self.step, "seam", ""))
            usual = {"": "the usual"} if isinstance(self.step, Trim) else {}
            ends = seam.ends if seam is not None else (str(field.value),)
            return {**usual, **{end: spoken_in_full(end) for end in ends}}
        return dict(field.known.choices or {})

    def _meant(self) -> AnyStep:
        """The step as the form has it. Refusal for a text that means nothing."""
        step = self.step
        for field, made in zip(self._fields, self._inputs, strict=True):
            value = self._value(field, made)
            if value != field.value:
                step = with_value(step, field.path, value)
        return step

    def _value(self, field: StepField, made: QWidget) -> object:
        if isinstance(made, QCheckBox):
            return made.isChecked()
        if isinstance(made, QComboBox):
            return made.currentData()
        assert isinstance(made, QLineEdit)
        return read(field, made.text(), self.session.design.unit)

    def _try(self) -> None:
        self._show()

    def _show(self) -> AnyStep | None:
        """Show the step as the form has it; say what it does, or why it cannot be, and give it back if it can."""
        try:
            step = self._meant()
        except Refusal as refusal:
            self.say(f"≠ {refusal.sentence}")
            return None
        refused = self.session.preview(self.session.design.with_step(step))
        self.say(f"≠ {refused.sentence}" if refused else self._sentence())
        return None if refused else step

    def _sentence(self) -> str:
        """The step in its own words, as it is shown."""
        now = self.session.shown
        stage = next((stage for stage in now.stages if stage.step.id == self.step.id), None)
        return stage.sentence(now.design.unit) if stage is not None else ""

    def keep(self) -> None:
        """Keep the step as it is shown, as one act; nothing is done where nothing was altered."""
        step = self._show()
        if step is None:
            return
        if step != self.step:
            self.session.do(f"Edit step {self.number}", self.session.design.with_step(step))
        self.accept()
