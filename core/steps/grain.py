"""Turn grain: lay a piece's grain another way, by an angle or along one of its edges. The outline stays as it is."""

from __future__ import annotations

from math import cos, pi, radians, sin
from typing import Final

import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.pieces.names import spoken
from core.pieces.records import Change, Garment, Piece
from core.pieces.straight_grain import edge_lie, grain_between_ends, other_half, turn_between
from core.steps.step import Effect, Note, Step
from core.units import Unit, show_angle

ALONG_FOLD: Final = radians(0.05)
"""A fold lies along or across the grain within this, or the cloth cannot be folded there without twisting."""


class TurnGrain(Step, frozen=True, tag="turn grain"):
    """Turn the grain of a piece by `degrees`, anti-clockwise seen face up.

    Where `edge` is given, turn it until the two ends of that edge lie parallel to the selvedge: so laid, a sheer or
    bust edge does not bubble when it is sewn (common practice, no source); `degrees` then turn it farther. Where the
    other half is a piece of its own it is turned the other way, so that left and right stay alike.
    """

    piece: str
    degrees: float = 0.0
    edge: str = ""

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, and its other half where that is drawn out."""
        return (garment.piece(self.piece), other_half(garment, self.piece))

    def effect(self, garment: Garment) -> Effect:
        """The piece on its new grain, every edge as it was.

        Refusal when there is no such piece or edge, when the angle is more than a right angle, or when a piece on the
        fold would be laid askew.
        """
        piece = garment.piece(self.piece)
        turn = self.turn(piece)
        turned = replace(piece, grain=(piece.grain + turn) % pi)
        self._refuse_fold(turned)
        pieces = {piece.name: (turned,)}
        other = other_half(garment, self.piece)
        if other is not None:
            pieces[other.name] = (replace(other, grain=(other.grain - turn) % pi),)
        return Effect(Change(pieces=pieces), self._notes(turned, other))

    def turn(self, piece: Piece) -> float:
        """How far the piece's grain is turned, in radians, anti-clockwise."""
        if not -90.0 <= self.degrees <= 90.0:
            raise Refusal(
                f"The grain of the {self.piece} cannot be turned {self.degrees:.0f} degrees; give up to 90 either way.",
                piece=self.piece,
            )
        laid = turn_between(piece.grain, grain_between_ends(piece.edge(self.edge))) if self.edge else 0.0
        return laid + radians(self.degrees)

    def _refuse_fold(self, turned: Piece) -> None:
        for edge in turned.edges:
            if edge.kind != "fold":
                continue
            off = abs(turn_between(turned.grain, grain_between_ends(edge)))
            if min(off, abs(pi / 2 - off)) > ALONG_FOLD:
                raise Refusal(
                    f"Piece {turned.name} is cut on the fold, so its grain must lie along the fold or across it; "
                    f"unfold it first to turn its grain.",
                    piece=turned.name,
                    edge=edge.name,
                )

    def _notes(self, turned: Piece, other: Piece | None) -> tuple[Note, ...]:
        notes = []
        if self.edge:
            lie = edge_lie(turned.edge(self.edge), turned.grain)
            if lie.most > 20.0:
                notes.append(
                    Note(
                        "residual",
                        f"The {spoken(self.edge)} of the {self.piece} curves: it lies up to {lie.most:.0f} degrees off "
                        f"the grain between its ends.",
                        self.piece,
                        self.edge,
                    )
                )
        if other is not None:
            notes.append(Note("touched", f"The grain of the {other.name} is turned the other way.", other.name))
        return tuple(notes)

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Lay the sheer line of the side front along the grain: the grain turns by 12.6 degrees."""
        turn = show_angle(abs(self.turn(garment.piece(self.piece))))
        way = "to the left" if self.turn(garment.piece(self.piece)) >= 0.0 else "to the right"
        if self.edge:
            past = f", and {show_angle(abs(radians(self.degrees)))} past it" if self.degrees else ""
            return f"Lay the {spoken(self.edge)} of the {self.piece} along the grain{past}, which turns {turn} {way}."
        return f"Turn the grain of the {self.piece} {turn} {way}."


def grain_way(grain: float) -> tuple[float, float]:
    """A grain as a unit vector that points up, or to the right where it lies level."""
    way = np.array((cos(grain), sin(grain)))
    x, y = (-way if way[1] < -1e-12 or (abs(way[1]) <= 1e-12 and way[0] < 0) else way).tolist()
    return (x, y)
