"""The picture of a lay: cloth, selvedges, fold, and every piece with its number, its hand and its grain.

Drawn at full size in the lay's frame; `scale` is that of the paper, for which texts and arrows are sized.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, hypot, pi
from typing import Final

import numpy as np
from msgspec.structs import replace

from core.geometry.placement import reflected
from core.geometry.planar import roomiest
from core.geometry.polyline import Points, as_points
from core.outputs.drawing import GLYPH_WIDTH, Drawing, Item, Stroke, Text
from core.outputs.edge_words import arrow_head
from core.outputs.lay_amounts import Needed, show_cloth
from core.outputs.lay_plan import Laid, Lay
from core.outputs.piece_drawing import piece_lines
from core.outputs.sheet import letters
from core.units import Unit, show_length

NUMBER: Final = 5.0
SMALLEST_NUMBER: Final = 1.6
WORDS: Final = 2.4
"""Sizes in mm on paper of a piece's number and of words beside the cloth."""

NUMBER_SHARE: Final = 0.75
"""A number takes this share of the roomiest place of its piece."""

ASIDE: Final = 3.0
"""mm on paper that words stand off the cloth."""

ARROW: Final = 2.0
"""Size in mm on paper of an arrow's head."""


def hand_words(piece: Laid, *, has_many: bool) -> str:
    """What is written on a piece: its number, after the letter of its design where there are many, and its hand.

    As drawn a piece of a pair is the wearer's left, mirrored her right; cut through both plies it is both.
    """
    part = piece.part
    number = f"{letters(part.owner) if has_many else ''}{part.finished.number}"
    if part.finished.piece.cut != "pair" or part.either:
        return number
    return f"{number} {'R' if piece.mirrored else 'L'}"


def lay_drawing(lay: Lay, found: Needed, unit: Unit, *, scale: float, has_many: bool) -> Drawing:
    """Cloth, pieces and measures; where designs were laid together, every piece says whose it is."""
    pieces = (item for piece in lay.laid for item in _piece(piece, scale, has_many=has_many))
    return Drawing((*_cloth(lay, found), *pieces, *_measures(lay, found, unit, scale)))


def _cloth(lay: Lay, found: Needed) -> Iterator[Item]:
    end = found.to_buy
    yield Stroke(as_points(((0.0, 0.0), (end, 0.0))), "fold" if lay.model == "folded" else "map line")
    yield Stroke(as_points(((0.0, lay.strip), (end, lay.strip))), "map line")
    for x in (0.0, end):
        yield Stroke(as_points(((x, 0.0), (x, lay.strip))), "map line")
    yield Stroke(as_points(((lay.length, 0.0), (lay.length, lay.strip))), "trim line")


def _piece(piece: Laid, scale: float, *, has_many: bool) -> Iterator[Item]:
    yield Stroke(piece.loop, "cutting line", closed=True)
    if piece.part.on_fold:
        ends = piece.part.fold_line(is_mirrored=piece.mirrored)
        yield Stroke(piece.placement.points(as_points(ends)), "fold")
    yield from (Stroke(line, "grain") for line in grain_arrow(piece, ARROW / scale))
    yield _label(piece, grain_on_cloth(piece), scale, hand_words(piece, has_many=has_many))


def grain_on_cloth(piece: Laid) -> Points:
    """The ends (2, 2) of a piece's grain line where it lies."""
    line = as_points(np.array(piece.part.finished.grain) * ((-1.0 if piece.mirrored else 1.0), 1.0))
    return piece.placement.points(line)


def grain_arrow(piece: Laid, size: float) -> tuple[Points, ...]:
    """A piece's grain line where it lies, with a head at the top of the piece, and one at its foot where it may turn.

    `size` is that of the heads in mm.
    """
    line = grain_on_cloth(piece)
    (ax, ay), (bx, by) = line.tolist()
    way = atan2(by - ay, bx - ax)
    top = arrow_head((bx, by), way, size, "grain").points
    if piece.part.turns == (0.0,):
        return (line, top)
    return (line, top, arrow_head((ax, ay), way + pi, size, "grain").points)


def _label(piece: Laid, grain: Points, scale: float, words: str) -> Text:
    """The number where the piece has most room beside its grain line, upright."""
    (x, y), room = roomiest(piece.loop, lines=[grain], clear=0.5 / scale)
    fitting = 2.0 * NUMBER_SHARE * room / hypot(GLYPH_WIDTH * len(words), 1.0)
    size = max(min(NUMBER / scale, fitting), SMALLEST_NUMBER / scale)
    return Text((x, y - 0.36 * size), size, words, "label")


def _measures(lay: Lay, found: Needed, unit: Unit, scale: float) -> Iterator[Text]:
    """What the sides of the cloth are, and how long and wide."""
    size, aside = WORDS / scale, ASIDE / scale
    below = "fold of the cloth" if lay.model == "folded" else "selvedge"
    above = "both selvedges" if lay.model == "folded" else "selvedge"
    taken = f"pieces take {show_length(lay.length, unit)}"
    bought = f"buy {show_cloth(found.to_buy, unit)}"
    yield from _two_words((below, taken), lay.length, -aside - size, size)
    yield from _two_words((above, bought), found.to_buy, lay.strip + aside, size)
    wide = f"{show_length(lay.strip, unit)} {'from the fold' if lay.model == 'folded' else 'between the selvedges'}"
    yield Text((-aside, lay.strip / 2.0), size, wide, "words", angle=pi / 2)


def _two_words(words: tuple[str, str], end: float, up: float, size: float) -> Iterator[Text]:
    """Words that begin at x = 0, and words that end at a place, or later where there is no room between."""
    first = Text((0.0, up), size, words[0], "words", anchor="start")
    last = Text((end, up), size, words[1], "words", anchor="end")
    room = first.width + 2.0 * size
    yield first
    yield last if end - last.width >= room else replace(last, at=(room, up), anchor="start")


# --------------------------------------------------------------------------------------------------------------
# the marker, at full size


def marker_drawing(lay: Lay, found: Needed, unit: Unit, *, has_many: bool) -> Drawing:
    """The lay at full size with all lines of the pieces, to be cut along or pricked through."""
    items: list[Item] = [*_cloth(lay, found), *_measures(lay, found, unit, MARKER_WORDS)]
    for piece in lay.laid:
        lines = piece_lines(piece.part.finished)
        items += _reflected(lines, piece, is_image=piece.mirrored)
        if piece.part.finished.piece.cut == "fold" and not piece.part.on_fold:
            items += _other_half(lines, piece)
        words = f"{hand_words(piece, has_many=has_many)}  {piece.part.name}"
        items.append(_label(piece, grain_on_cloth(piece), MARKER_LABEL, words))
    return Drawing(tuple(items))


MARKER_WORDS: Final = 0.4
MARKER_LABEL: Final = 0.5
"""On a marker words are larger by this: it is read from a table's length away."""


def _reflected(lines: Drawing, piece: Laid, *, is_image: bool) -> Iterator[Stroke]:
    """A piece's lines where it lies; its texts would read backwards on a mirrored one, and are left to the label."""
    sign = np.array((-1.0 if is_image else 1.0, 1.0))
    for stroke in lines.strokes():
        # On open cloth a piece's fold is its centre line, and nothing to fold.
        role = "mark" if stroke.role == "fold" and not piece.part.on_fold else stroke.role
        yield Stroke(piece.placement.points(as_points(stroke.points * sign)), role, stroke.closed)


def _other_half(lines: Drawing, piece: Laid) -> Iterator[Stroke]:
    """The lines of a piece's other half over its fold."""
    fold = piece.part.fold_line(is_mirrored=piece.mirrored)
    sign = np.array((-1.0 if piece.mirrored else 1.0, 1.0))
    for stroke in lines.strokes():
        if stroke.role not in {"grain", "fold"}:
            image = reflected(as_points(stroke.points * sign), *fold)
            yield Stroke(piece.placement.points(image), stroke.role, stroke.closed)
