"""Pieces set side by side along the fold of the cloth, in several orders and ways round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import Final, TypeAlias

from core.geometry.polyline import as_points
from core.outputs.lay_parts import Part, hands_of, rotated
from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_proof import clear_of

Row: TypeAlias = tuple[tuple[Part, bool], ...]
"""Parts in order along the fold, and whether each lies there mirrored."""

MOST: Final = 6
"""So many ways to set the pieces are tried at most: more leave each too little time."""

DRAWS: Final = 60
"""So many random rows are looked at for different ones; always the same, so that a lay can be had again."""

SLIDE: Final = (64.0, 16.0, 4.0, 1.0, 0.25)
"""mm by which a piece is slid along the fold towards its neighbour, as often as there is room, in turn."""


@dataclass(frozen=True, eq=False, slots=True)
class Start:
    """What lies on the cloth before the rest is packed, and at which end the bar that holds it is."""

    lay: Lay
    bar_last: bool = False


def starts(bare: Lay, parts: Sequence[Part]) -> tuple[Start, ...]:
    """Different ways to set along the fold what belongs there and does not lie there yet; one where nothing does.

    The bar is at one end or the other where pieces lie one way; elsewhere turning all round comes to the same.
    """
    missing = [part for part in parts if part.on_fold for _ in range(_missing(part, bare))]
    if not missing:
        return (Start(bare),)
    ends = (False, True) if bare.choices.grain == "one way" else (False,)
    rows = _rows(missing, MOST // len(ends))
    return tuple(Start(_along_fold(bare, row), bar_last) for row in rows for bar_last in ends)


def _missing(part: Part, bare: Lay) -> int:
    return part.copies - sum(piece.part is part for piece in bare.laid)


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
        turn = part.allowed(is_mirrored=is_mirrored)[0]
        fold = rotated(as_points(part.fold_line(is_mirrored=is_mirrored)), turn)
        piece = Laid(part, 0.0, -float(fold[:, 1].mean()), turn, is_mirrored)
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
