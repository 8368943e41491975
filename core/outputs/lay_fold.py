"""The different ways in which a search begins: in what order pieces lie along the fold, and which lie turned over.

The engine moves and turns pieces, but it holds none in its place and turns none over: that is tried from outside.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Final, TypeAlias

import msgspec
from msgspec.structs import replace

from core.outputs.lay_parts import Part, hands_of
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_proof import clear_of
from core.outputs.lay_rows import hands_missing, set_on_fold

Row: TypeAlias = tuple[tuple[Part, bool], ...]
"""Parts in order along the fold, and whether each lies there mirrored."""

MOST: Final = 6
"""So many ways to set the pieces are tried at most: more leave each too little time."""

FOR_HANDS: Final = 3
"""As many where only which pieces lie turned over differs."""

DRAWS: Final = 60
"""So many random rows are looked at for different ones; always the same, so that a lay can be had again."""

SLIDE: Final = (64.0, 16.0, 4.0, 1.0, 0.25)
"""mm by which a piece is slid along the fold towards its neighbour, as often as there is room, in turn."""


class Start(msgspec.Struct, frozen=True, eq=False):
    """What lies on the cloth before the rest is packed, and at which end the bar that holds it is.

    `over` says of each part how many of those that are missing and may lie either way up are laid turned over.
    """

    lay: Lay
    over: tuple[int, ...]
    bar_last: bool = False


def starts(bare: Lay, parts: Sequence[Part]) -> tuple[Start, ...]:
    """Different ways to begin; one where there is nothing to choose.

    The bar is at one end or the other where pieces lie one way; elsewhere turning all round comes to the same.
    """
    on_fold = [part for part in parts if part.on_fold for _ in range(_count(part, bare))]
    ends = (False, True) if on_fold and bare.choices.grain == "one way" else (False,)
    rows = _rows(on_fold, MOST // len(ends))
    may_turn = [0 if _looks_alike(part) else _count(part, bare) for part in parts]
    ways = _ways(len(rows), may_turn)[: min(MOST // len(ends), max(len(rows), FOR_HANDS))]
    return tuple(Start(_along_fold(bare, rows[row]), over, bar_last) for row, over in ways for bar_last in ends)


def _ways(rows: int, may_turn: Sequence[int]) -> list[tuple[int, tuple[int, ...]]]:
    """Every row in turn, with some pieces turned over in all but the first."""
    random = Random(2)  # noqa: S311 - for variety, not for secrets
    drawn = [(draw % rows, tuple(random.randint(0, count) for count in may_turn)) for draw in range(1, DRAWS)]
    return list(dict.fromkeys([(0, (0,) * len(may_turn)), *drawn]))


def _looks_alike(part: Part) -> bool:
    """Whether turning a part over is not free, changes nothing, or is what the row along the fold tries."""
    return not part.either or part.finished.piece.cut == "fold"


def _count(part: Part, bare: Lay) -> int:
    return sum(count for _, count in hands_missing(part, bare))


def _rows(parts: Sequence[Part], most: int) -> list[Row]:
    """Some rows that differ, the largest piece first in the first of them."""
    random = Random(1)  # noqa: S311 - for variety, not for secrets
    ordered = sorted(parts, key=lambda part: -part.area)
    found = {_key(row): row for row in [tuple((part, hands_of(part)[0]) for part in ordered)]}
    for _ in range(DRAWS):
        random.shuffle(ordered)
        row = tuple((part, random.choice(hands_of(part))) for part in ordered)
        if len(found) < most:
            found.setdefault(_key(row), row)
    return list(found.values())


def _key(row: Row) -> tuple[tuple[int, bool], ...]:
    return tuple((id(part), hand) for part, hand in row)


def _along_fold(bare: Lay, row: Row) -> Lay:
    """The lay with pieces set along the fold after what lies there, each slid up to the one before."""
    laid = list(bare.laid)
    for part, is_mirrored in row:
        piece = set_on_fold(part, is_mirrored=is_mirrored)
        start = max((other.box[2] for other in laid), default=0.0)
        piece = piece.moved(start + bare.choices.gap - piece.box[0], 0.0)
        laid.append(_slid(piece, laid, bare.choices.gap))
    return replace(bare, laid=tuple(laid))


def _slid(piece: Laid, others: Sequence[Laid], gap: float) -> Laid:
    """The piece moved along the fold as far as the one before lets it."""
    for step in SLIDE if others else ():
        while _has_room(nearer := piece.moved(-step, 0.0), others, gap):
            piece = nearer
    return piece


def _has_room(piece: Laid, others: Sequence[Laid], gap: float) -> bool:
    """Whether the gap is kept to all others, and the piece has not passed the last of them."""
    if piece.box[0] <= max(other.box[0] for other in others):
        return False
    return all(clear_of(piece, other) >= gap for other in others)
