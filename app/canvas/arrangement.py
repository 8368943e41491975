"""How a table was left: what a hand laid apart or together, and which darts are folded shut. No part of the design."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import msgspec

from app.canvas.pairs import Pair
from core.geometry.polyline import Point
from core.pieces.records import Garment

FARTHEST: Final = 100_000.0
"""mm: nothing was laid farther off by a hand."""


class Arrangement(msgspec.Struct, frozen=True):
    """`apart`: how far each piece was moved; `pairs`: what lies together; `folded`: the darts that lie shut by piece.

    `opens_again`: what is folded on a piece once it lies together with no other.
    """

    apart: Mapping[str, Point] = msgspec.field(default_factory=dict)
    pairs: tuple[Pair, ...] = ()
    folded: Mapping[str, tuple[str, ...]] = msgspec.field(default_factory=dict)
    opens_again: Mapping[str, tuple[str, ...]] = msgspec.field(default_factory=dict)

    def of(self, garment: Garment) -> Arrangement:
        """What of it is about pieces and seams that a garment has."""
        return Arrangement(
            {name: shift for name, shift in self.apart.items() if name in garment.pieces and shift != (0.0, 0.0)},
            tuple(pair for pair in self.pairs if pair.seam in garment.seams),
            {name: darts for name, darts in self.folded.items() if name in garment.pieces and darts},
            {name: darts for name, darts in self.opens_again.items() if name in garment.pieces},
        )


IN_ORDER: Final = Arrangement()
"""Everything where the table lays it, and open."""


def written(arrangement: Arrangement) -> str:
    """The arrangement as text; "" where everything lies in order."""
    return "" if arrangement == IN_ORDER else msgspec.json.encode(arrangement).decode()


def read(text: str) -> Arrangement:
    """The arrangement in a text; everything in order where it makes no sense, for it is worth no refusal."""
    try:
        found = msgspec.json.decode(text, type=Arrangement)
    except msgspec.MsgspecError:
        return IN_ORDER
    makes_sense = all(abs(way) <= FARTHEST for shift in found.apart.values() for way in shift) and all(
        pair.end in (0, 1) and 0.0 <= pair.along <= FARTHEST for pair in found.pairs
    )
    return found if makes_sense else IN_ORDER
