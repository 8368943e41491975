"""Pieces as they lie on the table: each as it is shown, its darts folded or open, with its turn and its shift."""

from __future__ import annotations

import msgspec

from core.errors import Refusal
from core.geometry.placement import Placement
from core.geometry.polyline import Point, Points
from core.pieces.fold_lines import FoldLine, fold_lines
from core.pieces.folded_piece import with_folded
from core.pieces.records import Piece


class Laid(msgspec.Struct, frozen=True, eq=False):
    """A piece on the table. `piece` is the flat one, `shown` the one with the darts in `folded` shut.

    `place` lays the shown piece on the table: a turn and a shift that belong to the table and not to the design.

    `asked` are the darts that were to be folded, some of which it may not have. `folds` is where those in `folded` lie
    shut on the shown piece.
    """

    piece: Piece
    shown: Piece
    place: Placement
    folded: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    folds: tuple[FoldLine, ...] = ()

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.piece.name

    def to_table(self, place: Point) -> Point:
        """A place of the shown piece on the table."""
        return self.place.point(place)

    def to_piece(self, place: Point) -> Point:
        """A place on the table in the frame of the shown piece."""
        return self.place.inverse().point(place)

    def on_table(self, path: Points) -> Points:
        """A polyline (N, 2) of the shown piece as it lies on the table."""
        return self.place.points(path)

    def way_on_piece(self, dx: float, dy: float) -> Point:
        """A way on the table, as an arrow key goes it, in the directions of the piece."""
        return Placement(-self.place.angle).point((dx, dy))


def laid(piece: Piece, place: Placement, folded: tuple[str, ...] = ()) -> Laid:
    """The piece at a place with its darts folded as far as it has them; one that cannot be folded stays open."""
    shown: Piece = piece
    done: tuple[str, ...] = ()
    for name in folded:
        try:
            shown = with_folded(piece, (*done, name))
        except Refusal:
            continue
        done = (*done, name)
    return Laid(piece, shown, place, done, folded, fold_lines(piece, shown, done))
