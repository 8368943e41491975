"""What to buy and what the work costs: lengths of cloth by the kept lay or a rough one, notions, hours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from core.design.design import Design
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished
from core.outputs.lay_amounts import YARD, Needed, needed, needed_of_kept, show_cloth
from core.outputs.lay_parts import choices_for, parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_rows import in_rows
from core.units import Unit


class ClothRow(msgspec.Struct, frozen=True):
    """One fabric: what it needs, None with the reason where that cannot be said, and whether a lay says so."""

    fabric: Fabric
    needed: Needed | None
    is_laid: bool
    remark: str


class Cost(msgspec.Struct, frozen=True):
    """A line of the reckoning."""

    words: str
    amount: float
    currency: str

    @property
    def shown(self) -> str:
        """For example: "12.50 GBP"."""
        return f"{self.amount:.2f} {self.currency}".strip()


ROUGH: Final = "rough: rows of boxes; a lay plan needs less"


def cloth_rows(pieces: Sequence[Finished], design: Design) -> tuple[ClothRow, ...]:
    """What is needed of every fabric that a piece is cut from."""
    used = {piece.fabric.name for piece in pieces}
    return tuple(_cloth_row(fabric, pieces, design) for fabric in design.fabrics if fabric.name in used)


def _cloth_row(fabric: Fabric, pieces: Sequence[Finished], design: Design) -> ClothRow:
    kept = needed_of_kept(design, pieces, fabric.name)
    if kept is not None and not kept.is_stale:
        return ClothRow(fabric, kept, is_laid=True, remark="by the lay plan")
    choices = choices_for(fabric, design.unit)
    try:
        parts = parts_for([pieces], fabric, choices, model="open", unit=design.unit)
    except Refusal as refusal:
        return ClothRow(fabric, None, is_laid=False, remark=refusal.sentence)
    length = in_rows(Lay(fabric, "open", choices, ()), parts).length
    stale = "the lay plan is out of date; " if kept is not None else ""
    return ClothRow(fabric, needed(fabric, length, choices, design.unit), is_laid=False, remark=stale + ROUGH)


# --------------------------------------------------------------------------------------------------------------
# costs


def costs(rows: Sequence[ClothRow], design: Design) -> tuple[Cost, ...]:
    """Every line that has a price: cloth, what else is bought, and the hours."""
    costing = design.sheets.costing
    found = []
    for row in rows:
        if row.needed is not None and row.needed.price is not None:
            words = f"{show_cloth(row.needed.to_buy, design.unit)} of {row.fabric.words}"
            found.append(Cost(words, row.needed.price, row.fabric.currency))
    found += [Cost(line.words, line.price, costing.currency) for line in costing.lines]
    if costing.hours > 0.0:
        words = f"{costing.hours:g} hours of work at {costing.hourly:.2f} {costing.currency}".strip()
        found.append(Cost(words, costing.hours * costing.hourly, costing.currency))
    return tuple(found)


def totals(found: Sequence[Cost]) -> tuple[Cost, ...]:
    """The sum in each currency; amounts in different ones are never added."""
    sums: dict[str, float] = {}
    for cost in found:
        sums[cost.currency] = sums.get(cost.currency, 0.0) + cost.amount
    return tuple(Cost("Total", amount, currency) for currency, amount in sums.items())


def price_words(fabric: Fabric, unit: Unit) -> str:
    """The price of a metre, or of a yard where inches are used; "" where it is not known."""
    if fabric.price is None:
        return ""
    price, per = (fabric.price * YARD / 1000.0, "yd") if unit == "in" else (fabric.price, "m")
    return f"{price:.2f} {fabric.currency} / {per}".replace("  ", " ").strip()
