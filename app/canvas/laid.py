"""Pieces as they lie on the table: each as it is shown, with its dart folded or open, and its shift."""

from __future__ import annotations

from dataclasses import dataclass

from core.errors import Refusal
from core.geometry.polyline import Point
from core.pieces.folded_piece import with_folded
from core.pieces.records import Piece


@dataclass(frozen=True, eq=False, slots=True)
class Laid:
    """A piece on the table. `piece` is the flat one, `shown` the one with the darts in `folded` shut, `place` in mm.

    `asked` are the darts that were to be folded, some of which it may not have.
    """

    piece: Piece
    shown: Piece
    place: Point
    folded: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.piece.name

    def to_table(self, place: Point) -> Point:
        """A place of the shown piece on the table."""
        return (place[0] + self.place[0], place[1] + self.place[1])

    def to_piece(self, place: Point) -> Point:
        """A place on the table in the frame of the shown piece."""
        return (place[0] - self.place[0], place[1] - self.place[1])


def laid(piece: Piece, place: Point, folded: tuple[str, ...] = ()) -> Laid:
    """The piece at a place with its darts folded as far as it has them; open where one cannot be folded."""
    names = tuple(name for name in folded if any(dart.name == name for dart in piece.darts))
    try:
        return Laid(piece, with_folded(piece, names), place, names, folded)
    except Refusal:
        return Laid(piece, piece, place, (), folded)
