"""The steps of a design in sentences, and the order in which they may stand: pure, without a widget."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from core.design.design import Design
from core.design.replay import Replay, Stage, replay
from core.errors import Refusal
from core.steps.catalogue import AnyStep
from core.units import Unit

LineState: TypeAlias = Literal["done", "refused", "waits", "off"]

Sentences: TypeAlias = dict[tuple[Stage, Unit], str]

SIGN_REFUSED = "≠"
SIGN_NOTE = "·"


class StepLine(msgspec.Struct, frozen=True):
    """One step of the list: its sentence, and under it what it has to say or why it was refused."""

    step_id: str
    number: int
    state: LineState
    sentence: str
    notes: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The line as it is shown, notes underneath."""
        sign = f"{SIGN_REFUSED} " if self.state == "refused" else ""
        mark = SIGN_REFUSED if self.state == "refused" else SIGN_NOTE
        return "\n".join((f"{sign}{self.number}. {self.sentence}", *(f"    {mark} {note}" for note in self.notes)))


def step_lines(now: Replay, known: Sentences | None = None) -> tuple[StepLine, ...]:
    """A line for every step; one that cannot be put into a sentence says why instead.

    `known` remembers the sentences of stages, as one takes as long as its step does.
    """
    sentences: Sentences = {}
    unit = now.design.unit
    done = {stage.step.id: stage for stage in now.stages}
    lines = []
    for number, step in enumerate(now.design.steps, start=1):
        stage = done.get(step.id)
        if stage is None:
            lines.append(_undone(now, step, number))
            continue
        try:
            sentence = (known or {}).get((stage, unit)) or stage.sentence(unit)
        except Refusal as refusal:
            lines.append(StepLine(step.id, number, "refused", f"{kind_words(step)}.", (refusal.sentence,)))
            continue
        sentences[stage, unit] = sentence
        lines.append(StepLine(step.id, number, "done", sentence, tuple(note.sentence for note in now.notes_of(stage))))
    if known is not None:
        known.clear()
        known.update(sentences)
    return tuple(lines)


def _undone(now: Replay, step: AnyStep, number: int) -> StepLine:
    words = kind_words(step)
    if step.id in now.design.off:
        return StepLine(step.id, number, "off", f"{words}: switched off.")
    if now.refused is None or now.refused.step_id == step.id:
        return StepLine(step.id, number, "refused", f"{words}: cannot be done.", (_why(now),))
    return StepLine(
        step.id, number, "waits", f"{words}: waits for step {index_of(now.design, now.refused.step_id) + 1}."
    )


def _why(now: Replay) -> str:
    return now.refused.sentence if now.refused is not None else ""


def what_waits(before: Replay, after: Replay) -> str:
    """What can no longer be done after a change that could be done before it, in a sentence; "" for nothing."""
    done = {stage.step.id for stage in after.stages}
    lost = [stage.step for stage in before.stages if stage.step.id not in done]
    lost = [step for step in lost if step in after.design.done_steps]
    if not lost or after.refused is None:
        return ""
    names = [f"step {index_of(after.design, step.id) + 1} ({kind_words(step).lower()})" for step in lost]
    others = f", and with it {', '.join(names[1:])}" if len(names) > 1 else ""
    return f"{names[0].capitalize()} can no longer be done{others}: {after.refused.sentence} Undo brings all back."


def kind_words(step: AnyStep) -> str:
    """The kind of a step with the piece it is about: `Cut of the front`."""
    kind = str(step.__struct_config__.tag).capitalize()
    piece = getattr(step, "piece", "")
    return f"{kind} of the {piece}" if piece else kind


def index_of(design: Design, step_id: str) -> int:
    """Where a step stands in the list. Refusal when it is not there."""
    for index, step in enumerate(design.steps):
        if step.id == step_id:
            return index
    raise Refusal(f"There is no step {step_id} in this design.")


def moved(now: Replay, step_id: str, by: int) -> Design:
    """The design with a step one place earlier (by = -1) or later (by = 1).

    Refusal when it stands at that end already, or when the order could not be done as far as it is now.
    """
    design = now.design
    here = index_of(design, step_id)
    there = here + by
    if not 0 <= there < len(design.steps):
        raise Refusal(f"Step {here + 1} is the {'first' if by < 0 else 'last'} one already.")
    steps = list(design.steps)
    steps[here], steps[there] = steps[there], steps[here]
    changed = replace(design, steps=tuple(steps))
    then = replay(changed, now)
    if then.refused is not None and len(then.stages) <= len(now.stages):
        side = "before" if by < 0 else "after"
        raise Refusal(f"Step {here + 1} cannot stand {side} step {there + 1}: {then.refused.sentence}")
    return changed
