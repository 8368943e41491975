"""What taking in sets at each level, what becomes of the seams across, and what it leaves round the body."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from core.body.body import complete
from core.design.replay import Replay
from core.pieces.levels import level_girth
from core.steps.take_in import Across, TakeIn
from core.units import Unit, show_length

ACROSS: Final[tuple[tuple[Across, str], ...]] = (
    ("leave", "Across: left as it is"),
    ("ease", "Across: eased"),
    ("fold", "Across: folded out"),
    ("trim", "Across: off its end"),
)
"""What becomes of the seams across the ends, and the button's words for it."""

CLOSE: Final = 20.0
"""Less ease than this (mm) round the under-bust is close (cutting.md 22)."""


@dataclass(slots=True)
class Taken:
    """What is taken off at a level on each side, in mm."""

    a: float = 0.0
    b: float = 0.0

    @property
    def total(self) -> float:
        """Both sides together."""
        return self.a + self.b


def round_words(step: TakeIn, shown: Replay, unit: Unit) -> list[str]:
    """What is left round the under-bust, in a sentence, once the step takes in there (cutting.md 22)."""
    if not any(level.at == "under_bust_line" and level.a + level.b > 0.0 for level in step.levels):
        return []
    now, body = level_girth(shown.garment, "under_bust_line"), complete(shown.design.body).values["under_bust"]
    over = "over" if now >= body else "under"
    warning = ", which is close: try it on the toile" if now - body < CLOSE else ""
    sizes = [show_length(size, unit) for size in (now, abs(now - body))]
    return [f"Under the bust it is {sizes[0]} round, {sizes[1]} {over} the body{warning}."]
