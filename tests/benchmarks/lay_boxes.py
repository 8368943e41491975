"""What a lay plan is measured against: the boxes of the pieces packed by general libraries, and what no lay can beat.

*Boxes* are packed freely by rectpack, every way it knows: nobody does that by eye. *Shelves* are rows of boxes, which
is what a person does by eye; greedypacker packs them, and is installed by hand. It turns boxes although it is told not
to, against the grain: such packings do not count; where all are such, boxes stand for them, the harder measure.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from importlib.util import find_spec
from itertools import product
from math import ceil
from typing import Final, TypeAlias

import numpy as np
import rectpack

from core.outputs.lay_parts import EXACT_FIT, Part, fitting, hands_of, rotated

Size: TypeAlias = tuple[float, float]
"""mm of a box along the cloth and across it."""

ALGORITHMS: Final = (
    rectpack.MaxRectsBl,
    rectpack.MaxRectsBssf,
    rectpack.SkylineBl,
    rectpack.SkylineBlWm,
    rectpack.SkylineMwf,
    rectpack.GuillotineBssfSas,
)
SORTS: Final = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI)
SHELVES: Final = ("first_fit", "next_fit", "best_width_fit", "best_height_fit", "best_area_fit", "worst_width_fit")
SHELF_SORTS: Final = ("DESCA", "DESCSS", "DESCLS", "DESCPERIM")
TENTHS: Final = 10
"""Boxes are packed in tenths of a millimetre: the libraries count in whole numbers."""


def sizes_of(parts: Sequence[Part], strip: float) -> list[Size]:
    """The box of every piece with its grain kept, in the turn that takes least along the cloth."""
    return [min(_sizes(part, strip)) for part in parts for _ in range(part.copies)]


def _sizes(part: Part, strip: float) -> list[Size]:
    hand = hands_of(part)[0]
    loop = part.loop(is_mirrored=hand)
    turns = [turn for turn, across in fitting(part, is_mirrored=hand) if across <= strip + EXACT_FIT]
    return [(float(along), float(across)) for along, across in (np.ptp(rotated(loop, turn), axis=0) for turn in turns)]


def shortest_possible(parts: Sequence[Part], strip: float) -> float:
    """mm that no lay can be shorter than: its longest piece, and the cloth of all pieces over the whole width."""
    longest = max(along for along, _ in sizes_of(parts, strip))
    return max(longest, sum(part.area * part.copies for part in parts) / strip)


def boxes(sizes: Sequence[Size], strip: float, gap: float) -> float:
    """The shortest of 24 free packings of boxes on the strip, in mm; on a fold they need not lie on it."""
    ways = (partial(_packed, pack_algo=algorithm, sort_algo=sort) for algorithm, sort in product(ALGORITHMS, SORTS))
    return min(length for way in ways if (length := way(sizes, strip, gap)) is not None)


def _packed(sizes: Sequence[Size], strip: float, gap: float, **how: object) -> float | None:
    packer = rectpack.newPacker(rotation=False, **how)
    for along, across in _with_gap(sizes, gap):
        packer.add_rect(across, along)
    packer.add_bin(int(TENTHS * (strip + gap)), _endless(sizes, gap))
    packer.pack()
    placed = packer.rect_list()
    return max(y + high for _, _, y, _, high, _ in placed) / TENTHS - gap if len(placed) == len(sizes) else None


def has_shelves() -> bool:
    """Whether the library that packs shelves is at hand."""
    return find_spec("greedypacker") is not None


def shelves(sizes: Sequence[Size], strip: float, gap: float) -> float:
    """The shortest of up to 24 packings of boxes in rows, in mm."""
    found = (_shelved(sizes, strip, gap, *how) for how in product(SHELVES, SHELF_SORTS))
    return min((length for length in found if length is not None), default=boxes(sizes, strip, gap))


def _shelved(sizes: Sequence[Size], strip: float, gap: float, fit: str, sort: str) -> float | None:
    import greedypacker  # noqa: PLC0415 - installed by hand

    packer = greedypacker.BinManager(
        int(TENTHS * (strip + gap)),
        _endless(sizes, gap),
        pack_algo="shelf",
        heuristic=fit,
        rotation=False,
        wastemap=False,
        sorting_heuristic=sort,
    )
    packer.add_items(*(greedypacker.Item(across, along) for along, across in _with_gap(sizes, gap)))
    packer.execute()
    (sheet,) = packer.bins
    assert len(sheet.items) == len(sizes)
    if any(item.rotated for item in sheet.items):
        return None
    return float(max(item.y + item.height for item in sheet.items)) / TENTHS - gap


def _with_gap(sizes: Sequence[Size], gap: float) -> list[tuple[int, int]]:
    return [(ceil(TENTHS * (along + gap)), ceil(TENTHS * (across + gap))) for along, across in sizes]


def _endless(sizes: Sequence[Size], gap: float) -> int:
    return sum(along for along, _ in _with_gap(sizes, gap))
