"""How much of a fabric to buy, what it costs, and what is left over; and the lay that a design keeps."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

import msgspec

from core.design.design import Design
from core.design.kept_lay import KeptLay, LaidPiece, LayChoices
from core.errors import Refusal
from core.fabrics.catalogue import Fabric, named
from core.finishing.finish import Finished
from core.outputs.lay_parts import parts_for, pieces_digest
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_proof import faults
from core.units import Unit, show_length

YARD: Final = 914.4
"""mm; exactly 36 in (international yard and pound agreement, 1959)."""

STEP: Final[dict[Unit, float]] = {"in": YARD / 8, "cm": 100.0, "mm": 100.0}
"""mm in which shops cut: eighths of a yard, 10 cm (common practice)."""

A_STRIP: Final = 20.0
"""mm. A left-over strip that is narrower is not worth keeping."""

NEARLY: Final = 0.05
"""mm that a length may exceed a step of the shop's through rounding."""


class Needed(msgspec.Struct, frozen=True):
    """What a lay asks for, in mm: `length` that the pieces take, `with_extra` for squaring and shrinking, `to_buy`.

    `price` is for `to_buy`, None where the fabric has no price.
    """

    fabric: Fabric
    length: float
    with_extra: float
    to_buy: float
    price: float | None
    is_stale: bool = False
    """Whether pieces have changed since the lay was made."""


def needed(fabric: Fabric, length: float, choices: LayChoices, unit: Unit, *, is_stale: bool = False) -> Needed:
    """What a lay of that length asks for. What shrinks by s percent is bought longer by 1 / (1 - s / 100)."""
    with_extra = length / (1.0 - choices.shrink / 100.0) + choices.squaring
    step = STEP[unit]
    to_buy = ceil((with_extra - NEARLY) / step) * step
    price = None if fabric.price is None else fabric.price * to_buy / 1000.0
    return Needed(fabric, length, with_extra, to_buy, price, is_stale)


def needed_of_kept(design: Design, pieces: Sequence[Finished], fabric_name: str) -> Needed | None:
    """What the lay that the design keeps of a fabric asks for, None where it keeps none.

    `pieces` are the design's, finished as they are now. A lay of pieces that have changed is said to be stale.
    """
    kept = kept_of(design, fabric_name)
    if kept is None:
        return None
    fabric = named(design.fabrics, fabric_name)
    return needed(fabric, kept.length, kept.choices, design.unit, is_stale=is_stale(kept, pieces, fabric))


# --------------------------------------------------------------------------------------------------------------
# in words


def show_cloth(length: float, unit: Unit) -> str:
    """A length as shops say it: `1 3/8 yd`, `0.60 m`."""
    if unit != "in":
        return f"{length / 1000.0:.2f} m"
    whole, eighths = divmod(round(length / STEP["in"]), 8)
    over, under = eighths, 8
    while over and over % 2 == 0:
        over, under = over // 2, under // 2
    parts = [str(whole)] if whole or not over else []
    return " ".join([*parts, f"{over}/{under}"] if over else parts) + " yd"


def show_price(found: Needed) -> str:
    """The price of what is to be bought, "" where it is not known."""
    return "" if found.price is None else f"{found.price:.2f} {found.fabric.currency}".strip()


def left_over(lay: Lay, found: Needed, unit: Unit) -> str:
    """The strip along the selvedge and the end of the cloth that are left, as a sentence."""
    end = found.to_buy - found.length
    parts = []
    if lay.spare >= A_STRIP:
        where = "along both selvedges" if lay.model == "folded" else "along one selvedge"
        parts.append(f"a strip {show_length(lay.spare, unit)} wide {where} over the length of the lay")
    if end >= A_STRIP:
        parts.append(
            f"{show_length(end, unit)} of the whole width at the end, which squaring and shrinking come out of"
        )
    return f"Left over: {', and '.join(parts)}." if parts else "Nothing worth keeping is left over."


# --------------------------------------------------------------------------------------------------------------
# kept in the design


def kept_of(design: Design, fabric_name: str) -> KeptLay | None:
    """The lay that a design keeps of a fabric."""
    return next((kept for kept in design.lays if kept.fabric == fabric_name), None)


def is_stale(kept: KeptLay, pieces: Sequence[Finished], fabric: Fabric) -> bool:
    """Whether what was laid is no more what would be cut."""
    return kept.pieces != pieces_digest(pieces, fabric)


def with_kept(design: Design, lay: Lay, pieces: Sequence[Finished]) -> Design:
    """The design with a lay kept, in the place of the fabric's old one."""
    placed = tuple(
        LaidPiece(piece.part.name, float(piece.x), float(piece.y), float(piece.turn), piece.mirrored, piece.locked)
        for piece in lay.laid
    )
    digest = pieces_digest(pieces, lay.fabric)
    kept = KeptLay(
        lay.fabric.name, lay.model, lay.fabric.usable_width, lay.length, min(lay.used, 1.0), digest, placed, lay.choices
    )
    others = tuple(old for old in design.lays if old.fabric != lay.fabric.name)
    return msgspec.structs.replace(design, lays=(*others, kept))


def laid_again(design: Design, kept: KeptLay, pieces: Sequence[Finished]) -> Lay:
    """The lay that a design keeps, of its pieces as they are. Refusal when they have changed, or it is not sound."""
    fabric = named(design.fabrics, kept.fabric)
    if is_stale(kept, pieces, fabric):
        raise Refusal(f"The lay of {fabric.words} is out of date: pieces have changed since; lay it out again.")
    parts = parts_for([pieces], fabric, kept.choices, model=kept.model, unit=design.unit)
    by_name = {part.name: part for part in parts}
    laid = tuple(
        Laid(by_name[placed.piece], placed.x, placed.y, placed.turn, placed.mirrored, placed.locked)
        for placed in kept.placed
        if placed.piece in by_name
    )
    lay = Lay(fabric, kept.model, kept.choices, laid)
    if not laid or faults(lay, parts):
        raise Refusal(f"The lay of {fabric.words} that the design keeps is not sound: lay it out again.")
    return lay
