"""Set back: where sewing a dart ends, short of its pivot, so that its end does not poke over the fullness."""

from __future__ import annotations

from math import atan2, degrees

import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import angle_between, gap
from core.geometry.tolerances import SAME_POINT
from core.pieces.names import is_right, spoken
from core.pieces.outline import local_name
from core.pieces.records import Change, Dart, Garment, Piece
from core.pieces.turning import on_centre_line
from core.steps.step import Effect, Note, Step
from core.units import Unit, show_length

ALONE, SHARED = 12.7, 25.4
"""A dart ends 1/2 in (mm) from its pivot, two at one pivot 1 in each (trade.md C2, from memory of a textbook)."""


class SetBack(Step, frozen=True, tag="set back"):
    """End the sewing of a dart at a distance (mm) from its pivot, on its centre line; the leg ends stay.

    None takes 1/2 in for a dart alone at its pivot and 1 in where two share it.
    """

    piece: str
    dart: str
    distance: float | None = None

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece."""
        return (garment.piece(self.piece),)

    def effect(self, garment: Garment) -> Effect:
        """The piece with the dart's sewn point moved, and by how much that changes the angle that is sewn.

        Refusal for a distance beyond the bust circle or the dart's base, and for a base that was trued already.
        """
        piece = garment.piece(self.piece)
        dart = piece.dart(self.dart)
        distance = self._distance(piece, dart)
        self._refuse(piece, dart, distance)
        point = on_centre_line(dart.pivot, dart.legs, distance)
        if gap(point, dart.point) <= SAME_POINT:
            return Effect(Change())
        now = replace(dart, point=point)
        darts = tuple(now if other is dart else other for other in piece.darts)
        return Effect(Change(pieces={piece.name: (replace(piece, darts=darts),)}), (_angle_note(piece, now),))

    def _distance(self, piece: Piece, dart: Dart) -> float:
        if self.distance is not None:
            return self.distance
        at_pivot = [other for other in piece.darts if gap(other.pivot, dart.pivot) <= SAME_POINT]
        return ALONE if len(at_pivot) == 1 else SHARED

    def _refuse(self, piece: Piece, dart: Dart, distance: float) -> None:
        named = f"the {spoken(dart.name)} of piece {piece.name}"
        if len(piece.edge(dart.base).points) > 2:
            raise Refusal(
                f"The base of {named} was trued for the point it has; set the point back first and true it after.",
                piece=piece.name,
                edge=dart.base,
            )
        deep = gap(dart.pivot, dart.mouth)
        if not 0.0 <= distance < deep:
            raise Refusal(
                f"The point of {named} cannot lie {distance:.1f} mm from its pivot: the base lies at {deep:.0f} mm; "
                f"give a distance between.",
                piece=piece.name,
            )
        radius = _bust_radius(piece, dart)
        if radius is not None and distance > radius:
            raise Refusal(
                f"The point of {named} would lie {distance:.1f} mm from the bust point, outside the bust circle of "
                f"{radius:.0f} mm; set it back less.",
                piece=piece.name,
            )

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Set the point of the waist dart back 1/2 in from its pivot on the front."""
        piece = garment.piece(self.piece)
        distance = show_length(self._distance(piece, piece.dart(self.dart)), unit)
        return f"Set the point of the {spoken(self.dart)} back {distance} from its pivot on the {self.piece}."


def _bust_radius(piece: Piece, dart: Dart) -> float | None:
    """The bust circle's radius (mm) in the direction of the dart's base; None where the dart is none of the bust's."""
    half = is_right(dart.name)
    bust = [place for name, place in piece.landmarks.items() if local_name(name) == "bust_point"]
    circle = [line for line in piece.lines if local_name(line.name) == "bust_circle" and is_right(line.name) == half]
    if not circle or not any(gap(place, dart.pivot) <= SAME_POINT for place in bust):
        return None
    offsets = np.vstack(circle[0].stretches) - dart.pivot
    angles, radii = np.arctan2(offsets[:, 1], offsets[:, 0]), np.hypot(offsets[:, 0], offsets[:, 1])
    order = np.argsort(angles)
    at = atan2(dart.mouth[1] - dart.pivot[1], dart.mouth[0] - dart.pivot[0])
    return float(np.interp(at, angles[order], radii[order], period=2 * np.pi))


def _angle_note(piece: Piece, dart: Dart) -> Note:
    sewn = degrees(abs(angle_between(dart.point, *dart.legs)))
    return Note(
        "advice",
        f"The {spoken(dart.name)} of piece {piece.name} is now sewn with {sewn:.1f} degrees; its pattern angle stays "
        f"{degrees(dart.angle):.1f}.",
        piece.name,
    )
