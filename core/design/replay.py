"""Replay: the garment after every step, remembering each step whose readings have not changed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import msgspec
from msgspec.structs import replace

from core.blocks.draft import Draft, drafted
from core.blocks.own_block import OWN, own_garment
from core.body.body import complete
from core.design.design import Design
from core.errors import Refusal
from core.pieces.records import Garment
from core.steps.catalogue import AnyStep
from core.steps.step import Effect, Note, outcome
from core.units import Unit, said_in

BLOCK: Final = "block"
"""Under this name, where a step's id would stand, notes of the drafting are shown; step ids end in a number."""


class Stage(msgspec.Struct, frozen=True, eq=False):
    """The garment before and after one step, with the readings and the effect that made it."""

    step: AnyStep
    before: Garment
    garment: Garment
    effect: Effect
    readings: tuple[object, ...]

    @property
    def notes(self) -> tuple[Note, ...]:
        """What the user ought to know about the step."""
        return self.effect.notes

    def sentence(self, unit: Unit) -> str:
        """The step in one sentence, told from what it did here; Refusal when it cannot be put into one."""
        return self.step.told(self.before, self.effect, unit)


class Refused(msgspec.Struct, frozen=True):
    """The step that could not be done, and why, in one sentence."""

    step_id: str
    sentence: str
    piece: str = ""
    edge: str = ""


class Replay(msgspec.Struct, frozen=True, eq=False):
    """The block as drafted, a stage a step, and the refusal that stopped the replay, if one did.

    While a refusal stands, `garment` is the one before the refusing step: it stays in view.
    """

    design: Design
    draft: Draft
    stages: tuple[Stage, ...]
    refused: Refused | None = None

    @property
    def block(self) -> Garment:
        """The garment as drafted, before any step; `draft.notes` holds what the drafting had to say about it."""
        return self.draft.garment

    @property
    def garment(self) -> Garment:
        """The garment after the last step that could be done."""
        return self.stages[-1].garment if self.stages else self.block

    @property
    def is_whole(self) -> bool:
        """Whether no step is left to do: all are done, or one was refused."""
        return self.refused is not None or len(self.stages) == len(self.design.done_steps)

    def checked(self) -> Replay:
        """The same; Refusal with the sentence of the step that was refused, if one was."""
        if self.refused is not None:
            raise Refusal(self.refused.sentence, piece=self.refused.piece, edge=self.refused.edge)
        return self

    @property
    def notes(self) -> tuple[tuple[str, Note], ...]:
        """All notes in order, each with the id of its step; what the drafting had to say comes first, under "block"."""
        drafting = tuple((BLOCK, Note("advice", sentence)) for sentence in self.drafting_notes)
        return drafting + tuple((stage.step.id, note) for stage in self.stages for note in self.notes_of(stage))

    @property
    def drafting_notes(self) -> tuple[str, ...]:
        """What the drafting had to say about the block, its lengths in the design's unit."""
        return tuple(said_in(sentence, self.design.unit) for sentence in self.draft.notes)

    def notes_of(self, stage: Stage) -> tuple[Note, ...]:
        """The notes of a stage, their lengths in the design's unit."""
        return tuple(map(self._said, stage.notes))

    def _said(self, note: Note) -> Note:
        return replace(note, sentence=said_in(note.sentence, self.design.unit))

    def before(self, step_id: str) -> Garment:
        """The garment that a step is applied to; the last one for a step that is not there."""
        for stage in self.stages:
            if stage.step.id == step_id:
                return stage.before
        return self.garment

    def after(self, step_id: str) -> Garment:
        """The garment after a step; Refusal when the design has no such step, or it could not be done."""
        for stage in self.stages:
            if stage.step.id == step_id:
                return stage.garment
        raise Refusal(f"There is no finished step {step_id} in this design; its steps are {self._ids()}.")

    def until(self, step_id: str) -> Replay:
        """The replay as it stood when a step had just been done, or the block drafted; all of it for another id."""
        if step_id == BLOCK:
            return replace(self, stages=(), refused=None)
        for number, stage in enumerate(self.stages, start=1):
            if stage.step.id == step_id:
                return replace(self, stages=self.stages[:number], refused=None)
        return self

    def _ids(self) -> str:
        return ", ".join(step.id for step in self.design.steps) or "none"


def replay(design: Design, previous: Replay | None = None) -> Replay:
    """The stages of a design. Pure: `previous` only lets unchanged work be taken over.

    Refusal only when the block itself cannot be drafted; a refusing step is recorded and ends the stages.
    """
    *_, whole = replaying(design, previous)
    return whole


def replay_until(design: Design, step_id: str, previous: Replay | None = None) -> Replay:
    """The stages of a design up to one of its steps; those after it are not done. Refusal as for `replay`."""
    ids = [step.id for step in design.steps]
    head = msgspec.structs.replace(design, steps=design.steps[: ids.index(step_id) + 1])
    return replace(replay(head, previous), design=design)


def replaying(design: Design, previous: Replay | None = None) -> Iterator[Replay]:
    """The replay as far as it has come, after each step that had to be done anew; the last one is whole.

    For whoever has little time at once, as while a hand drags. Refusal as for `replay`.
    """
    draft = _draft(design, previous)
    known = {stage.step.id: stage for stage in previous.stages} if previous else {}
    stages: list[Stage] = []
    garment = draft.garment
    for step in design.done_steps:
        before = known.get(step.id)
        try:
            stage = _stage(step, garment, before)
        except Refusal as refusal:
            sentence = said_in(refusal.sentence, design.unit)
            refused = Refused(step.id, sentence, refusal.piece, refusal.edge)
            yield Replay(design, draft, tuple(stages), refused)
            return
        stages.append(stage)
        garment = stage.garment
        if before is None or stage.effect is not before.effect:
            yield Replay(design, draft, tuple(stages))
    yield Replay(design, draft, tuple(stages))


def _draft(design: Design, previous: Replay | None) -> Draft:
    if previous and _same_block(design, previous.design):
        return previous.draft
    if design.method == OWN:
        return _own_draft(design)
    return drafted(complete(design.body), design.ease, design.method)


def _own_draft(design: Design) -> Draft:
    if design.own_block is None:
        raise Refusal("The design begins with her own block and holds none: type the block, or choose a way to draft.")
    complete(design.body)
    return Draft(own_garment(design.own_block, design.ease), ())


def _same_block(design: Design, other: Design) -> bool:
    if OWN in (design.method, other.method) and design.own_block is not other.own_block:
        return False
    one, two = design.body, other.body
    if one is not two and (one.measurements, one.units) != (two.measurements, two.units):
        return False
    return (design.ease, design.method) == (other.ease, other.method)


def _stage(step: AnyStep, garment: Garment, known: Stage | None) -> Stage:
    if known is not None and known.before is garment and _is_same(step, known.step):
        return known
    readings = step.reads(garment)
    if known is not None and _still_holds(known, step, readings):
        return Stage(step, garment, known.effect.change.on(garment), known.effect, readings)
    effect = step.effect(garment)
    return Stage(step, garment, outcome(garment, effect).garment, effect, readings)


def _still_holds(known: Stage, step: AnyStep, readings: tuple[object, ...]) -> bool:
    same = len(readings) == len(known.readings) and all(a == b for a, b in zip(readings, known.readings, strict=True))
    return same and _is_same(step, known.step)


def _is_same(step: AnyStep, other: AnyStep) -> bool:
    return step is other or step == other
