"""Notches along an opening where the cup behind it has its marks: apex line, centre front side, side, lowest point."""

from __future__ import annotations

from collections.abc import Sequence

from core.design.design import Design
from core.errors import Refusal
from core.finishing.notches import FROM_CORNER, Notch
from core.pieces.cup_cover import Mark, marks_of
from core.pieces.mirroring import prefixed
from core.pieces.names import RIGHT
from core.pieces.records import Garment
from core.pieces.seams import Link, chain_length, links, on_chain
from core.steps.cup import Cup


def cup_notches(design: Design, garment: Garment) -> dict[str, tuple[Notch, ...]]:
    """The notches of every cup's marks on both sides of its opening, by the piece's name (trade.md E).

    On a side that was taken in, what lies before the apex line is counted from the seam's first end, the rest from its
    last. Where the right half is drawn out, its opening has the same marks.
    """
    found: dict[str, list[Notch]] = {}
    for step in design.done_steps:
        if isinstance(step, Cup):
            for piece, notch in _of_cup(step, garment):
                if notch not in found.setdefault(piece, []):
                    found[piece].append(notch)
    return {piece: tuple(notches) for piece, notches in found.items()}


def _of_cup(step: Cup, garment: Garment) -> list[tuple[str, Notch]]:
    try:
        plan = step.plan(garment)
    except Refusal:  # a cup that cannot be drafted is said among the steps, and has no marks
        return []
    if plan.opening is None or plan.cover is None:
        return []
    marks, line = marks_of(plan.cover, plan.shape), plan.opening.line
    seams = [garment.seams[name] for name in (line, prefixed(line, RIGHT)) if name in garment.seams]
    sides = [links(garment, chain) for seam in seams for chain in (seam.a, seam.b)]
    return [placed for side in sides if side for placed in _on_side(side, marks, plan.opening.length)]


def _on_side(side: Sequence[Link], marks: Sequence[Mark], whole: float) -> list[tuple[str, Notch]]:
    """The notches on one side of the seam; `whole` is the length (mm) along which the marks are counted."""
    taken_in = whole - chain_length(tuple(side))
    apex = next((mark.along for mark in marks if mark.name == "apex line"), whole)
    found = []
    for mark in marks:
        along = mark.along if mark.along < apex else mark.along - (taken_in if mark.along > apex else taken_in / 2)
        placed = _notch(side, along)
        if placed is not None:
            found.append(placed)
    return found


def _notch(side: Sequence[Link], along: float) -> tuple[str, Notch] | None:
    link, here = on_chain(side, along)
    if not FROM_CORNER <= here <= link.edge.length - FROM_CORNER:
        return None
    return link.piece.name, Notch(link.edge.name, link.on_edge(here))
