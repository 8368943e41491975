"""Flatten: a panel that has to lie flat holds a dart's end; its angle is let out into another edge and filled in.

The cloth is then strained where the dart's fullness was. A dart of angle t takes t out of the full turn about its
point, so that flat cloth laid over it is short by t / (360 degrees - t) (cutting.md 3).
"""

from __future__ import annotations

from math import degrees, pi, sin

import msgspec
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import distance_into, is_simple_loop
from core.geometry.polyline import nearest
from core.geometry.tolerances import ON_EDGE
from core.pieces.filling import Filled, filled, let_out
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import OnLoop, cloth_area, local_name, point_on
from core.pieces.places import Place, place_words, resolve
from core.pieces.records import Change, Dart, Edge, Garment, Piece, Seam
from core.pieces.seams import Link, seams_of
from core.pieces.truing import paper
from core.steps.pivot import fresh_dart_name
from core.steps.step import Effect, Note, Step
from core.steps.trim import FADE, touched_seams, trimmed_piece
from core.steps.true import paper_note
from core.units import Unit, show_length

WAY_OUT = "or move the sheer line through the bust point"
"""What is always better than flattening: the sheer then holds no dart's end (cutting.md 2, 3)."""

WIDEST = 12.0
"""The receiving edge takes no more paper than this (mm) (cutting.md 3)."""

EASED = 3.0
"""A base no wider than this (mm) is eased into its mate instead (cutting.md 10)."""

CRISP_STRAIN = 0.015
STRETCH_SHARE = 0.25
"""Crisp cloth lies flat up to a strain of about 1.5 %, stretch mesh up to a quarter of its stretch (cutting.md 3)."""

REACH = 30.0
LEAST_REACH = 5.0
"""The receiving edge is drawn fair over this much (mm) on both sides of the paper, and over no less."""


class Flatten(Step, frozen=True, tag="flatten"):
    """Lay a panel flat that holds the end of a dart.

    The angle is pivoted into an edge at `place` and filled with paper; that edge is then shortened to its old length at
    the end where the edge named `end` meets it, which fades back to its own line. `stretch` is how much the panel's
    cloth stretches, as a share: 0.5 for a mesh that stretches by half.
    """

    piece: str
    dart: str
    place: Place
    end: str
    stretch: float = 0.0

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, the place's origin, and every seam that the piece may be in."""
        return (garment.piece(self.piece), garment.origins.get(self.place.edge), *garment.seams.values())

    def effect(self, garment: Garment) -> Effect:
        """The flat panel: the dart is gone, the receiving edge and the edge that held the base are as long as before.

        A base of up to 3 mm is filled and allowed to its seam as ease. Refusal for a dart whose point is not inside, a
        strain that the cloth does not give, more than 12 mm of paper, and a place or an end that cannot take it; each
        offers to move the sheer line through the bust point.
        """
        try:
            piece = garment.piece(self.piece)
            dart = piece.dart(self.dart)
            self._refuse_dart(piece, dart)
            eased = _eased(garment, piece, dart) if dart.width <= EASED else None
            return eased or self._flattened(garment, piece, dart)
        except Refusal as refusal:
            sentence = f"{refusal.sentence.removesuffix('.')}; {WAY_OUT}."
            raise Refusal(sentence, piece=refusal.piece, edge=refusal.edge) from refusal

    def _refuse_dart(self, piece: Piece, dart: Dart) -> None:
        if distance_into(piece.loop, dart.pivot) <= ON_EDGE:
            raise Refusal(
                f"The {spoken(dart.name)} does not end inside piece {piece.name}, which lies flat when the dart is "
                f"closed; close it there",
                piece=piece.name,
            )

    def _flattened(self, garment: Garment, piece: Piece, dart: Dart) -> Effect:
        self._refuse_strain(piece, dart)
        site = self._site(garment, piece, dart)
        wide = 2.0 * gap(dart.pivot, point_on(piece.edges, site.place)) * sin(dart.angle / 2)
        if wide > WIDEST:
            raise Refusal(
                f"The {spoken(dart.name)} of piece {piece.name} would open {wide:.0f} mm at the "
                f"{spoken(site.edge.origin.edge)}, over the {WIDEST:.0f} mm that can be hidden there; choose a nearer "
                f"edge, pivot part of the dart first",
                piece=piece.name,
                edge=site.edge.name,
            )
        name = fresh_dart_name(piece, site.edge.origin.edge)
        let = let_out(piece, dart, site.place, name=name, reach=REACH)
        after = _shortened(let, site.edge, at_last=site.at_last)
        # A part of the panel has turned: paper is what the gap took, then what was redrawn where it lies now.
        filled_in = cloth_area(let.piece) - cloth_area(piece)
        added, removed = paper(let.piece, after)
        paid = let.edge.length - site.edge.length
        paying = f"pays {paid:.1f} mm at the {spoken(site.edge.origin.edge)} and runs back over {FADE:.0f} mm."
        notes = [
            self._strain_note(piece, dart),
            paper_note(piece.name, added + max(filled_in, 0.0), removed + max(-filled_in, 0.0)),
            Note("advice", f"The {spoken(site.payer.origin.edge)} of piece {piece.name} {paying}", piece.name),
            *_nearer(garment, piece, dart, site.edge),
            *(
                Note("touched", f"Flattening changes the seam {spoken_in_full(seam.name)} by {by:+.2f} mm.", piece.name)
                for seam, by in touched_seams(garment, "", [after])
            ),
        ]
        return Effect(Change(pieces={piece.name: (after,)}), tuple(notes))

    def _refuse_strain(self, piece: Piece, dart: Dart) -> None:
        if not self.stretch >= 0.0:
            raise Refusal(f"The stretch of piece {piece.name} is {self.stretch:g}; give a share of 0 or more")
        if strain(dart) > self._most():
            raise Refusal(
                f"Laid flat, piece {piece.name} would be strained by {strain(dart):.1%} about the end of the "
                f"{spoken(dart.name)}, and its cloth gives {self._most():.1%}; choose a cloth that stretches more, "
                f"pivot part of the dart first",
                piece=piece.name,
            )

    def _most(self) -> float:
        """The strain that the panel's cloth takes and still lies flat, as a share."""
        return max(STRETCH_SHARE * self.stretch, CRISP_STRAIN)

    def _strain_note(self, piece: Piece, dart: Dart) -> Note:
        return Note(
            "residual",
            f"Laid flat, piece {piece.name} is strained by {strain(dart):.1%} about the end of the "
            f"{spoken(dart.name)}; its cloth gives {self._most():.1%}.",
            piece.name,
        )

    def _site(self, garment: Garment, piece: Piece, dart: Dart) -> _Site:
        """Where the angle is let out, and who pays for it."""
        place = resolve(garment, piece, self.place)
        edge = piece.edges[place.index]
        held = {_key(other) for other in piece.neighbours(dart.base)}
        if edge.kind in ("fold", "dart base") or _key(edge) in held:
            what = "a fold" if edge.kind == "fold" else "the edge that holds the dart"
            raise Refusal(
                f"The {spoken(edge.origin.edge)} of piece {piece.name} is {what} and cannot take the angle; choose "
                f"another edge",
                piece=piece.name,
                edge=edge.name,
            )
        if not LEAST_REACH <= place.distance <= edge.length - LEAST_REACH:
            raise Refusal(
                f"The place on the {spoken(edge.origin.edge)} of piece {piece.name} lies within {LEAST_REACH:.0f} mm "
                f"of its end; choose one farther along it",
                piece=piece.name,
                edge=edge.name,
            )
        at_last = self._at_last(piece, edge)
        payer = piece.neighbours(edge.name)[at_last]
        if payer.kind in ("fold", "dart base") or _key(payer) in held:
            why = "holds the dart and has to keep its length" if _key(payer) in held else f"is a {payer.kind}"
            raise Refusal(
                f"The {spoken(payer.origin.edge)} of piece {piece.name} {why}, so it cannot pay; shorten the "
                f"{spoken(edge.origin.edge)} at its other end",
                piece=piece.name,
                edge=payer.name,
            )
        return _Site(place, edge, payer, at_last)

    def _at_last(self, piece: Piece, edge: Edge) -> bool:
        """Whether the named end is where the receiving edge ends in loop order."""
        first, last = piece.neighbours(edge.name)
        if self.end in (last.name, local_name(last.origin.edge)):
            return True
        if self.end in (first.name, local_name(first.origin.edge)):
            return False
        ends = f"{spoken(first.origin.edge)} and the {spoken(last.origin.edge)}"
        raise Refusal(
            f"The {spoken(edge.origin.edge)} of piece {piece.name} ends at the {ends}, not at the {spoken(self.end)}; "
            f"choose one of them",
            piece=piece.name,
            edge=edge.name,
        )

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Flatten the yoke: let the waist dart of 3.7 degrees out 40% along the armhole."""
        dart = garment.piece(self.piece).dart(self.dart)
        if dart.width <= EASED:
            return f"Flatten the {self.piece}: ease the {show_length(dart.width, unit)} of the {spoken(self.dart)}."
        where = place_words(self.place, show_length(self.place.distance or 0.0, unit))
        angle = f"{degrees(dart.angle):.1f} degrees"
        return (
            f"Flatten the {self.piece}: let the {spoken(self.dart)} of {angle} out {where}, taken off again at the "
            f"{spoken(self.end)}."
        )


def strain(dart: Dart) -> float:
    """The strain left in cloth laid flat over a dart's end, as a share: t / (full turn - t)."""
    return dart.angle / (2 * pi - dart.angle)


class _Site(msgspec.Struct, frozen=True, eq=False):
    """The receiving place and edge, and the neighbour that is moved; `at_last`: it meets the edge's last point."""

    place: OnLoop
    edge: Edge
    payer: Edge
    at_last: bool


def _key(edge: Edge) -> tuple[str, str]:
    return (edge.origin.edge, edge.origin.side)


def _shortened(let: Filled, before: Edge, *, at_last: bool) -> Piece:
    """The piece with its receiving edge as long as before, the neighbour at one end moved and faded."""
    after = trimmed_piece(Link(let.piece, let.edge, False), at_last=at_last, amount=let.edge.length - before.length)
    if not is_simple_loop(after.loop):
        raise Refusal(
            f"Flattened there, piece {after.name} would lie over itself; choose another edge",
            piece=after.name,
            edge=before.name,
        )
    return after


def _eased(garment: Garment, piece: Piece, dart: Dart) -> Effect | None:
    """The small base filled in and allowed to its seam as ease; None where its edge is in no seam to be eased into."""
    base = piece.neighbours(dart.base)[0]
    found = seams_of(garment, base)
    if not found:
        return None
    after = filled(piece, dart.name).piece
    eased = {seam.name: replace(seam, ease=seam.ease + _sign(seam, base) * dart.width) for seam in found}
    sentence = (
        f"The {dart.width:.1f} mm of the {spoken(dart.name)} on piece {piece.name} are eased into the seam "
        f"{', '.join(map(spoken_in_full, eased))}."
    )
    notes = (paper_note(piece.name, *paper(piece, after)), Note("residual", sentence, piece.name))
    return Effect(Change(pieces={piece.name: (after,)}, seams=eased), notes)


def _sign(seam: Seam, edge: Edge) -> float:
    """+1 where the edge is on the side whose greater length counts as ease."""
    return 1.0 if _key(edge) in {(span.edge, span.side) for span in seam.a} else -1.0


def _nearer(garment: Garment, piece: Piece, dart: Dart, chosen: Edge) -> list[Note]:
    """Advice when an edge without a mate lies nearer than the chosen one, or the chosen one has a mate."""
    free = [e for e in piece.edges if e.kind in ("opening", "hem", "raw") and not seams_of(garment, e)]
    best = min(free, key=lambda edge: nearest(edge.points, dart.pivot)[1], default=None)
    if best is None or best is chosen or not seams_of(garment, chosen):
        return []
    return [
        Note(
            "advice",
            f"The {spoken(best.origin.edge)} of piece {piece.name} has no mate: the angle is better let out there.",
            piece.name,
        )
    ]
