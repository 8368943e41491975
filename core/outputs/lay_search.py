"""Looking for a short lay: open, folded, and round what is to stay where it is. Every lay given is proved.

The first lay is of rows, and stays where the engine finds none that is shorter. On folded cloth the pieces on the fold
are set side by side along it, in some order and some way round, and held there while the rest is packed round them.
Which order is best is tried, and which pieces lie turned over: each for a part of the time, the best for the rest.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Sequence
from math import inf
from typing import Final, TypeAlias

import msgspec
import numpy as np

from core.design.kept_lay import LayChoices, Model
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.outputs.lay_fold import Start, starts
from core.outputs.lay_items import Asked, asked_for, height_of, lay_from
from core.outputs.lay_parts import Part, rotated
from core.outputs.lay_plan import Lay
from core.outputs.lay_process import Packing, pack
from core.outputs.lay_proof import faults
from core.outputs.lay_rows import in_rows

Told: TypeAlias = Callable[[Lay | None], bool]
"""Called with the best proved lay so far, many times a second; true keeps it and stops. It may raise Cancelled."""

SHOWN_EVERY: Final = 0.5
"""Seconds between two proofs on the way: each takes some milliseconds."""

SHORTEST_TRY: Final = 0.5
"""Seconds that each order along a fold is tried for at least."""

AS_SHORT: Final = 1.0
"""mm: a lay no longer than its longest piece and this needs no more search."""

TRYING: Final = 0.5
"""The share of the time for trying."""


def nothing_laid(fabric: Fabric, model: Model, choices: LayChoices) -> Lay:
    """Bare cloth."""
    return Lay(fabric, model, choices, ())


def search(bare: Lay, parts: Sequence[Part], *, seconds: float, told: Told, workers: int | None = None) -> Lay:
    """The shortest proved lay found in the time, with what `bare` holds left where it is.

    Refusal when the engine, having been asked, finds none at all. Whatever `told` raises, nothing is left running.
    """
    hunt = _Hunt(tuple(parts), told, workers or os.cpu_count() or 1, _longest(parts))
    hunt.take(in_rows(bare, parts))
    hunt.look()
    _try(hunt, starts(bare, parts)[: max(1, int(TRYING * seconds / SHORTEST_TRY))], seconds)
    if hunt.failure is not None and not hunt.was_answered and not hunt.has_enough:
        raise hunt.failure
    if hunt.best is None:
        raise Refusal("No lay was found that keeps the gap and the grain: try for longer, or choose a smaller gap.")
    return hunt.best


def _try(hunt: _Hunt, tried: Sequence[Start], seconds: float) -> None:
    """Pack after each start for a part of the time, and after the one that gave the shortest lay for the rest."""
    if len(tried) == 1:
        hunt.pack(tried[0], seconds=seconds)
        return
    each = max(SHORTEST_TRY, TRYING * seconds / len(tried))
    began = time.monotonic()
    lengths = [hunt.pack(start, seconds=each) for start in tried]
    best = tried[lengths.index(min(lengths))]
    hunt.pack(best, seconds=max(SHORTEST_TRY, seconds - (time.monotonic() - began)))


def _longest(parts: Sequence[Part]) -> float:
    """mm along the cloth of the piece that takes most, each turned as takes least."""
    return max(
        min(float(np.ptp(rotated(part.outline, turn)[:, 0])) for turn in part.allowed(is_mirrored=False) or (0.0,))
        for part in parts
    )


class _Hunt(msgspec.Struct, eq=False):
    """One search: the best lay so far, and whether it was told to stop."""

    parts: tuple[Part, ...]
    told: Told
    workers: int
    shortest: float
    best: Lay | None = None
    has_enough: bool = False
    failure: Refusal | None = None
    """Why the engine gave nothing, the last time that it gave nothing."""
    was_answered: bool = False

    def look(self) -> bool:
        """Tell the best so far; whether that is enough."""
        self.has_enough = self.told(self.best) or self.is_shortest
        return self.has_enough

    def pack(self, start: Start, *, seconds: float) -> float:
        """Pack what is missing, unless there is enough; the length of the best lay of the whole search so far."""
        if not self.has_enough:
            asked = asked_for(start, self.parts)
            if all(one.part is None for one in asked):
                self.take(start.lay.settled())
            else:
                self._ask(start.lay, asked, seconds)
        return self.best.length if self.best is not None else inf

    def _ask(self, bare: Lay, asked: Sequence[Asked], seconds: float) -> None:
        """Let the engine pack; where it finds nothing, what was found before still stands."""
        look = _Look(self, lambda packing: lay_from(packing, asked, bare))
        items = [one.item for one in asked]
        try:
            last = pack(items, height_of(bare), seconds=seconds, workers=self.workers, watch=look)
        except Refusal as refusal:
            self.failure = refusal
        else:
            self.was_answered = True
            self.take(lay_from(last, asked, bare))

    @property
    def is_shortest(self) -> bool:
        """Whether no lay can be shorter: it is as long as its longest piece."""
        return self.best is not None and self.best.length <= self.shortest + AS_SHORT

    def take(self, lay: Lay) -> None:
        """Keep a lay that is shorter than the best, once it is proved."""
        if (self.best is None or lay.length < self.best.length) and not faults(lay, self.parts):
            self.best = lay


class _Look(msgspec.Struct, eq=False):
    """What the engine's work is watched by: lays are proved now and then, and the best is told."""

    hunt: _Hunt
    as_lay: Callable[[Packing], Lay]
    proved: Packing | None = None
    next_proof: float = 0.0

    def __call__(self, packing: Packing | None) -> bool:
        """Whether the search has enough."""
        if packing is not None and packing is not self.proved and time.monotonic() >= self.next_proof:
            self.hunt.take(self.as_lay(packing))
            self.proved, self.next_proof = packing, time.monotonic() + SHOWN_EVERY
        return self.hunt.look()
