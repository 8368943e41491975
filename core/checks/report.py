"""All checks on a design at once: what the `check` command says and the seam table shows."""

from __future__ import annotations

import msgspec

from core.body.body import complete
from core.checks.cup_over_opening import CupCheck, cup_checks
from core.checks.cutting import CuttingCheck, cutting_checks
from core.checks.girths import Girth, as_worked, girths
from core.checks.outlines import Fault, fabricless, outline_faults, unsewn
from core.checks.seam_rows import SeamRow, seam_rows
from core.checks.verdict import Verdict, worst
from core.design.replay import Replay


class Report(msgspec.Struct, frozen=True):
    """Seams, girths, faults, cups, and what a cutter would stop at. `refused` is why a step could not be done."""

    seams: tuple[SeamRow, ...]
    girths: tuple[Girth, ...]
    faults: tuple[Fault, ...]
    refused: str = ""
    cups: tuple[CupCheck, ...] = ()
    cutting: tuple[CuttingCheck, ...] = ()

    @property
    def worst(self) -> Verdict:
        """The worst verdict; any fault or refusal is wrong."""
        if self.faults or self.refused:
            return "wrong"
        seams, cups = [row.verdict for row in self.seams], [cup.verdict for cup in self.cups]
        return worst((*seams, *cups, *(one.verdict for one in self.cutting)))

    @property
    def passes(self) -> bool:
        """Whether every seam is exact or good and nothing else is at fault."""
        return self.worst in ("exact", "good")


def report(replay: Replay) -> Report:
    """The checks on the garment after the last step that could be done; girths as its pieces have them now."""
    garment, design = replay.garment, replay.design
    return Report(
        seam_rows(garment),
        as_worked(girths(replay.block, complete(design.body), design.ease), garment),
        (*outline_faults(garment), *unsewn(garment), *fabricless(design.fabrics, garment)),
        replay.refused.sentence if replay.refused else "",
        cup_checks(replay),
        cutting_checks(replay),
    )
