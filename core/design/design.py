"""The document: everything that a file keeps, as immutable records."""

from __future__ import annotations

from datetime import date
from typing import Annotated, TypeAlias

import msgspec

from core.blocks.ease import Ease
from core.blocks.own_block import OwnBlock
from core.body.body import Body
from core.design.finishes import Finishing
from core.design.kept_lay import KeptLay
from core.design.picture import StylePicture
from core.design.sheets import Sheets
from core.fabrics.catalogue import Allowance, Fabric
from core.fabrics.shelf import default_fabrics
from core.steps.catalogue import AnyStep
from core.units import Unit

PaperName: TypeAlias = Annotated[
    str, msgspec.Meta(pattern=r"^(a[0-4]|letter|a4-letter|legal|tabloid|roll-\d{1,4}(\.\d{1,2})?(mm|cm|in))$")
]
"""A paper; `core.outputs.papers` knows their sizes."""


class Allowances(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Seam allowance in mm by edge kind; a fabric that states its own (stretch mesh: 0) wins.

    Half an inch all round is common practice, no source.
    """

    seam: Allowance = 12.7
    hem: Allowance = 12.7
    opening: Allowance = 12.7
    raw: Allowance = 0.0


class Design(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One commission: whose body, which block and ease, the steps in order, fabrics, allowances and page choices.

    `date` (ISO) is the design's own and is printed, so that equal designs give equal pages.
    """

    name: str
    body: Body
    date: str = ""
    unit: Unit = "in"
    method: str = "tape"
    ease: Ease = Ease()
    steps: tuple[AnyStep, ...] = ()
    off: tuple[str, ...] = ()
    """Ids of steps that are kept but not done."""
    fabrics: tuple[Fabric, ...] = msgspec.field(default_factory=default_fabrics)
    allowances: Allowances = Allowances()
    finishing: Finishing = Finishing()
    paper: PaperName = "a4"
    notes: str = ""
    pictures: Annotated[tuple[StylePicture, ...], msgspec.Meta(max_length=2)] = ()
    lays: tuple[KeptLay, ...] = ()
    sheets: Sheets = Sheets()
    own_block: OwnBlock | None = None
    """What she typed of a block on paper; the design begins with it while its method is "own"."""

    def with_step(self, step: AnyStep) -> Design:
        """The design with a step added at the end, or in the place of the step that has its id."""
        if any(old.id == step.id for old in self.steps):
            steps = tuple(step if old.id == step.id else old for old in self.steps)
        else:
            steps = (*self.steps, step)
        return msgspec.structs.replace(self, steps=steps)

    def without_step(self, step_id: str) -> Design:
        """The design without one step."""
        steps = tuple(step for step in self.steps if step.id != step_id)
        return msgspec.structs.replace(self, steps=steps, off=tuple(off for off in self.off if off != step_id))

    def switched(self, step_id: str) -> Design:
        """The design with a step switched off, or on again."""
        others = tuple(off for off in self.off if off != step_id)
        return msgspec.structs.replace(self, off=others if step_id in self.off else (*others, step_id))

    @property
    def done_steps(self) -> tuple[AnyStep, ...]:
        """The steps that are not switched off, in order."""
        return tuple(step for step in self.steps if step.id not in self.off) if self.off else self.steps

    def fresh_id(self, kind: str) -> str:
        """A step id that no step has yet: the kind and a number."""
        used = {step.id for step in self.steps}
        return next(f"{kind}-{n}" for n in range(1, len(used) + 2) if f"{kind}-{n}" not in used)


def today() -> str:
    """Today's date, for a design that is begun now (ISO)."""
    return date.today().isoformat()
