"""What taking in sets at each level, what becomes of the seams across, and what it leaves round the body."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from core.body.body import complete
from core.design.replay import Replay
from core.errors import Refusal
from core.pieces.levels import SeamLevel, level_at, level_girth
from core.pieces.names import all_of, spoken, spoken_in_full
from core.pieces.records import Piece
from core.pieces.seams import Match
from core.steps.take_in import Across, Level, TakeIn, level_words
from core.units import Unit, show_length

ACROSS: Final[tuple[tuple[Across, str], ...]] = (
    ("leave", "Leave {} as it is"),
    ("ease", "Ease {} on"),
    ("fold", "Fold {} out to match"),
    ("trim", "Trim {} to match"),
)
"""What becomes of the pieces across the seam's ends, and the button's words for it."""

CLOSE: Final = 20.0
"""Less ease than this (mm) round the under-bust is close (cutting.md 22)."""


class Taken(msgspec.Struct):
    """What is taken off at a level on each side, in mm."""

    a: float = 0.0
    b: float = 0.0

    @property
    def total(self) -> float:
        """Both sides together."""
        return self.a + self.b


def across_words(choice: int, pieces: Sequence[Piece]) -> str:
    """What becomes of the pieces across the seam's ends, by their names: "Ease the front yoke on"; "" for none."""
    return ACROSS[choice][1].format(all_of([piece.name for piece in pieces])) if pieces else ""


def level_of(level: SeamLevel, taken: Taken) -> Level:
    """A level of the seam as the step has it, with what is taken off there."""
    return Level(level.name, taken.a, taken.b, level.offset)


def where(level: SeamLevel, unit: Unit) -> str:
    """Where a level lies: "at the waist", "at 1 in on from the waist"."""
    return level_words(level_of(level, Taken()), unit)


def with_levels(
    found: Match, offered: Sequence[SeamLevel], wanted: Sequence[Level]
) -> tuple[tuple[SeamLevel, ...], tuple[int, ...]]:
    """The levels offered and those that a step has besides, along the seam; and which of them each of the step's is.

    Refusal for a level that the seam does not pass.
    """
    levels = {(level.name, level.offset): level for level in offered}
    for level in wanted:
        if (level.at, level.offset) not in levels:
            at = level_at(found, level.at, level.offset)
            if at is None:
                raise Refusal(f"The seam {spoken_in_full(found.seam.name)} does not pass the {spoken(level.at)}.")
            levels[level.at, level.offset] = at
    order = sorted(levels.values(), key=lambda level: level.a.along)
    names = [(level.name, level.offset) for level in order]
    return tuple(order), tuple(names.index((level.at, level.offset)) for level in wanted)


def round_words(step: TakeIn, shown: Replay, unit: Unit) -> list[str]:
    """What is left round the under-bust, in a sentence, once the step takes in there (cutting.md 22)."""
    if not any(level.at == "under_bust_line" and level.a + level.b > 0.0 for level in step.levels):
        return []
    now, body = level_girth(shown.garment, "under_bust_line"), complete(shown.design.body).values["under_bust"]
    over = "over" if now >= body else "under"
    warning = ", which is close: try it on the toile" if now - body < CLOSE else ""
    sizes = [show_length(size, unit) for size in (now, abs(now - body))]
    return [f"Under the bust it is {sizes[0]} round, {sizes[1]} {over} the body{warning}."]
