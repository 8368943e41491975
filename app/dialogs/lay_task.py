"""Laying out beside the window: the search in a thread, and the best lay so far for the window to show."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Sequence
from functools import partial

from core.design.design import Design
from core.design.kept_lay import LayChoices, Model
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished
from core.outputs.lay_by_hand import filled
from core.outputs.lay_plan import Lay
from core.outputs.lay_plans import FabricPlan, laid_both_ways
from core.progress import Progress


class LayTask:
    """One search: a fabric laid anew, or what is not locked of a lay laid round what is."""

    def __init__(
        self,
        design: Design,
        pieces: Sequence[Finished],
        fabric: Fabric,
        *,
        choices: LayChoices,
        models: Sequence[Model],
        seconds: float,
        held: Lay | None = None,
    ) -> None:
        self.design, self.pieces, self.fabric = design, pieces, fabric
        self.choices, self.models, self.seconds, self.held = choices, models, seconds, held
        self._best: dict[Model, Lay] = {}
        self._keep = threading.Event()
        self._began = time.monotonic()

    def keep(self) -> None:
        """Stop as soon as there is a lay, and take the best."""
        self._keep.set()

    @property
    def best(self) -> Lay | None:
        """The shortest lay so far."""
        return min(list(self._best.values()), key=lambda lay: lay.length, default=None)

    def __call__(self, progress: Progress) -> FabricPlan:
        """Search; Cancelled, raised by `progress`, ends it."""
        self._began = time.monotonic()
        if self.held is not None:
            told = partial(self._told, progress, self.held.model)
            lay = filled(self.held, seconds=self.seconds, told=told)
            return FabricPlan((self.design.name,), (lay,), self.design.unit, {})
        return laid_both_ways(
            (self.design,),
            (self.pieces,),
            self.fabric,
            choices=self.choices,
            models={model: partial(self._told, progress, model) for model in self.models},
            seconds=self.seconds,
            workers=max(1, (os.cpu_count() or 1) // len(self.models)),
        )

    def _told(self, progress: Progress, model: Model, best: Lay | None) -> bool:
        if best is not None:
            self._best[model] = best
        done = min(time.monotonic() - self._began, self.seconds)
        progress(round(10 * done), round(10 * self.seconds))
        return self._keep.is_set() and best is not None
