"""A fabric's lay plan: every way of laying it that was tried, the one that is proposed, and what it is made for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import Final

import msgspec

from core.design.design import Design
from core.design.kept_lay import LayChoices, Model
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.finishing.finish import Finished
from core.outputs.lay_amounts import Needed, left_over, needed, show_cloth, show_price
from core.outputs.lay_parts import has_direction, parts_for
from core.outputs.lay_plan import Lay
from core.outputs.lay_search import Told, nothing_laid, search
from core.units import Unit, show_length

MODEL_WORDS: Mapping[Model, str] = {"open": "open, in a single layer", "folded": "folded lengthwise, in two layers"}


LIES_OPEN: Final = frozenset({"sheer", "interlining"})
"""Roles of cloth that is better laid open: sheer slips, foam does not fold (common practice, no source)."""

SHORT: Final = 4.0
LONG: Final = 60.0
FEW: Final = 12
PER_COPY: Final = 1.0
"""Seconds to try: the shortest, the longest, and what each piece on the cloth over so many adds. Measured on a loaded
machine: the satin of four bodices together, 26 pieces, was still 2 % shorter after 15 s than after 10.
"""


class FabricPlan(msgspec.Struct, frozen=True, eq=False):
    """The lays of one fabric, the proposed one first; `refused` says why a way of laying is not among them."""

    names: tuple[str, ...]
    """The names of the designs that are laid together."""
    lays: tuple[Lay, ...]
    unit: Unit
    refused: Mapping[Model, str]

    @property
    def lay(self) -> Lay:
        """The proposed one."""
        return self.lays[0]

    def needed(self, lay: Lay | None = None) -> Needed:
        """What a lay asks for, the proposed one where none is given."""
        lay = lay or self.lay
        return needed(lay.fabric, lay.length, lay.choices, self.unit)


def fabrics_cut(pieces: Sequence[Sequence[Finished]]) -> tuple[Fabric, ...]:
    """The fabrics that pieces are cut from, in the order of the first piece of each.

    Cloths of one name from several designs are one cloth. Refusal where they differ in what a lay depends on.
    """
    found: dict[str, Fabric] = {}
    for garment in pieces:
        for piece in garment:
            known = found.setdefault(piece.fabric.name, piece.fabric)
            if _laid_as(known) != _laid_as(piece.fabric):
                raise Refusal(
                    f"Two designs have a fabric {known.name} that is not the same cloth ({known.words} and "
                    f"{piece.fabric.words}): give one of them another name, or the same cloth, width, nap and stretch."
                )
    return tuple(found.values())


def _laid_as(fabric: Fabric) -> tuple[object, ...]:
    return (fabric.cloth, fabric.usable_width, fabric.nap, fabric.stretch_along, fabric.stretch_across)


def usual_seconds(pieces: Sequence[Sequence[Finished]], fabric: Fabric) -> float:
    """How long a fabric is tried for when nobody says: a bodice 4 seconds, many pieces longer, a minute at most."""
    cut = [piece for garment in pieces for piece in garment if piece.fabric.name == fabric.name]
    copies = sum(piece.layers * (2 if piece.piece.cut == "pair" else 1) for piece in cut)
    return min(SHORT + PER_COPY * max(0, copies - FEW), LONG)


def laid_both_ways(
    designs: Sequence[Design],
    pieces: Sequence[Sequence[Finished]],
    fabric: Fabric,
    *,
    choices: LayChoices,
    models: Mapping[Model, Told],
    seconds: float,
    workers: int | None = None,
) -> FabricPlan:
    """The lays of a fabric in the given models, as `best_first` has them.

    `models` says by what each search is watched, from a thread of its own. Refusal where no model can be laid: the
    first one's.
    """
    unit = designs[0].unit
    refused: dict[Model, str] = {}

    def lay_in(model: Model) -> Lay | None:
        try:
            parts = parts_for(pieces, fabric, choices, model=model, unit=unit)
            bare = nothing_laid(fabric, model, choices)
            return search(bare, parts, seconds=seconds, told=models[model], workers=workers)
        except Refusal as refusal:
            refused[model] = refusal.sentence
            return None

    with ThreadPoolExecutor(len(models)) as pool:
        lays = [lay for lay in pool.map(lay_in, models) if lay is not None]
    if not lays:
        raise Refusal(refused[next(iter(models))])
    return FabricPlan(tuple(design.name for design in designs), best_first(lays, unit), unit, refused)


def best_first(lays: Sequence[Lay], unit: Unit) -> tuple[Lay, ...]:
    """Lays by what is to be bought; of equals the folded one first, but for cloth that slips or does not fold."""

    def rank(lay: Lay) -> tuple[float, bool]:
        second_best = "folded" if lay.fabric.role in LIES_OPEN else "open"
        return (needed(lay.fabric, lay.length, lay.choices, unit).to_buy, lay.model == second_best)

    return tuple(sorted(lays, key=rank))


# --------------------------------------------------------------------------------------------------------------
# in words


def summary(plan: FabricPlan, lay: Lay | None = None) -> str:
    """What to buy, how it is laid, and how much of it is used, in one or two sentences."""
    lay = lay or plan.lay
    found, unit = plan.needed(lay), plan.unit
    cost = show_price(found)
    costs = f", {cost}" if cost else ""
    return (
        f"Buy {show_cloth(found.to_buy, unit)} of {lay.fabric.words}, {show_length(lay.fabric.usable_width, unit)} "
        f"between the selvedges{costs}. Laid {MODEL_WORDS[lay.model]}, the pieces take "
        f"{show_length(lay.length, unit)} and {100.0 * lay.used:.0f} % of the cloth."
    )


def comparison(plan: FabricPlan) -> str:
    """How the other ways of laying compare, "" where none was tried."""
    said = [
        f"{lay.model.capitalize()}, the pieces take {show_length(lay.length, plan.unit)}: "
        f"{show_cloth(plan.needed(lay).to_buy, plan.unit)} to buy."
        for lay in plan.lays[1:]
    ]
    return " ".join([*said, *plan.refused.values()])


def notes(lay: Lay, found: Needed, unit: Unit) -> tuple[str, ...]:
    """What to mind when laying and cutting, the most needed first."""
    said = [left_over(lay, found, unit)]
    extra = [f"{show_length(lay.choices.squaring, unit)} to square the ends"] if lay.choices.squaring else []
    if lay.choices.shrink:
        extra.append(f"{lay.choices.shrink:g} % that it shrinks: wash or steam it before it is laid")
    if extra:
        said.append(f"What is bought has {' and '.join(extra)} in it.")
    said.append(_grain_note(lay))
    if lay.model == "folded":
        on_fold = any(piece.part.on_fold for piece in lay.laid)
        along = "; pieces on the fold lie with their fold on it" if on_fold else ""
        said.append(f"Fold the cloth lengthwise, right sides together{along}.")
        if any(piece.part.finished.piece.cut == "single" for piece in lay.laid):
            said.append("Pieces cut once lie face down and are cut through the upper layer only.")
    else:
        said.append("Lay the cloth face up. L lies as drawn and is her left, R is mirrored and is her right.")
    if lay.fabric.role == "sheer":
        said.append("Slippery sheer keeps its grain better in a single layer, between sheets of paper.")
    if lay.choices.repeat:
        said.append(f"Repeat: {lay.choices.repeat}. The pieces are not matched to it.")
    said.append("Measure from both ends of each grain line to the selvedge: the same, within 2 mm, before cutting.")
    return tuple(said)


def _grain_note(lay: Lay) -> str:
    if lay.choices.grain == "one way":
        return "All pieces lie one way along the cloth: nap, or a shine that turns with it."
    if lay.choices.grain == "free" and has_direction(lay.fabric):
        return "The net has no right side; it stretches more one way, so every piece keeps to its grain, either way up."
    if lay.choices.grain == "free":
        return "The net has neither grain nor right side to keep to: pieces lie at any angle."
    return "Pieces lie either way along the grain."
