"""Pieces set in rows across the cloth, each by its box: the first lay, there at once, which a search has to better.

It is what an eye does: the longest pieces side by side, the next row behind them. Often no lay can be shorter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec
from msgspec.structs import replace

from core.geometry.polyline import as_points
from core.outputs.lay_parts import EXACT_FIT, Part, fitting, hands_of, rotated
from core.outputs.lay_plan import Laid, Lay


class _Row(msgspec.Struct, eq=False):
    """Pieces beside each other; only one of them can lie on the fold."""

    pieces: list[Laid] = msgspec.field(default_factory=list)

    def has_room(self, piece: Laid, lay: Lay) -> bool:
        if piece.part.on_fold and any(other.part.on_fold for other in self.pieces):
            return False
        across = sum(_across(one) for one in (*self.pieces, piece)) + lay.choices.gap * len(self.pieces)
        return across <= lay.strip + EXACT_FIT

    def set(self, start: float, gap: float) -> Iterator[Laid]:
        """The pieces from a place along the cloth on, the one on the fold first."""
        across = 0.0
        for piece in sorted(self.pieces, key=lambda one: not one.part.on_fold):
            yield piece.moved(start - piece.box[0], 0.0 if piece.part.on_fold else across - piece.box[1])
            across += _across(piece) + gap


def in_rows(bare: Lay, parts: Sequence[Part]) -> Lay:
    """The lay with all that is missing set in rows after what lies there, the longest pieces first."""
    missing = sorted((piece for part in parts for piece in _missing(part, bare)), key=_along, reverse=True)
    rows: list[_Row] = []
    for piece in missing:
        row = next((row for row in rows if row.has_room(piece, bare)), None)
        if row is None:
            rows.append(row := _Row())
        row.pieces.append(piece)
    laid, gap = list(bare.laid), bare.choices.gap
    for row in rows:
        start = max((piece.box[2] + gap for piece in laid), default=0.0)
        laid += row.set(start, gap)
    return replace(bare, laid=tuple(laid)).settled()


def set_on_fold(part: Part, *, is_mirrored: bool) -> Laid:
    """A piece with its fold on that of the cloth, at the beginning of its own frame."""
    turn = part.allowed(is_mirrored=is_mirrored)[0]
    fold = rotated(as_points(part.fold_line(is_mirrored=is_mirrored)), turn)
    return Laid(part, 0.0, -float(fold[:, 1].mean()), turn, is_mirrored)


def hands_missing(part: Part, bare: Lay) -> list[tuple[bool, int]]:
    """By hand, how many of a part do not lie there yet; where either hand will do, as drawn."""
    there = [piece.mirrored for piece in bare.laid if piece.part is part]
    if part.either:
        wanted = [(hands_of(part)[0] if part.on_fold else False, part.copies - len(there))]
    else:
        wanted = [(False, part.plain - there.count(False)), (True, part.turned_over - there.count(True))]
    return [(is_mirrored, count) for is_mirrored, count in wanted if count > 0]


def _missing(part: Part, bare: Lay) -> Iterator[Laid]:
    """Each copy that does not lie there yet."""
    for is_mirrored, count in hands_missing(part, bare):
        piece = set_on_fold(part, is_mirrored=is_mirrored) if part.on_fold else _shortest(part, is_mirrored, bare.strip)
        yield from [piece] * count


def _shortest(part: Part, is_mirrored: bool, strip: float) -> Laid:
    """A piece turned as takes least of the length."""
    turns = [turn for turn, across in fitting(part, is_mirrored=is_mirrored) if across <= strip + EXACT_FIT]
    return min((Laid(part, 0.0, 0.0, turn, is_mirrored) for turn in turns), key=_along)


def _along(piece: Laid) -> float:
    return piece.box[2] - piece.box[0]


def _across(piece: Laid) -> float:
    return piece.box[3] - (0.0 if piece.part.on_fold else piece.box[1])
