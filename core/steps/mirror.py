"""Mirror: pieces turned to their mirror image, so that what was worn on the left is worn on the right."""

from __future__ import annotations

from core.errors import Refusal
from core.pieces.mirroring import mirrored_piece
from core.pieces.names import all_of, is_right, spoken_in_full
from core.pieces.records import Change, Garment
from core.pieces.seams import matches
from core.steps.step import Effect, Note, Step
from core.units import Unit


class Mirror(Step, frozen=True, tag="mirror"):
    """Mirror pieces in the centre line, all that are sewn to each other together; names go with the cloth."""

    pieces: tuple[str, ...]

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The pieces, all seams, and the names of the pieces that they join."""
        return (*map(garment.piece, self.pieces), *garment.seams.values(), *garment.pieces)

    def effect(self, garment: Garment) -> Effect:
        """The pieces' mirror images; mirrored again they are as they were.

        Refusal when no piece is named, or when a seam joins one to a piece that is not: edges that are sewn together
        run opposite ways, and would then run the same way.
        """
        if not self.pieces:
            raise Refusal("Name a piece to mirror.")
        pieces = [garment.piece(name) for name in dict.fromkeys(self.pieces)]
        for found in matches(garment):
            others = set(found.pieces) - set(self.pieces)
            if others and others != set(found.pieces):
                raise Refusal(
                    f"The seam {spoken_in_full(found.seam.name)} joins piece {min(others)} to one that is "
                    f"mirrored; mirror them together.",
                    piece=min(others),
                )
        now = [mirrored_piece(piece) for piece in pieces]
        notes = [
            Note("named", f"What piece {piece.name} calls its right half is worn on the left now.", piece.name)
            for piece in now
            if any(is_right(edge.name) for edge in piece.edges)
        ]
        return Effect(Change(pieces={piece.name: (piece,) for piece in now}), tuple(notes))

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Mirror the yoke and the right side front."""
        return f"Mirror {all_of(self.pieces)}."
