"""What is chosen for a print besides its paper and its scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec

from core.design.design import Design
from core.errors import Refusal
from core.finishing.finish import Finished
from core.outputs.layers import LAYERS, OPTIONAL, Layer

LEAST_READING, GREATEST_READING = 98.0, 102.0
"""A 100 mm square that reads less or more was scaled by a setting: that is turned off, not made up for."""

EXACT: Final = (100.0, 100.0)


class Choices(msgspec.Struct, frozen=True):
    """`pieces` are numbers or names, all of them where none is given; `without` are layers that are left out.

    `reads` is what the 100 mm square of a first print measured, across and up: the print makes up for it.
    """

    pieces: tuple[str, ...] = ()
    has_allowances: bool = True
    without: frozenset[Layer] = frozenset()
    reads: tuple[float, float] = EXACT

    def checked(self) -> Choices:
        """The same. Refusal for a reading that is no printer's own error, or a layer that cannot be left out."""
        for reading in self.reads:
            if not LEAST_READING <= reading <= GREATEST_READING:
                raise Refusal(
                    f"A square of 100 mm that reads {reading:g} was scaled by a setting of the printer: print it "
                    f"again at actual size without “fit”; only readings of {LEAST_READING:g} to {GREATEST_READING:g} "
                    "are made up for."
                )
        for layer in self.without:
            if layer not in OPTIONAL:
                known = ", ".join(name for name in LAYERS if name in OPTIONAL)
                raise Refusal(f"The layer {layer} cannot be left out of a print; these can: {known}.")
        return self

    @property
    def stretch(self) -> tuple[float, float]:
        """What lengths across and up are multiplied by, so that this printer prints them true."""
        return (EXACT[0] / self.reads[0], EXACT[1] / self.reads[1])

    @property
    def words(self) -> tuple[str, ...]:
        """What every page says of the choices."""
        said = [] if self.has_allowances else ["no seam allowance"]
        if self.reads != EXACT:
            said.append(f"corrected for a square that read {self.reads[0]:g} across, {self.reads[1]:g} up")
        return (*said, *(f"without {layer}" for layer in LAYERS if layer in self.without))


def chosen(pieces: Sequence[Finished], choices: Choices) -> tuple[Finished, ...]:
    """The pieces that are to be printed. Refusal when there is none, and for one that is not there."""
    if not pieces:
        raise Refusal("This design has no pieces to print: draft a block first.")
    for wanted in choices.pieces:
        if not any(wanted in (piece.name, str(piece.number)) for piece in pieces):
            known = ", ".join(f"{piece.number} {piece.name}" for piece in pieces)
            raise Refusal(f"There is no piece {wanted} to print; there are {known}.")
    kept = (p for p in pieces if not choices.pieces or {p.name, str(p.number)} & set(choices.pieces))
    return tuple(kept)


def without_allowances(design: Design) -> Design:
    """The design with every piece cut along its stitching lines, for those who mark allowances on the cloth."""
    fabrics = tuple(msgspec.structs.replace(fabric, allowance=0.0) for fabric in design.fabrics)
    doubled = tuple(msgspec.structs.replace(piece, allowance=0.0, trimmed=0.0) for piece in design.finishing.doubled)
    finishing = msgspec.structs.replace(design.finishing, edges=(), doubled=doubled)
    return msgspec.structs.replace(design, fabrics=fabrics, finishing=finishing)
