"""Pivot: close a dart, or a share of it, by turning part of the piece about its pivot, and open it elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees
from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import Point
from core.geometry.tolerances import AT_PIVOT
from core.pieces.easing import eased_in
from core.pieces.names import free_name, spoken, spoken_in_full
from core.pieces.outline import OnLoop, cloth_area
from core.pieces.places import Place, place_words, resolve
from core.pieces.records import Change, Dart, Eased, Garment, Piece, Seam
from core.pieces.seams import seams_of
from core.pieces.truing import straight_again
from core.pieces.turning import refuse_path, turn, with_opening
from core.steps.mapping import mapped_points
from core.steps.step import Effect, Landmarks, Note, Step
from core.units import Unit, show_length

LARGEST_SHIFT = 25.4
"""A pivot placed farther than this (mm) from the dart's own is taken for a slip: the shaping would sit off the bust."""

REACH = 40.0
"""How far (mm) ease or gathers go on each side of the place when nothing else is said (house value)."""

Becomes: TypeAlias = Literal["dart", "ease", "gathers"]
"""What the angle is sewn as where it opens."""


class Receiver(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One more place that receives a share of the angle; fields as those of `Pivot`."""

    share: float
    into: str = ""
    place: Place | None = None
    becomes: Becomes = "dart"
    reach: float = REACH


class Pivot(Step, frozen=True, tag="pivot"):
    """Turn the part between a dart and a receiving place about the dart's pivot.

    Give either `into` (another dart with the same pivot) or `place` (on an edge without fold). `share` of the angle
    turns, 1 being all; `also` sends further shares of the same angle elsewhere. What opens is a dart, or it `becomes`
    ease or gathers over `reach` mm of the edge on both sides of the place; `into` may then name the dart itself, which
    is eased or gathered where it lies. `at` places the pivot by hand: it is laid on the dart's centre line, so that
    the legs stay equal; redrawing the legs to it gives or takes the cloth between the old legs and the new.
    """

    piece: str
    dart: str
    into: str = ""
    place: Place | None = None
    share: float = 1.0
    at: tuple[float, float] | None = None
    drawn_on: Landmarks = {}
    becomes: Becomes = "dart"
    reach: float = REACH
    also: tuple[Receiver, ...] = ()

    @property
    def receivers(self) -> tuple[Receiver, ...]:
        """Every place that receives a share of the angle, in the order in which they are opened."""
        return (Receiver(self.share, self.into, self.place, self.becomes, self.reach), *self.also)

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, the origins along which places are measured, and the seams of the edges that receive."""
        piece = garment.piece(self.piece)
        places = [receiver.place for receiver in self.receivers if receiver.place is not None]
        seams = {seam.name: seam for edge in piece.edges for seam in seams_of(garment, edge)}
        return (piece, *(garment.origins.get(place.edge) for place in places), *seams.values())

    def effect(self, garment: Garment) -> Effect:
        """The piece after the turn; cloth area, edge lengths and the sum of angles about the pivot stay as they were.

        Ease and gathers add paper: the seam that is sewn there then wants so much ease, and a note says how much.
        Refusal for shares outside 0 to 1, a receiving place on the fold, beside the dart, or behind another open
        dart, for a turn that would lay cloth over cloth, and for more ease than the edge takes.
        """
        piece = garment.piece(self.piece)
        total = sum(receiver.share for receiver in self.receivers)
        if total > 1.0 + 1e-9 or any(not 0.0 <= receiver.share <= 1.0 for receiver in self.receivers):
            raise Refusal(f"The share to pivot is {total:g}; give one from 0 to 1.", piece=self.piece)
        if total == 0.0:
            piece.dart(self.dart)
            return Effect(Change())
        piece, notes = self._with_pivot_placed(piece, piece.dart(self.dart))
        angle = piece.dart(self.dart).angle
        held: list[Eased] = []
        for receiver in self.receivers:
            if receiver.share > 0.0:
                piece = self._received(garment, piece, receiver, angle=angle)
                # The newest record stands last, those before it are measured anew.
                held += piece.eased[-1:] if receiver.becomes != "dart" else ()
        notes += (*self._eased_notes(garment, held), *self._in_seams(garment, piece))
        notes += _straight_again(garment.piece(self.piece), piece)
        return Effect(Change(pieces={piece.name: (piece,)}, seams=_with_ease(garment, held)), notes)

    def _received(self, garment: Garment, piece: Piece, receiver: Receiver, *, angle: float) -> Piece:
        """The piece with a share of the dart's first angle received where it is to go."""
        dart = piece.dart(self.dart)
        wanted, name = receiver.share * angle, receiver.into
        if name == dart.name and receiver.becomes != "dart":
            self._refuse_part(dart, receiver, wanted)
        else:
            share = 1.0 if wanted > dart.angle - 1e-9 else wanted / dart.angle
            piece, name = self._turned(garment, piece, dart, receiver, share=share)
        if receiver.becomes == "dart":
            return piece
        return eased_in(piece, piece.dart(name), reach=receiver.reach, kind=receiver.becomes).piece

    def _refuse_part(self, dart: Dart, receiver: Receiver, wanted: float) -> None:
        if abs(wanted - dart.angle) > 1e-9:
            raise Refusal(
                f"Only {receiver.share:.0%} of the {spoken(dart.name)} on piece {self.piece} would go into "
                f"{receiver.becomes}, with a dart left in the same place; give all that is left of it, or open the "
                f"{receiver.becomes} elsewhere.",
                piece=self.piece,
            )

    def _eased_notes(self, garment: Garment, held: Sequence[Eased]) -> tuple[Note, ...]:
        """How much paper was added for ease or gathers, and the seams that are sewn with it."""
        found = []
        for one in held:
            seams = " and ".join(spoken_in_full(name) for name in _with_ease(garment, [one]))
            onto = f" in the seam {seams}" if seams else ""
            what = "ease" if one.kind == "ease" else "gather"
            sentence = (
                f"Paper was added to the {spoken(one.edge)}: {what} {one.amount:.1f} mm{onto} between its limits."
            )
            found.append(Note("paper", sentence, self.piece))
        return tuple(found)

    def _in_seams(self, garment: Garment, piece: Piece) -> tuple[Note, ...]:
        """Word of the seams that are sewn over darts which opened in them."""
        there = {dart.name for dart in garment.piece(self.piece).darts}
        opened = [(dart, piece.neighbours(dart.base)[0]) for dart in piece.darts if dart.name not in there]
        return tuple(
            Note(
                "advice",
                f"The {spoken(dart.name)} opens in the seam {spoken_in_full(seam.name)}, whose length stays as it "
                f"was: sew the dart before that seam.",
                piece.name,
                beside.name,
            )
            for dart, beside in opened
            for seam in seams_of(garment, beside)
        )

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
        redrawn = replace(piece, darts=tuple(moved if d.name == dart.name else d for d in piece.darts))
        given = cloth_area(redrawn) - cloth_area(piece)
        what = "gives" if given > 0.0 else "takes"
        note = Note(
            "advice",
            f"The {spoken(dart.name)} now pivots {off:.1f} mm from the bust point: the fullness will sit there. "
            f"Redrawing its legs {what} {abs(given) / 100:.1f} square centimetres of cloth.",
            piece.name,
        )
        return redrawn, (note,)

    def _turned(
        self, garment: Garment, piece: Piece, dart: Dart, receiver: Receiver, *, share: float
    ) -> tuple[Piece, str]:
        """The piece with a share of the dart's angle turned, and the name of the dart that received it."""
        piece, into = self._receiving(garment, piece, dart, receiver)
        name = piece.edge(into).origin.edge
        turned = turn(piece, piece.dart(dart.name), into, share=share).piece
        if not is_simple_loop(turned.loop):
            raise Refusal(
                f"Pivoting the {spoken(dart.name)} there would lay piece {piece.name} over itself; "
                f"pivot a smaller share or choose another place.",
                piece=piece.name,
            )
        return turned, name

    def _receiving(self, garment: Garment, piece: Piece, dart: Dart, receiver: Receiver) -> tuple[Piece, str]:
        """The piece with a base ready to open at the receiving place, and that base's edge name."""
        if bool(receiver.into) == (receiver.place is not None):
            raise Refusal(f"Say where the {spoken(dart.name)} goes: into another dart, or to a place on an edge.")
        if receiver.into:
            other = piece.dart(receiver.into)
            if other.name == dart.name or gap(other.pivot, dart.pivot) > 1e-6:
                raise Refusal(
                    f"The {spoken(dart.name)} and the {spoken(other.name)} of piece {piece.name} have "
                    f"different pivots and are never merged; choose a place on an edge.",
                    piece=piece.name,
                )
            return piece, other.base
        on = resolve(garment, piece, receiver.place) if receiver.place else OnLoop(0, 0.0)
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
        return self.told(garment, self.effect(garment), unit)

    def told(self, garment: Garment, effect: Effect, unit: Unit) -> str:
        """The sentence, with how wide each dart opens."""
        before = garment.piece(self.piece)
        (after,) = effect.change.pieces.get(self.piece, (before,))
        parts = [self._said(before, after, receiver, unit) for receiver in self.receivers]
        share, first = self.receivers[0].share, parts[0]
        how_much = "" if share == 1.0 else f"{share:.0%} of "
        return f"Pivot {how_much}the {spoken(self.dart)} {'; '.join((first, *self._more(parts)))}."

    def _more(self, parts: list[str]) -> list[str]:
        pairs = zip(self.also, parts[1:], strict=True)
        return [f"{receiver.share:.0%} {words}" for receiver, words in pairs]

    def _said(self, before: Piece, after: Piece, receiver: Receiver, unit: Unit) -> str:
        """Where one share goes, its angle and how wide it opens."""
        angle = f"{degrees(receiver.share * before.dart(self.dart).angle):.1f} degrees"
        where = self._where(receiver, unit)
        if receiver.becomes != "dart":
            return f"{where} as {receiver.becomes} over {show_length(2 * receiver.reach, unit)}: {angle}"
        name = receiver.into or fresh_dart_name(before, receiver.place.edge if receiver.place else "")
        opened = [dart for dart in after.darts if dart.name == name]
        wide = f", {show_length(opened[0].width, unit)} wide there" if opened else ""
        return f"{where}: {angle}{wide}"

    def _where(self, receiver: Receiver, unit: Unit) -> str:
        if receiver.into == self.dart:
            return "where it lies"
        if receiver.place is None:
            return f"into the {spoken(receiver.into)}"
        return f"to {place_words(receiver.place, show_length(receiver.place.distance or 0.0, unit))}"


def _with_ease(garment: Garment, held: Sequence[Eased]) -> dict[str, Seam | None]:
    """The seams that are sewn on eased edges, each wanting the amounts on its sides as ease."""
    found: dict[str, Seam | None] = {}
    for seam in garment.seams.values():
        sides = [{(span.edge, span.side) for span in chain} for chain in (seam.a, seam.b)]
        more = [sum(one.amount for one in held if (one.edge, one.side) in side) for side in sides]
        if any(more):
            found[seam.name] = replace(seam, ease=seam.ease + more[0] - more[1])
    return found


def fresh_dart_name(piece: Piece, origin: str) -> str:
    """A name for a dart that opens in an edge: "front.armhole_dart", numbered when the piece has that one already."""
    return free_name(f"{origin}_dart", {dart.name for dart in piece.darts}, joint="_")


def on_centre_line_nearest(dart: Dart, place: Point) -> Point:
    """The point of the dart's centre line nearest to a place: from there both legs are equal."""
    middle = dart.mouth
    ux, uy = dart.pivot[0] - middle[0], dart.pivot[1] - middle[1]
    share = ((place[0] - middle[0]) * ux + (place[1] - middle[1]) * uy) / (ux * ux + uy * uy)
    return (middle[0] + share * ux, middle[1] + share * uy)


def _straight_again(before: Piece, now: Piece) -> tuple[Note, ...]:
    """What is to be said of bases that were trued and are straight again after the turn."""
    return tuple(
        Note("advice", f"The base of the {spoken(dart.name)} is straight again: true it after the turn.", now.name)
        for dart in straight_again(before, now)
    )
