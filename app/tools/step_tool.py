"""What tools that make or alter a step have in common: try it in view, keep it as one act, or say why not.

A tool makes a new step at the end, or it is taken up for a step that is there already: then it works on the garment as
it was before that step, shows it as just after, and keeps it in that step's place.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFontMetricsF

from app.canvas.laid import Laid
from app.canvas.table import CuttingTable
from app.canvas.tool import Tool
from core.design.design import Design
from core.design.replay import Refused
from core.pieces.records import Garment
from core.steps.catalogue import AnyStep
from core.steps.step import Note

BESIDE: Final = 48
"""Letters that the longest words have that a tool writes beside a piece."""


class StepTool(Tool):
    """Holds the step on trial. `refusal` is the sentence by which it is refused as it stands, or ""."""

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self.trial: AnyStep | None = None
        self.refusal = ""
        self.altered = ""
        self._later = ""
        """Why a later step could not be done with what was tried under the hand, or ""."""
        self._whole: tuple[AnyStep, Design] | None = None
        """The step that was shown last, not refused, all that follows it worked out, and the design it was tried in."""
        self._as_filled: AnyStep | None = None

    # --- a step that is there already

    def take_up(self, step: AnyStep) -> None:
        """Take a step in hand that is there already. Refusal where what it is about is there no more."""
        self.altered = step.id
        self.show_before()
        self.fill(step)
        self._as_filled = self.as_set()

    def fill(self, step: AnyStep) -> None:
        """Pick what a step is about, set everything as it has it, and show it. Refusal where that cannot be."""
        raise NotImplementedError

    def as_set(self) -> AnyStep | None:
        """The step as the tool is set now."""
        return self.trial

    @property
    def is_loose(self) -> bool:
        """Whether it shows something that is not kept yet."""
        kept = (None, self._as_filled, *self.table.session.design.steps)
        return not self.refusal and self.trial not in kept

    @property
    def garment(self) -> Garment:
        """The garment that the step is done to: the committed one, or the one before the step that is altered."""
        return self.table.session.replay.before(self.altered)

    def step_id(self, kind: str) -> str:
        """The id of the step that is altered, or one for a new step of a kind."""
        return self.altered or self.table.session.design.fresh_id(kind)

    def accept_word(self, word: str) -> str:
        """What the slip's first button says: what is done, or that what was altered is kept."""
        return "Keep" if self.altered else word

    def show_before(self) -> None:
        """Show the garment that the step is done to."""
        if self.altered:
            self.table.session.look_before(self.altered)
        else:
            self.table.session.drop_preview()

    # --- trying

    def with_step(self, step: AnyStep) -> Design:
        """The design with the step on trial in it."""
        return self.table.session.design.with_step(step)

    def show(self, step: AnyStep) -> bool:
        """Try a step: show what it does, or leave the last good view and say why it is refused.

        While a hand drags one that is altered, what comes after it is tried in the frames that follow.
        """
        self.trial = step
        if self.altered and self.table.hand.is_dragging:
            # A later step that was found to refuse does so until the next word of it: it is worked out meanwhile.
            refused, otherwise = self.table.session.try_until(self.with_step(step), self.altered), self._later
        else:
            refused = self.table.session.preview(self.with_step(step), until=self.altered)
            self._later = otherwise = ""
            self._whole = None if refused else (step, self.table.session.design)
        self.refusal = self._why(refused) if refused else otherwise
        if refused:
            self.table.say(self.refusal)
            self.table.refresh()
        return refused is None

    def try_out(self, step: AnyStep) -> None:
        """Try a step while a hand drags: what it does may be shown some frames later, the tool's own line at once."""
        self.trial = step
        if not self.table.session.try_out(self.with_step(step)):
            self.table.refresh()

    def worked_out(self, refused: Refused | None) -> None:
        """Say why what was tried out is refused."""
        before = self._later
        self.refusal = self._later = self._why(refused) if refused else ""
        if refused and not (self.altered and self._later == before):
            self.table.say(self.refusal)
            self.table.refresh()

    def _why(self, refused: Refused) -> str:
        """Why it is refused: by itself, or by a later step that could not be done then."""
        if not self.altered or refused.step_id == self.altered:
            return refused.sentence
        ids = [step.id for step in self.table.session.design.steps]
        return f"Step {ids.index(refused.step_id) + 1} could not be done then: {refused.sentence}"

    def notes(self) -> tuple[Note, ...]:
        """What the step on trial has to say, in the user's unit, while it is shown as the last one."""
        shown = self.table.session.shown
        is_last = self.trial is not None and bool(shown.stages) and shown.stages[-1].step.id == self.trial.id
        return shown.notes_of(shown.stages[-1]) if is_last else ()

    def told(self) -> str:
        """The step on trial in a sentence, from what it did where it is shown as the last one."""
        stages, step = self.table.session.shown.stages, self.trial
        assert step is not None
        if stages and stages[-1].step is step:
            return stages[-1].sentence(self.table.unit)
        return step.sentence(self.garment, self.table.unit)

    def keep(self, label: str, *, tap: bool = False) -> bool:
        """Commit the step on trial; when it is refused, show the committed design again and say why.

        A step that was taken up to be altered, and was not, is no act.
        """
        step, sentence = self.trial, self.refusal
        if step is None:
            return False
        if sentence or not (self._is_whole(step) or self.show(step)):
            sentence = self.refusal
            self.put_back()
            self.table.say(f"{sentence} Nothing was changed.")
            return False
        self.trial = None
        if self.altered:
            ids = [old.id for old in self.table.session.design.steps]
            label, self.altered = f"Edit step {ids.index(self.altered) + 1}", ""
            # What is picked lies on the garment before the step, and may be none of the whole one.
            self.follow()
            if step == self._as_filled:
                self.put_back()
                return True
        self.table.commit(label, self.with_step(step), tap=tap)
        return True

    def _is_whole(self, step: AnyStep) -> bool:
        """Whether all that keeping a step would do has been worked out and is shown."""
        whole = self._whole
        return whole is not None and whole[0] is step and whole[1] is self.table.session.design

    # --- what of the table has to be drawn anew

    def about(self) -> Iterable[Laid]:
        """The pieces on and beside which the tool draws, as they lay and as they lie; none: anywhere."""
        return ()

    def covers(self) -> QRectF | None:
        """Round the pieces that it is about, with room for words at their edges."""
        frame, metrics = self.table.frame(), QFontMetricsF(self.table.font())
        wide, high, found = BESIDE * metrics.averageCharWidth(), 3.0 * metrics.height(), QRectF()
        for item in self.about():
            pixels = frame.moved(item.place).pixels(item.shown.loop)
            (left, top), (right, low) = pixels.min(axis=0).tolist(), pixels.max(axis=0).tolist()
            found = found.united(QRectF(left, top, right - left, low - top))
        return None if found.isEmpty() else found.adjusted(-wide, -high, wide, high)

    def put_back(self) -> None:
        """Show the garment that the step is done to; nothing was changed. A step that is altered is filled in anew."""
        self.trial, self.refusal, self._later = None, "", ""
        self.show_before()
        step = next((step for step in self.table.session.design.steps if step.id == self.altered), None)
        if step is None:
            self.follow()
        else:
            self.fill(step)
        self.table.refresh()

    def end(self) -> None:
        """Nothing uncommitted stays in view."""
        self.trial, self.refusal = None, ""
        super().end()
        self.altered = ""
