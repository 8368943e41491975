"""Fittings: what was pinned on the toile, entered where it was pinned, becomes steps.

A *pinch* is one place where the toile was pinned: cloth taken up across a seam, in a fold from an edge to where it
comes to nothing, or along a whole edge. Amounts are in mm; one below nothing was let out, or slashed and spread.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count
from typing import Final, TypeAlias

import msgspec

from core.errors import Refusal
from core.pieces.levels import SeamLevel, passed_at, seam_levels
from core.pieces.names import spoken_in_full
from core.pieces.places import Place
from core.pieces.records import Garment
from core.pieces.seams import Match, chain_points, match
from core.steps.catalogue import AnyStep
from core.steps.move_edge import MoveEdge
from core.steps.slash import SlashAndSpread
from core.steps.take_in import Level, TakeIn

RUN_OUT: Final = 40.0
"""A pinch comes to nothing over no less than this (mm); nearer to a seam's end it is carried on to the end."""

AT_LEVEL: Final = 5.0
"""A pinch nearer to a level than this (mm) was meant at the level."""


class SeamPinch(msgspec.Struct, frozen=True):
    """Cloth taken up along a seam at a level of it; `amount` is what both sides lose together, `side_a` one's share."""

    seam: str
    at: str
    amount: float
    offset: float = 0.0
    side_a: float = 0.5
    note: str = ""


class FoldPinch(msgspec.Struct, frozen=True):
    """A fold from an edge across a piece, to nothing at `hinge`, or `parallel` as wide there."""

    piece: str
    opens: Place
    hinge: Place
    amount: float
    parallel: bool = False
    note: str = ""


class EdgePinch(msgspec.Struct, frozen=True):
    """A whole edge turned back by an amount."""

    piece: str
    edge: str
    amount: float
    note: str = ""


Pinch: TypeAlias = SeamPinch | FoldPinch | EdgePinch


def corrections(garment: Garment, pinches: Sequence[Pinch], *, first: int = 1) -> tuple[AnyStep, ...]:
    """The steps that put right what was pinned, in the order in which the seams, pieces and edges were first named.

    Pinches along one seam become one step. Steps are called "fitting-1" and so on from `first`. Refusal for an unknown
    seam or one of several panels, and for a place that a seam does not pass.
    """
    numbers = count(first)
    seams: dict[str, list[SeamPinch]] = {}
    for pinch in pinches:
        if isinstance(pinch, SeamPinch):
            seams.setdefault(pinch.seam, []).append(pinch)
    steps: list[AnyStep] = []
    for pinch in pinches:
        if isinstance(pinch, SeamPinch):
            if pinch.seam in seams:
                steps.append(_seam_step(garment, seams.pop(pinch.seam), f"fitting-{next(numbers)}"))
        elif isinstance(pinch, FoldPinch):
            id_ = f"fitting-{next(numbers)}"
            places = pinch.opens, pinch.hinge
            steps.append(SlashAndSpread(id_, pinch.piece, *places, -pinch.amount, pinch.parallel, pinch.note))
        else:
            steps.append(MoveEdge(f"fitting-{next(numbers)}", pinch.piece, pinch.edge, -pinch.amount, pinch.note))
    return tuple(steps)


def level_near(found: Match, along: float) -> tuple[str, float]:
    """What to call a place along a seam (mm on side a): a level and nothing, or how far on from the nearer end."""
    levels = _levels(found)
    best = min(levels, key=lambda level: abs(level.a.along - along))
    if abs(best.a.along - along) <= AT_LEVEL:
        return best.name, 0.0
    end = levels[0] if along <= found.length_a / 2 else levels[-1]
    return end.name, along - end.a.along


def _levels(found: Match) -> tuple[SeamLevel, ...]:
    """The levels of a seam. Refusal for one that joins more than two panels."""
    levels = seam_levels(found)
    if not levels:
        raise Refusal(
            f"The seam {spoken_in_full(found.seam.name)} joins more than two panels; pin it between two of them."
        )
    return levels


def along_seam(found: Match, at: str, offset: float) -> float:
    """Where a pinch lies along side a, in mm. Refusal when the seam does not pass its level."""
    ends = {found.seam.ends[0]: 0.0, found.seam.ends[1]: found.length_a}
    start = ends.get(at)
    if start is None:
        start = passed_at(found.a[0].piece, chain_points(found.a), at) if found.a else None
    if start is None:
        raise Refusal(f"The seam {spoken_in_full(found.seam.name)} does not pass the {at}; pin it at another place.")
    return min(max(start + offset, 0.0), found.length_a)


def _seam_step(garment: Garment, pinches: Sequence[SeamPinch], id_: str) -> TakeIn:
    """One taking in through all that was pinned along a seam, to nothing beyond the first and the last of it."""
    found = match(garment, garment.seam(pinches[0].seam))
    named = _levels(found)
    pinned = sorted(((along_seam(found, p.at, p.offset), p) for p in pinches), key=lambda item: item[0])
    levels = [
        *_nothing_beyond(reversed(named), pinned[0], before=True),
        *(Level(p.at, p.amount * p.side_a, p.amount * (1.0 - p.side_a), p.offset) for _, p in pinned),
        *_nothing_beyond(iter(named), pinned[-1], before=False),
    ]
    note = "; ".join(dict.fromkeys(p.note.strip().rstrip(".") for p in pinches if p.note.strip()))
    return TakeIn(id_, pinches[0].seam, tuple(levels), taper="fade", fitting=note)


def _nothing_beyond(named: Iterator[SeamLevel], pinned: tuple[float, SeamPinch], *, before: bool) -> Iterator[Level]:
    """Where a pinch comes to nothing: the next level far enough from it; else the end, with the same amount."""
    along, pinch = pinned
    end: SeamLevel | None = None
    for level in named:
        away = along - level.a.along if before else level.a.along - along
        if away >= RUN_OUT:
            yield Level(level.name, 0.0, 0.0)
            return
        end = level if away > 1.0 else end
    if end is not None:
        yield Level(end.name, pinch.amount * pinch.side_a, pinch.amount * (1.0 - pinch.side_a))
