"""True: straighten or smooth an edge, square a corner, or cut a dart's base as it must be once the dart is folded."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from core.errors import Refusal
from core.pieces.folding import fold_placement
from core.pieces.names import spoken, spoken_in_full
from core.pieces.records import Change, Garment, Piece
from core.pieces.truing import (
    LEAST_SQUARE,
    MOST_SQUARE,
    base_trued,
    joint_smoothed,
    paper,
    smoothed,
    squared,
    straightened,
)
from core.steps.step import Effect, Note, Step
from core.steps.trim import touched_seams
from core.units import Unit, show_length

NO_PAPER = 1e-3
"""Less paper than this (mm²) moved is none: the line was true before."""

MOST_POINTS = 5
"""A fair curve goes through few points; through more it is the old line again."""

Pressed: TypeAlias = Literal["centre", "side"]


class Straighten(msgspec.Struct, frozen=True, forbid_unknown_fields=True, tag_field="way", tag="straighten"):
    """Lay edges that follow one another counter-clockwise on the chord between their far ends."""

    edges: tuple[str, ...]

    def done(self, piece: Piece) -> Piece:
        """The piece with the edges straight."""
        if not self.edges:
            raise Refusal(f"Name the edge of piece {piece.name} to straighten.", piece=piece.name)
        return straightened(piece, self.edges)

    def words(self, unit: Unit) -> str:
        """What is done, for the step's sentence."""
        return f"straighten the {_all(*self.edges)}"


class SmoothEdge(
    msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="way", tag="smooth edge"
):
    """Draw an edge as the fair curve through a few of its points, between two shares of its length."""

    edge: str
    start: float = 0.0
    stop: float = 1.0
    points: int = 2

    def done(self, piece: Piece) -> Piece:
        """The piece with the stretch smooth."""
        if not 0.0 <= self.start < self.stop <= 1.0:
            raise Refusal(
                f"The stretch of the {spoken_in_full(self.edge)} of piece {piece.name} to smooth runs from "
                f"{self.start:g} to {self.stop:g}; give two rising shares from 0 to 1.",
                piece=piece.name,
                edge=self.edge,
            )
        if not 0 <= self.points <= MOST_POINTS:
            raise Refusal(
                f"A fair curve for the {spoken_in_full(self.edge)} of piece {piece.name} goes through 0 to "
                f"{MOST_POINTS} points inside it, not {self.points}; give fewer.",
                piece=piece.name,
                edge=self.edge,
            )
        return smoothed(piece, self.edge, (self.start, self.stop), self.points)

    def words(self, unit: Unit) -> str:
        """What is done, for the step's sentence."""
        whole = (self.start, self.stop) == (0.0, 1.0)
        return f"smooth the {_all(self.edge)}" + ("" if whole else f" from {self.start:.0%} to {self.stop:.0%}")


class SmoothJoint(
    msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="way", tag="smooth joint"
):
    """Draw the joint of two edges, the second following the first, as one fair curve over `reach` mm on both sides.

    `through` the joint it adds paper beside it, as a seam is rounded at the bust point; else it cuts the corner.
    """

    edges: tuple[str, str]
    reach: float
    through: bool = False

    def done(self, piece: Piece) -> Piece:
        """The piece with the joint smooth."""
        if self.reach <= 0.0:
            raise Refusal(
                f"A joint on piece {piece.name} is smoothed over a length; give more than 0.", piece=piece.name
            )
        return joint_smoothed(piece, self.edges, self.reach, through=self.through)

    def words(self, unit: Unit) -> str:
        """What is done, for the step's sentence."""
        over = f"the joint of the {_all(*self.edges)} over {show_length(self.reach, unit)} on both sides"
        return f"round {over}, adding paper beside it" if self.through else f"smooth {over}"


class SquareCorner(
    msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="way", tag="square"
):
    """Let an edge leave its corner with the edge `beside` it squarely, for `square` mm, and fade back over `fade`."""

    edge: str
    beside: str
    square: float = 8.0
    fade: float = 60.0

    def done(self, piece: Piece) -> Piece:
        """The piece with the corner square."""
        if not LEAST_SQUARE <= self.square <= MOST_SQUARE:
            raise Refusal(
                f"A corner of piece {piece.name} is square for {LEAST_SQUARE:.0f} to {MOST_SQUARE:.0f} mm, not "
                f"{self.square:.1f}; give a length between.",
                piece=piece.name,
                edge=self.edge,
            )
        return squared(piece, self.edge, self.beside, square=self.square, fade=self.fade)

    def words(self, unit: Unit) -> str:
        """What is done, for the step's sentence."""
        return f"square the {_all(self.edge)} to the {_all(self.beside)}"


class DartBase(
    msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True, tag_field="way", tag="dart base"
):
    """Fold a dart, press it to one side, and cut its base along the edge it lies against."""

    dart: str
    pressed: Pressed = "centre"

    def done(self, piece: Piece) -> Piece:
        """The piece with the base peaked as its cap."""
        dart = piece.dart(self.dart)
        centre = fold_placement(piece, dart)[1]
        return base_trued(piece, dart, centre if self.pressed == "centre" else 1 - centre)

    def words(self, unit: Unit) -> str:
        """What is done, for the step's sentence."""
        return f"true the base of the {spoken(self.dart)}, folded and pressed to the {self.pressed}"


Way: TypeAlias = Straighten | SmoothEdge | SmoothJoint | SquareCorner | DartBase


class Truing(Step, frozen=True, tag="true"):
    """True one edge, joint, corner or dart base of a piece; the other corners stay where they are."""

    piece: str
    way: Way

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, and every seam that its edges may be in."""
        return (garment.piece(self.piece), *garment.seams.values())

    def effect(self, garment: Garment) -> Effect:
        """The piece trued, with the paper added and taken off, and every seam whose length changes.

        Refusal when an edge cannot be redrawn so, or its outline would cross itself.
        """
        before = garment.piece(self.piece)
        after = self.way.done(before)
        added, removed = paper(before, after)
        if max(added, removed) <= NO_PAPER:
            return Effect(Change())
        changed = [
            Note("touched", f"Truing changes the seam {spoken_in_full(seam.name)} by {by:+.2f} mm.", before.name)
            for seam, by in touched_seams(garment, "", [after])
        ]
        return Effect(Change(pieces={before.name: (after,)}), (paper_note(before.name, added, removed), *changed))

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: True the front: straighten the shoulder."""
        return f"True the {self.piece}: {self.way.words(unit)}."


def _all(*edges: str) -> str:
    return " and the ".join(spoken_in_full(edge) for edge in edges)


def paper_note(piece: str, added: float, removed: float) -> Note:
    """What a step did to a piece's paper, the areas given in mm²."""
    return Note(
        "paper", f"Paper added to piece {piece}: {added / 100:.2f} cm², taken off: {removed / 100:.2f} cm².", piece
    )
