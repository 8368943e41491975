"""Trim to match: bring one side of a seam to the other's length at a chosen end, fading into the neighbour edge."""

from __future__ import annotations

from collections.abc import Sequence
from math import radians, remainder, tau
from typing import Literal, TypeAlias

import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import (
    Points,
    as_point,
    as_points,
    between,
    distances,
    end_direction,
    joined,
    length,
    tangent_at,
)
from core.geometry.tolerances import CORNER_CHORD, LARGEST_TRIM_SHARE, LONGEST_TRIM, SAME_POINT, TRIMMED
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import closed, local_name
from core.pieces.records import Change, Edge, Garment, Piece, Seam
from core.pieces.seams import Link, Match, match, seams_of
from core.steps.step import Effect, Note, Step
from core.units import Unit, show_length

FADE = 80.0
"""Over this length (mm) the neighbour edge runs back to its old line (cutting.md 14)."""

SQUARE = 8.0
"""So much of the neighbour (mm) keeps its direction at the moved corner, so that the corner stays as it was."""

SideChoice: TypeAlias = Literal["a", "b", "longer", "shared"]

_Side: TypeAlias = Literal["a", "b"]

NO_CORNER = radians(5.0)
"""Edges of a chain whose directions differ by no more run on as one (a corner's check allows as much)."""

OFFERS = (
    "allow it as ease, draw the edge anew between its ends, or fold a wedge out inside the panel (slash and spread by "
    "less than nothing)"
)
"""What else brings two edges together, where trimming cannot (cutting.md 14)."""


class Trim(Step, frozen=True, tag="trim to match"):
    """Trim a seam so that its difference becomes nothing.

    `end` names the end at which length is taken off or added ("waist"); "" takes the waist where the seam has one,
    else its last end. `side` is the side that changes; "longer" shortens whichever is too long.
    """

    seam: str
    end: str = ""
    side: SideChoice = "longer"

    @property
    def said(self) -> str:
        """The seam's name as it is spoken."""
        return spoken_in_full(self.seam)

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The seam and the pieces on both its sides."""
        seam = garment.seam(self.seam)
        return (seam, *(garment.pieces[name] for name in match(garment, seam).pieces))

    def effect(self, garment: Garment) -> Effect:
        """The piece with the trimmed edge and its faded neighbour; the two sides then agree within 0.01 mm.

        Refusal when the amount exceeds 6 mm or 2 % of the seam, when the end lies at the bust point, or when the
        neighbour is a fold or a dart and cannot move.
        """
        before = match(garment, garment.seam(self.seam))
        if abs(before.difference) <= TRIMMED:
            return Effect(Change())
        self._refuse_amount(before)
        now, touched = garment, dict[str, Piece]()
        for side, amount in self._sides_and_amounts(before):
            trimmed = self._trimmed(match(now, before.seam), side, amount)
            touched[trimmed.name] = trimmed
            now = Change(pieces={trimmed.name: (trimmed,)}).on(now)
        named = " and ".join(touched)
        notes = tuple(
            Note("touched", f"The trim changes the seam {spoken_in_full(seam.name)} by {by:+.2f} mm.", named)
            for seam, by in touched_seams(garment, self.seam, list(touched.values()))
        )
        return Effect(Change(pieces={name: (piece,) for name, piece in touched.items()}), notes)

    def _trimmed(self, found: Match, side: _Side, amount: float) -> Piece:
        """The piece at the end of a side, that much (mm) taken off it there."""
        at_last = self._at_last(found)
        chain = found.a if side == "a" else found.b
        inward = chain[::-1] if at_last else chain
        self._refuse_bust_point(inward[0], at_last)
        link = self._long_enough(found, inward, amount)
        trimmed = trimmed_piece(link, at_last=at_last, amount=amount)
        if not is_simple_loop(trimmed.loop):
            raise Refusal(
                f"Trimming the seam {self.said} at the {self._end_words(found)} folds piece {link.piece.name} over "
                f"itself; choose another end.",
                piece=link.piece.name,
            )
        return trimmed

    def _long_enough(self, found: Match, inward: Sequence[Link], amount: float) -> Link:
        """The last edge of a chain, run together with those before it until it can lose so much (mm).

        `inward` is the chain from the end that is trimmed. Refusal where the next edge lies in another piece or does
        not run on smoothly.
        """
        link, *rest = inward
        for after in rest:
            if amount < link.edge.length:
                break
            if after.piece is not inward[0].piece or not runs_on(link, after):
                raise self._too_short(found, link, amount, f"the {spoken(after.edge.name)} does not run on from it")
            link = run_together(link, after)
        if amount >= link.edge.length:
            raise self._too_short(found, link, amount, "there is no other edge on that side")
        return link

    def _too_short(self, found: Match, link: Link, amount: float, why: str) -> Refusal:
        return Refusal(
            f"The last edge of the seam {self.said} at the {self._end_words(found)}, {spoken(link.edge.name)} of "
            f"piece {link.piece.name}, is only {link.edge.length:.1f} mm long and cannot lose {amount:.1f} mm, and "
            f"{why}; trim at the other end, or {OFFERS}.",
            piece=link.piece.name,
            edge=link.edge.name,
        )

    def _refuse_amount(self, before: Match) -> None:
        if not before.a or not before.b:
            raise Refusal(f"The seam {self.said} has lost one of its sides; there is nothing to match it to.")
        limit = min(LONGEST_TRIM, LARGEST_TRIM_SHARE * max(before.length_a, before.length_b))
        wanted = max(abs(amount) for _, amount in self._sides_and_amounts(before))
        if wanted > limit:
            half = "share it between the two sides, " if wanted / 2 <= limit and self.side != "shared" else ""
            raise Refusal(
                f"The sides of the seam {self.said} differ by {abs(before.difference):.1f} mm, more than the "
                f"{limit:.1f} mm that trimming may take from a side; {half}{OFFERS}."
            )

    def _sides_and_amounts(self, before: Match) -> tuple[tuple[_Side, float], ...]:
        """Each side that changes and by how much it shortens (negative: lengthens), in mm."""
        off = before.difference
        if self.side == "shared":
            return (("a", off / 2), ("b", -off / 2))
        side: _Side = self.side if self.side in ("a", "b") else "a" if off > 0 else "b"
        return ((side, off if side == "a" else -off),)

    def _at_last(self, before: Match) -> bool:
        first, last = before.seam.ends
        wanted = self.end or usual_end(before.seam)
        if wanted not in (first, last):
            raise Refusal(
                f"The seam {self.said} ends at the {spoken(first)} and the {spoken(last)}, not at the "
                f"{spoken(wanted)}; choose one."
            )
        return wanted == last

    def _end_words(self, before: Match) -> str:
        return spoken(before.seam.ends[1 if self._at_last(before) else 0])

    def _refuse_bust_point(self, link: Link, at_last: bool) -> None:
        corner = link.points[-1 if at_last else 0]
        bust_points = [place for name, place in link.piece.landmarks.items() if local_name(name) == "bust_point"]
        if any(gap(corner, place) < 1.0 for place in bust_points):
            raise Refusal(
                f"The seam {self.said} ends at the bust point of piece {link.piece.name}, where nothing is ever "
                f"trimmed; choose its other end.",
                piece=link.piece.name,
                edge=link.edge.name,
            )

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Trim the sheer line to match at the armhole: 1/8 in off the yoke."""
        before = match(garment, garment.seam(self.seam))
        name = self.said
        if abs(before.difference) <= TRIMMED:
            return f"Trim the {name} to match: both sides are equal already."
        words = " and ".join(self._side_words(before, *one, unit=unit) for one in self._sides_and_amounts(before))
        return f"Trim the {name} to match at the {self._end_words(before)}: {words}."

    def _side_words(self, before: Match, side: _Side, amount: float, *, unit: Unit) -> str:
        piece = (before.a if side == "a" else before.b)[-1 if self._at_last(before) else 0].piece.name
        return f"{show_length(abs(amount), unit)} {'off' if amount > 0 else 'added to'} the {piece}"


def usual_end(seam: Seam) -> str:
    """The end at which a seam is trimmed when none is named: the waist where it has one, else its last end."""
    return "waist" if "waist" in seam.ends else seam.ends[1]


def runs_on(link: Link, after: Link) -> bool:
    """Whether two edges of one piece meet end to end without a corner, the directions judged beside it."""
    first, last = _in_loop_order(link, after)
    if gap(as_point(first.points[-1]), as_point(last.points[0])) > SAME_POINT:
        return False
    turn = end_direction(last.points, at_end=False, chord=CORNER_CHORD) - end_direction(
        first.points, at_end=True, chord=CORNER_CHORD
    )
    return abs(remainder(turn, tau)) <= NO_CORNER


def run_together(link: Link, after: Link) -> Link:
    """Two edges of a chain that run on made one, which keeps the name and the origin of the inner (`after`)."""
    first, last = _in_loop_order(link, after)
    points = joined((first.points, last.points))
    edges = [edge for edge in link.piece.edges if edge.name != link.edge.name]
    whole = replace(link.piece.edge(after.edge.name), points=points)
    edges = [whole if edge.name == whole.name else edge for edge in edges]
    return Link(replace(link.piece, edges=tuple(edges)), whole, after.reversed)


def _in_loop_order(link: Link, after: Link) -> tuple[Edge, Edge]:
    own = link.piece.neighbours(link.edge.name)
    return (link.edge, after.edge) if own[1].name == after.edge.name else (after.edge, link.edge)


def trimmed_piece(link: Link, *, at_last: bool, amount: float) -> Piece:
    """The link's piece with the edge shortened by `amount` mm at one end of the seam and the neighbour faded to it."""
    piece, edge = link.piece, link.edge
    at_stop = at_last != link.reversed
    before, after = piece.neighbours(edge.name)
    neighbour = after if at_stop else before
    if neighbour.kind in ("fold", "dart base"):
        raise Refusal(
            f"The {spoken_in_full(edge.name)} of piece {piece.name} ends at a {neighbour.kind}, which cannot move; "
            f"trim at the other end; where that is fixed too, {OFFERS}.",
            piece=piece.name,
            edge=edge.name,
        )
    shorter = _shortened(edge.points, amount, at_stop=at_stop)
    shift = shorter[-1 if at_stop else 0] - edge.points[-1 if at_stop else 0]
    faded = _faded(neighbour.points, shift, from_start=at_stop)
    now = {edge.name: shorter, neighbour.name: faded}
    edges = tuple(replace(e, points=now.get(e.name, e.points)) for e in piece.edges)
    return replace(piece, edges=closed(edges))


def _shortened(points: Points, amount: float, *, at_stop: bool) -> Points:
    if not at_stop:
        return as_points(_shortened(as_points(points[::-1]), amount, at_stop=True)[::-1])
    total = length(points)
    if amount >= 0.0:
        return between(points, 0.0, total - amount)
    angle = tangent_at(points, total)
    return as_points([*points, points[-1] - amount * np.array((np.cos(angle), np.sin(angle)))])


def _faded(points: Points, shift: Points, *, from_start: bool) -> Points:
    """The edge with its end moved by `shift`, the move dying away smoothly over the fade length."""
    if not from_start:
        return as_points(_faded(as_points(points[::-1]), shift, from_start=True)[::-1])
    fine = _with_stations(points)
    along = distances(fine)
    fade = min(FADE, float(along[-1]))
    square = min(SQUARE, fade / 4)
    share = np.clip((along - square) / (fade - square), 0.0, 1.0)
    weight = 1.0 - share * share * (3.0 - 2.0 * share)
    return as_points(fine + weight[:, None] * shift)


def _with_stations(points: Points) -> Points:
    """The polyline with a point at least every 2 mm along the fade, so that a straight edge can bend."""
    along = distances(points)
    stations = np.union1d(along, np.arange(0.0, min(FADE, along[-1]), 2.0))
    stations = stations[np.concatenate(([True], np.diff(stations) > 1e-6))]
    stations[-1] = along[-1]
    return as_points(np.column_stack([np.interp(stations, along, points[:, axis]) for axis in (0, 1)]))


def touched_seams(garment: Garment, changed_seam: str, now: Sequence[Piece]) -> list[tuple[Seam, float]]:
    """Every other seam whose difference the changed pieces alter, with by how much (mm)."""
    after = Change(pieces={piece.name: (piece,) for piece in now}).on(garment)
    edges = [edge for piece in now for edge in piece.edges]
    others = {seam.name: seam for edge in edges for seam in seams_of(garment, edge) if seam.name != changed_seam}
    changes = [(seam, match(after, seam).difference - match(garment, seam).difference) for seam in others.values()]
    return [(seam, by) for seam, by in changes if abs(by) > TRIMMED]
