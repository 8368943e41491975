"""Pivot: close a dart, or a share of it, by turning part of the piece about its pivot, and open it elsewhere."""

from __future__ import annotations

from dataclasses import replace
from math import degrees

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import Point
from core.geometry.tolerances import AT_PIVOT
from core.pieces.names import spoken
from core.pieces.outline import OnLoop
from core.pieces.places import Place, place_words, resolve
from core.pieces.records import Change, Dart, Garment, Piece
from core.pieces.turning import refuse_path, turn, with_opening
from core.steps.mapping import mapped_points
from core.steps.step import Effect, Landmarks, Note, Step
from core.units import Unit, show_length

LARGEST_SHIFT = 25.4
"""A pivot placed farther than this (mm) from the dart's own is taken for a slip: the shaping would sit off the bust."""


class Pivot(Step, frozen=True, tag="pivot"):
    """Turn the part between a dart and a receiving place about the dart's pivot.

    Give either `into` (another dart with the same pivot) or `place` (on an edge without fold). `share` of the angle
    turns, 1 being all. `at` places the pivot by hand: it is laid on the dart's centre line, so that the legs stay
    equal; redrawing the legs to it gives or takes the cloth between the old legs and the new.
    """

    piece: str
    dart: str
    into: str = ""
    place: Place | None = None
    share: float = 1.0
    at: tuple[float, float] | None = None
    drawn_on: Landmarks = {}

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, and the origin along which the place is measured."""
        origin = garment.origins.get(self.place.edge) if self.place else None
        return (garment.piece(self.piece), origin)

    def effect(self, garment: Garment) -> Effect:
        """The piece after the turn; cloth area, edge lengths and the sum of angles about the pivot stay as they were.

        Refusal for a share outside 0 to 1, a receiving place on the fold, beside the dart, or behind another open
        dart, and for a turn that would lay cloth over cloth.
        """
        piece = garment.piece(self.piece)
        if not 0.0 <= self.share <= 1.0:
            raise Refusal(f"The share to pivot is {self.share:g}; give one from 0 to 1.", piece=self.piece)
        if self.share == 0.0:
            piece.dart(self.dart)
            return Effect(Change())
        piece, notes = self._with_pivot_placed(piece, piece.dart(self.dart))
        piece = self._turned(garment, piece, piece.dart(self.dart))
        return Effect(Change(pieces={piece.name: (piece,)}), notes)

    def _with_pivot_placed(self, piece: Piece, dart: Dart) -> tuple[Piece, tuple[Note, ...]]:
        """The piece with the dart's legs redrawn to a pivot placed by hand, and what is to be said of it."""
        if self.at is None:
            return piece, ()
        wanted = mapped_points(piece, [self.at], self.drawn_on)[0]
        pivot = on_centre_line_nearest(dart, wanted)
        off = gap(pivot, dart.pivot)
        if off <= AT_PIVOT:
            return piece, ()
        if off > LARGEST_SHIFT:
            raise Refusal(
                f"The pivot for the {spoken(dart.name)} on piece {piece.name} lies {off:.0f} mm from the dart's "
                f"own; place it within {LARGEST_SHIFT:.0f} mm, or on the bust point.",
                piece=piece.name,
            )
        moved = replace(dart, pivot=pivot, point=pivot)
        note = Note(
            "advice",
            f"The {spoken(dart.name)} now pivots {off:.1f} mm from the bust point: the fullness will sit there.",
            piece.name,
        )
        return replace(piece, darts=tuple(moved if d.name == dart.name else d for d in piece.darts)), (note,)

    def _turned(self, garment: Garment, piece: Piece, dart: Dart) -> Piece:
        piece, into = self._receiving(garment, piece, dart)
        turned = turn(piece, piece.dart(dart.name), into, share=self.share).piece
        if not is_simple_loop(turned.loop):
            raise Refusal(
                f"Pivoting the {spoken(dart.name)} there would lay piece {piece.name} over itself; "
                f"pivot a smaller share or choose another place.",
                piece=piece.name,
            )
        return turned

    def _receiving(self, garment: Garment, piece: Piece, dart: Dart) -> tuple[Piece, str]:
        """The piece with a base ready to open at the receiving place, and that base's edge name."""
        if bool(self.into) == (self.place is not None):
            raise Refusal(f"Say where the {spoken(dart.name)} goes: into another dart, or to a place on an edge.")
        if self.into:
            other = piece.dart(self.into)
            if other.name == dart.name or gap(other.pivot, dart.pivot) > 1e-6:
                raise Refusal(
                    f"The {spoken(dart.name)} and the {spoken(other.name)} of piece {piece.name} have "
                    f"different pivots and are never merged; choose a place on an edge.",
                    piece=piece.name,
                )
            return piece, other.base
        on = resolve(garment, piece, self.place) if self.place else OnLoop(0, 0.0)
        return self._opening_at(piece, dart, on)

    def _opening_at(self, piece: Piece, dart: Dart, on: OnLoop) -> tuple[Piece, str]:
        edge = piece.edges[on.index]
        if edge.kind == "fold":
            raise Refusal(
                f"A dart cannot open into the fold of piece {piece.name}; choose a place on another edge.",
                piece=piece.name,
                edge=edge.name,
            )
        name = fresh_dart_name(piece, edge.origin.edge)
        opened = with_opening(piece, on, name)
        base = next(edge for edge in opened.edges if edge.origin.edge == name)
        refuse_path(opened, dart, base.points[0].tolist())
        if gap(base.points[0], dart.pivot) < 1.0:
            raise Refusal(
                f"The place chosen for the {spoken(dart.name)} is its own pivot; choose a place on the outline.",
                piece=piece.name,
            )
        return opened, base.name

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Pivot the shoulder dart into the waist dart: 12.6 degrees, 1 3/8 in at the waist."""
        after = self.apply(garment).garment.piece(self.piece)
        dart = garment.piece(self.piece).dart(self.dart)
        where = f"into the {spoken(self.into)}" if self.into else f"to {self._place_words(garment, unit)}"
        name = self.into or fresh_dart_name(garment.piece(self.piece), self.place.edge if self.place else "")
        opened = [d for d in after.darts if d.name == name]
        wide = f", {show_length(opened[0].width, unit)} wide there" if opened else ""
        how_much = "" if self.share == 1.0 else f"{self.share:.0%} of "
        angle = degrees(self.share * dart.angle)
        return f"Pivot {how_much}the {spoken(self.dart)} {where}: {angle:.1f} degrees{wide}."

    def _place_words(self, garment: Garment, unit: Unit) -> str:
        assert self.place is not None
        return place_words(self.place, show_length(self.place.distance or 0.0, unit))


def fresh_dart_name(piece: Piece, origin: str) -> str:
    """A name for a dart that opens in an edge: "front.armhole_dart", numbered when the piece has that one already."""
    base = f"{origin}_dart"
    used = {dart.name for dart in piece.darts}
    return next(name for name in (base, *(f"{base}_{n}" for n in range(2, 99))) if name not in used)


def on_centre_line_nearest(dart: Dart, place: Point) -> Point:
    """The point of the dart's centre line nearest to a place: from there both legs are equal."""
    middle = ((dart.legs[0][0] + dart.legs[1][0]) / 2, (dart.legs[0][1] + dart.legs[1][1]) / 2)
    ux, uy = dart.pivot[0] - middle[0], dart.pivot[1] - middle[1]
    share = ((place[0] - middle[0]) * ux + (place[1] - middle[1]) * uy) / (ux * ux + uy * uy)
    return (middle[0] + share * ux, middle[1] + share * uy)
