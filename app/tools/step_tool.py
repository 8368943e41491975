"""What tools that make or alter a step have in common: try it in view, keep it as one act, or say why not."""

from __future__ import annotations

from app.canvas.table import CuttingTable
from app.canvas.tool import Tool
from core.design.design import Design
from core.steps.catalogue import AnyStep
from core.steps.step import Note


class StepTool(Tool):
    """Holds the step on trial. `refusal` is the sentence by which it is refused as it stands, or ""."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self.trial: AnyStep | None = None
        self.refusal = ""

    def with_step(self, step: AnyStep) -> Design:
        """The design with the step on trial in it."""
        return self.table.session.design.with_step(step)

    def show(self, step: AnyStep) -> bool:
        """Try a step: show what it does, or leave the last good view and say why it is refused."""
        self.trial = step
        refused = self.table.session.preview(self.with_step(step))
        self.refusal = refused.sentence if refused else ""
        if refused:
            self.table.say(refused.sentence)
            self.table.refresh()
        return refused is None

    def notes(self) -> tuple[Note, ...]:
        """What the step on trial has to say, in the user's unit, while it is shown as the last one."""
        shown = self.table.session.shown
        is_last = self.trial is not None and bool(shown.stages) and shown.stages[-1].step.id == self.trial.id
        return shown.notes_of(shown.stages[-1]) if is_last else ()

    def keep(self, label: str, *, tap: bool = False) -> bool:
        """Commit the step on trial; when it is refused, show the committed design again and say why."""
        step, sentence = self.trial, self.refusal
        if step is None:
            return False
        if sentence or not self.show(step):
            sentence = self.refusal
            self.put_back()
            self.table.say(f"{sentence} Nothing was changed.")
            return False
        self.trial = None
        self.table.commit(label, self.with_step(step), tap=tap)
        return True

    def put_back(self) -> None:
        """Show the committed design; nothing was changed."""
        self.trial, self.refusal = None, ""
        self.table.session.drop_preview()
        self.follow()
        self.table.refresh()

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        self.trial, self.refusal = None, ""
        super().end()
