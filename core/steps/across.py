"""Across: what takes a seam in shortens the seams across its ends; their other side is made as much shorter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, sin

from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.polyline import Points, as_points, crossings, point_at, tangent_at
from core.geometry.tolerances import LONGEST_TRIM
from core.pieces.levels import edge_beside
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import is_centre
from core.pieces.places import Place, holders, place_at
from core.pieces.records import Change, Edge, Garment, Piece, Seam
from core.pieces.seams import Link, Match, match, on_chain, seams_of
from core.steps.slash import SlashAndSpread
from core.steps.step import Effect
from core.steps.trim import trimmed_piece

FAR = 2000.0
"""Farther than any piece reaches (mm)."""

LEAST = 0.05
"""Less than this (mm) is not worth a fold."""

AGREES, TRIES = 0.02, 12
"""The piece across loses as much within so many mm: on a slant the fold is laid wider, in no more tries than these."""


def pieces_across(garment: Garment, found: Match) -> tuple[Piece, ...]:
    """The pieces sewn across the ends of a seam, its own left out."""
    seams = {seam.name: seam for seam in _seams_across(garment, found)}
    names = [name for seam in seams.values() for name in match(garment, seam).pieces if name not in found.pieces]
    return tuple(garment.pieces[name] for name in dict.fromkeys(names))


def _seams_across(garment: Garment, found: Match) -> Iterator[Seam]:
    for chain in (found.a, found.b):
        for at_last in (False, True) if chain else ():
            yield from seams_of(garment, edge_beside(chain, at_last=at_last)[0])


def hinge_across(garment: Garment, found: Match, *, at_last: bool) -> Place | None:
    """Where a fold square to the edge across an end of a seam comes to nothing on the piece across; None without."""
    for _, ours, other in _sides_across(garment, found, at_last=at_last):
        link, here = _meets(other, _up_to_seam(ours))
        start, way = point_at(link.edge.points, here), tangent_at(link.edge.points, here)
        # The inside lies to the left of the outline.
        end = (start[0] - FAR * sin(way), start[1] + FAR * cos(way))
        return _first_met(garment, link.piece, link.edge, as_points((start, end)))
    return None


def end_across(garment: Garment, found: Match, *, at_last: bool) -> str:
    """The end of the seam across at which the piece across can give; "" where there is none."""
    for across, _, other in _sides_across(garment, found, at_last=at_last):
        for end, link, last in ((across.seam.ends[1], other[-1], True), (across.seam.ends[0], other[0], False)):
            before, after = link.piece.neighbours(link.edge.name)
            beside = after if last != link.reversed else before
            if beside.kind not in ("fold", "dart base") and not is_centre(beside):
                return end
    return ""


def _sides_across(
    garment: Garment, found: Match, *, at_last: bool
) -> Iterator[tuple[Match, Sequence[Link], Sequence[Link]]]:
    """The seams across one end, each with the side that is cut by the seam and the side across."""
    for chain in (found.a, found.b):
        for seam in seams_of(garment, edge_beside(chain, at_last=at_last)[0]) if chain else ():
            across = match(garment, seam)
            if not across.a or not across.b:
                continue
            ours_is_a = bool(set(found.pieces) & {link.piece.name for link in across.a})
            yield (across, across.a, across.b) if ours_is_a else (across, across.b, across.a)


def _first_met(garment: Garment, piece: Piece, but: Edge, ray: Points) -> Place | None:
    met = [
        (along, edge, on)
        for edge in piece.edges
        if edge is not but and edge.kind != "dart base" and edge.origin.edge in garment.origins
        for on, along in crossings(edge.points, ray)
        if along > 1.0
    ]
    if not met:
        return None
    _, edge, on = min(met, key=lambda found: found[0])
    return place_at(garment, edge, on)


def _meets(other: Sequence[Link], along: float) -> tuple[Link, float]:
    """The link of a side that lies so far along it, and how far along its edge that is."""
    link, here = on_chain(other, along, slack=LEAST)
    return link, link.on_edge(here)


def taken_off_across(
    garment: Garment, found: Match, touched: Sequence[tuple[Seam, float]], *, hinge: Place | None, end: str
) -> Effect:
    """As much taken off the other side of the seams that changed: folded out to nothing at a hinge, or at an end.

    Refusal when the hinge lies on none of the pieces across, the seam across has no such end, or more is to be trimmed
    than trimming may take.
    """
    done = Effect(Change())
    for seam, by in touched:
        across = match(garment, seam)
        ours = across.a if set(found.pieces) & {link.piece.name for link in across.a} else across.b
        other = across.b if ours is across.a else across.a
        # difference = a - b - ease: where the other side is b, more has to come off it the more the difference falls.
        much = by if other is across.a else -by
        if abs(much) >= LEAST and other:
            here = _up_to_seam(ours)
            effect = _folded(garment, other, much, (hinge, here)) if hinge else _trimmed(across, other, much, end)
            done = _and(done, effect, spoken_in_full(seam.name)) if effect else done
    if not done.change.pieces:
        where = f"{spoken(hinge.edge)} is on no piece" if hinge else f"{spoken(end)} is no end of a seam"
        raise Refusal(
            f"The {where} across the seam {spoken_in_full(found.seam.name)}; choose another, or ease the difference."
        )
    return done


def _and(done: Effect, effect: Effect, seam: str) -> Effect:
    """Both effects; that the seam across changes back again goes without saying."""
    notes = tuple(note for note in effect.notes if note.kind != "touched" or seam not in note.sentence)
    change = replace(done.change, pieces={**done.change.pieces, **effect.change.pieces})
    return Effect(change, (*done.notes, *notes))


def _up_to_seam(ours: Sequence[Link]) -> float:
    """How far (mm) from the first end of the seam across the other seam meets it: where the piece changes."""
    along = 0.0
    for link, after in pairwise(ours):
        along += link.edge.length
        if link.piece is not after.piece:
            return along
    return 0.0


def _folded(garment: Garment, other: Sequence[Link], much: float, at: tuple[Place, float]) -> Effect | None:
    """`much` folded out of the piece across, from so far along it to nothing at the hinge; None where none holds it."""
    hinge, along = at
    if not any(any(holders(link.piece, hinge.edge)) for link in other):
        return None
    link, here = _meets(other, along)
    opens = place_at(garment, link.edge, here)
    wide = much
    for _ in range(TRIES):
        effect = SlashAndSpread("across", link.piece.name, opens, hinge, -wide).effect(garment)
        ((after,),) = effect.change.pieces.values()
        lost = _held(link.piece, link.edge) - _held(after, link.edge)
        if abs(lost - much) <= AGREES:
            return effect
        wide *= min(max(much / lost if lost * much > 0.0 else 2.0, 0.5), 2.0)
    raise Refusal(
        f"The fold meets the {spoken(link.edge.origin.edge)} of piece {link.piece.name} on too great a slant; let it "
        f"come to nothing at a place more square to it.",
        piece=link.piece.name,
    )


def _held(piece: Piece, like: Edge) -> float:
    """Length (mm) of all edges of a piece that descend from where an edge does."""
    key = (like.origin.edge, like.origin.side)
    return sum(edge.length for edge in piece.edges if (edge.origin.edge, edge.origin.side) == key)


def _trimmed(across: Match, other: Sequence[Link], much: float, end: str) -> Effect | None:
    if end not in across.seam.ends:
        return None
    if abs(much) > LONGEST_TRIM:
        raise Refusal(
            f"Taking {abs(much):.1f} mm off the seam {spoken_in_full(across.seam.name)} at the {spoken(end)} is more "
            f"than the {LONGEST_TRIM:.0f} mm that trimming may take; fold it out of the piece across, or ease it."
        )
    at_last = end == across.seam.ends[1]
    piece = trimmed_piece(other[-1 if at_last else 0], at_last=at_last, amount=much)
    return Effect(Change(pieces={piece.name: (piece,)}))
