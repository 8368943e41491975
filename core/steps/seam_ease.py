"""Ease on a seam: one side is wanted longer than the other, or, cut from stretch cloth, shorter."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace

from core.errors import Refusal
from core.pieces.names import spoken_in_full
from core.pieces.records import Change, Garment
from core.pieces.seams import match
from core.steps.step import Effect, Note, Step
from core.units import Unit, show_length

MOST: Final = 0.25
"""Share of a seam: what is eased or stretched by more would pucker or tear in any cloth (common practice)."""


class SeamEase(Step, frozen=True, tag="ease"):
    """Write on a seam how much longer (mm) side a is wanted than side b; less than nothing means that it is stretched.

    The pieces stay as they are; the seam's difference is counted from the ease.
    """

    seam: str
    ease: float

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The seam, and the pieces that it joins for their lengths."""
        seam = garment.seam(self.seam)
        return (seam, *(garment.pieces[name] for name in match(garment, seam).pieces))

    def effect(self, garment: Garment) -> Effect:
        """The seam with its ease, and a note of how long both sides are.

        Refusal for more than a quarter of the seam, which no cloth eases in or stretches to.
        """
        seam = garment.seam(self.seam)
        found = match(garment, seam)
        shorter = min(found.length_a, found.length_b)
        if not abs(self.ease) <= MOST * shorter:
            raise Refusal(
                f"The seam {spoken_in_full(self.seam)} is {shorter:.0f} mm long and cannot take {self.ease:.0f} mm of "
                f"ease; write at most {MOST * shorter:.0f} mm."
            )
        words = spoken_in_full(self.seam)
        note = Note("mismatch", f"The seam {words} is sewn {found.length_a:.1f} mm to {found.length_b:.1f} mm.")
        return Effect(Change(seams={seam.name: replace(seam, ease=self.ease)}), (note,))

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Stretch the yoke by 1/4 in into the seam front sheer line."""
        found = match(garment, garment.seam(self.seam))
        sides = [chain[0].piece.name if chain else "nothing" for chain in (found.a, found.b)]
        words, amount = spoken_in_full(self.seam), show_length(abs(self.ease), unit)
        if self.ease < 0.0:
            return f"Stretch the {sides[0]} by {amount} onto the {sides[1]} in the seam {words}."
        if self.ease > 0.0:
            return f"Ease the {sides[0]} by {amount} into the {sides[1]} in the seam {words}."
        return f"Sew the seam {words} without ease."
