"""What every step is: a frozen record with a stable kind and id that turns a garment into an outcome."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal, TypeAlias

import msgspec

from core.pieces.places import Place
from core.pieces.proof import IS_ON, proved
from core.pieces.records import Change, Garment
from core.units import Unit

NoteKind: TypeAlias = Literal["mismatch", "residual", "paper", "touched", "advice", "named"]


class Note(msgspec.Struct, frozen=True):
    """Something the user ought to know about a step that was done: one sentence, and where it is about."""

    kind: NoteKind
    sentence: str
    piece: str = ""
    edge: str = ""


class Effect(msgspec.Struct, frozen=True, eq=False):
    """What a step does to any garment that holds the records it read."""

    change: Change
    notes: tuple[Note, ...] = ()


class Outcome(msgspec.Struct, frozen=True, eq=False):
    """The garment after a step, what became of each piece's name, and notes."""

    garment: Garment
    names: Mapping[str, tuple[str, ...]] = msgspec.field(default_factory=dict)
    notes: tuple[Note, ...] = ()


class Step(msgspec.Struct, frozen=True, tag_field="kind", forbid_unknown_fields=True, omit_defaults=True):
    """One step. Subclasses give `effect`, `reads` and `sentence`; `tag` is the kind that files carry for ever."""

    id: str

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """What of the garment the effect depends on; while it is equal, so is the effect. Records equal by identity."""
        raise NotImplementedError

    def effect(self, garment: Garment) -> Effect:
        """What the step does to this garment, which is left as it is; Refusal when it cannot be done."""
        raise NotImplementedError

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """The step in one sentence, its lengths in the user's unit; `garment` is the one before the step."""
        raise NotImplementedError

    def told(self, garment: Garment, effect: Effect, unit: Unit) -> str:
        """The same sentence where the step's effect on this garment is known, so that nothing is done twice for it.

        A kind whose sentence says what came of it gives this, and `sentence` from it.
        """
        return self.sentence(garment, unit)

    def apply(self, garment: Garment) -> Outcome:
        """The outcome on this garment, which is left as it is; Refusal when it cannot be done."""
        return outcome(garment, self.effect(garment))


def outcome(garment: Garment, effect: Effect) -> Outcome:
    """An effect laid on a garment."""
    names = {name: tuple(piece.name for piece in now) for name, now in effect.change.pieces.items()}
    change = proved(effect.change) if IS_ON else effect.change
    return Outcome(change.on(garment), names, effect.notes)


def fitted(sentence: str, fitting: str | None) -> str:
    """A step's sentence with what was said when it was pinned on the toile; as it is, where `fitting` is None."""
    if fitting is None:
        return sentence
    said = " ".join(fitting.split()).rstrip(".").replace(". ", "; ")
    return f"{sentence.removesuffix('.')}, as pinned at the fitting{f' ({said})' if said else ''}."


class LinePoint(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A placed point in mm in the frame of the piece as it was drawn on.

    `corner` breaks the curve; `landmark` or `place` (filled by snapping) win over the coordinates at replay.
    """

    x: float
    y: float
    corner: bool = False
    landmark: str = ""
    place: Place | None = None


Number: TypeAlias = Annotated[int, msgspec.Meta(ge=1, le=999)]
Name: TypeAlias = Annotated[str, msgspec.Meta(min_length=1, max_length=80)]
"""A piece's number and name as a step gives them."""

Landmarks: TypeAlias = dict[str, tuple[float, float]]
"""Landmarks of the piece as it was when a point was drawn on it, so that the point can follow another body."""
