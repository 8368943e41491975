"""Move edge: an edge set farther out or in, parallel to itself."""

from __future__ import annotations

from core.errors import Refusal
from core.pieces.moving import moved_edge
from core.pieces.names import spoken_in_full
from core.pieces.records import Change, Garment
from core.pieces.truing import paper
from core.steps.step import Effect, Note, Step, fitted
from core.steps.trim import touched_seams
from core.steps.true import paper_note
from core.units import Unit, show_length

FARTHEST = 600.0
"""An edge moved farther than this (mm) is taken for a slip of the pen."""


class MoveEdge(Step, frozen=True, tag="move edge"):
    """Move an edge parallel to itself by an amount in mm, outwards or (negative) inwards.

    The edges beside it are run on or cut off along themselves, and keep their places: 3 in from the shoulder stays 3 in
    from the shoulder. `fitting` keeps what was said when it was pinned on the toile; None, it was not.
    """

    piece: str
    edge: str
    amount: float
    fitting: str | None = None

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, and every seam that its edges may be in."""
        return (garment.piece(self.piece), *garment.seams.values())

    def effect(self, garment: Garment) -> Effect:
        """The piece with the edge moved, the paper added or taken off, and every seam whose length changes.

        Refusal for a fold, a dart's base, an edge that ends at an open dart, and an amount that leaves no piece.
        """
        before = garment.piece(self.piece)
        before.edge(self.edge)
        if not abs(self.amount) <= FARTHEST:
            raise Refusal(
                f"The {spoken_in_full(self.edge)} of piece {self.piece} cannot be moved by {self.amount:.0f} mm; give "
                f"up to {FARTHEST:.0f} mm.",
                piece=self.piece,
                edge=self.edge,
            )
        if self.amount == 0.0:
            return Effect(Change())
        after = moved_edge(before, self.edge, self.amount)
        touched = [
            Note("touched", f"Moving it changes the seam {spoken_in_full(seam.name)} by {by:+.2f} mm.", after.name)
            for seam, by in touched_seams(garment, "", [after])
        ]
        notes = (paper_note(before.name, *paper(before, after)), *touched)
        return Effect(Change(pieces={before.name: (after,)}), notes)

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Move the waist of the back 1 in outwards."""
        which = "outwards" if self.amount >= 0.0 else "inwards"
        size = show_length(abs(self.amount), unit)
        return fitted(f"Move the {spoken_in_full(self.edge)} of the {self.piece} {size} {which}.", self.fitting)
