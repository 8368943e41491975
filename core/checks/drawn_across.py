"""A line drawn over pieces that lie together at a seam: what of it lies on each, and where it passes the seam.

It passes the seam at the same distance on both sides from the end where they are laid together, as the edges will be
sewn; in the third next to the other end from there, as what one side is longer by is eased between. A point beside the
seam on either piece keeps the curve running on over it as it was drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import copysign
from typing import Final

import msgspec
from msgspec.structs import replace

from core.checks.walk import from_end
from core.errors import Refusal
from core.geometry.curve import fair_curve
from core.geometry.placement import Placement, gap
from core.geometry.polyline import Point, Points, crossings, nearest, point_at
from core.geometry.tolerances import JOIN_GAP
from core.pieces.names import spoken, spoken_in_full
from core.pieces.places import Place
from core.pieces.records import Garment, Piece
from core.pieces.seams import Link, Match, chain_length
from core.steps.step import LinePoint
from core.units import Unit, show_length

BESIDE: Final = 15.0
"""mm from the seam at which a line is held to its course on both sides, or less where a placed point is near."""

FAR: Final = 2 / 3
"""From this share of a seam on a place is counted from its other end: ease lies between. Common practice, no source."""

NEAREST: Final = 4.0
"""mm: a placed point nearer to the seam than this holds the line to its course by itself."""

ON_SEAM: Final = 0.05
"""mm: a point that was placed this near to a seam lies on it."""


class Part(msgspec.Struct, frozen=True, eq=False):
    """What of a line is placed on one piece: the piece as it is shown, how it lies, the points in the piece's mm."""

    piece: Piece
    place: Placement
    points: tuple[LinePoint, ...]

    @property
    def on_table(self) -> list[Point]:
        """The points as they lie on the table."""
        return [self.place.point((point.x, point.y)) for point in self.points]


class Spot(msgspec.Struct, frozen=True, eq=False):
    """A place on one side of a seam: the edge that holds it, how far along the seam's way on that edge, the point."""

    link: Link
    along: float
    at: Point

    def place(self, garment: Garment) -> Place:
        """The place by its origin, counted from the end that the seam is told from, so that both sides keep step."""
        edge, origin = self.link.edge, garment.origins[self.link.edge.origin.edge]
        along = edge.length - self.along if self.link.reversed else self.along
        on_origin = edge.origin.at(along / edge.length)
        if (edge.origin.start < edge.origin.stop) != self.link.reversed:
            return Place(origin.name, origin.ends[0], distance=max(on_origin, 0.0))
        return Place(origin.name, origin.ends[1], distance=max(origin.length - on_origin, 0.0))


class Crossing(msgspec.Struct, frozen=True, eq=False):
    """Where a line passes a seam, `along` mm from one of its ends on both sides.

    `seam` is told from that end, side a being the one that the line comes from. `at` is the place on side a on the
    table; `apart` is how far (mm) from there the place on side b lies while the pieces lie as they do.
    """

    seam: Match
    along: float
    first: Spot
    second: Spot
    at: Point
    apart: float

    def words(self, unit: Unit) -> str:
        """For example: over the shoulder 1 3/8 in from the neck."""
        end = spoken(self.seam.seam.ends[0])
        return f"over the {spoken_in_full(self.seam.seam.name)} {show_length(self.along, unit)} from the {end}"


def drawn_across(
    garment: Garment, parts: Sequence[Part], seams: Sequence[Match], unit: Unit
) -> tuple[tuple[Part, ...], tuple[Crossing, ...]]:
    """The parts with their ends on the seams between them, and where the line passes each.

    `seams[i]` lies between part i and the next, told from where they meet, side a being on part i. Refusal when the
    line does not pass through a seam, or where one side holds no edge. Whether it steps there, `refuse_step` tells.
    """
    placed = [place for part in parts for place in part.on_table]
    curve = _fair(placed)
    met = [_crossing(curve, (parts[i], parts[i + 1]), found, unit=unit) for i, found in enumerate(seams)]
    through, ends = _through(parts, met), pairwise((None, *met, None))
    return tuple(_held(garment, *pair, through) for pair in zip(parts, ends, strict=True)), tuple(met)


def refuse_step(crossing: Crossing, line: str, unit: Unit) -> None:
    """Refusal, with how far the line would step at the seam, where the edges do not meet as they lie."""
    if crossing.apart <= JOIN_GAP:
        return
    found, (first, second) = crossing.seam, (crossing.first.link.piece.name, crossing.second.link.piece.name)
    name, end = spoken_in_full(found.seam.name), spoken(found.seam.ends[0])
    off = found.length_a - found.length_b
    longer = first if off > 0 else second
    where = f"{show_length(crossing.along, unit)} from the {end}"
    why = f" The {longer} is {show_length(abs(off), unit)} longer there." if abs(off) > JOIN_GAP else ""
    raise Refusal(
        f"The {line} would step by {show_length(crossing.apart, unit)} at the {name}: {where} the edges of the {first} "
        f"and the {second} do not meet as they lie.{why} Lay them together where the line crosses.",
        piece=first,
    )


def _fair(placed: Sequence[Point]) -> Points:
    try:
        return fair_curve(placed)
    except ValueError as error:
        raise Refusal("Two points of the line lie on one spot; move one.") from error


def _crossing(curve: Points, parts: tuple[Part, Part], found: Match, *, unit: Unit) -> Crossing:
    """Where the curve leaves the first part's edge, from the end where they meet, or the other near that."""
    first, second = parts
    along = _leaves(curve, first, second, found)
    if along is None:
        raise Refusal(
            f"The line does not pass through the {spoken_in_full(found.seam.name)} between the {first.piece.name} and "
            f"the {second.piece.name}: place a point nearer to the seam on each.",
            piece=first.piece.name,
        )
    whole = chain_length(found.a)
    told = from_end(found, 1 if along > FAR * whole else 0)
    along = whole - along if along > FAR * whole else along
    spots = [
        _spot(part.piece, chain, along, told, unit=unit) for part, chain in zip(parts, (told.a, told.b), strict=True)
    ]
    at = first.place.point(spots[0].at)
    return Crossing(told, along, spots[0], spots[1], at, gap(at, second.place.point(spots[1].at)))


def _leaves(curve: Points, first: Part, second: Part, found: Match) -> float | None:
    """How far along side a (mm) the curve passes it between the last point of one part and the first of the next."""
    start, stop = first.on_table[-1], second.on_table[0]
    begun, ended = nearest(curve, start)[0], nearest(curve, stop)[0]
    passed = 0.0
    for link in found.a:
        lying = first.place.points(link.points)
        for placed in (start, stop):
            along, off = nearest(lying, placed)
            if link.piece is first.piece and off <= ON_SEAM:
                return passed + along
        met = [along for at, along in crossings(curve, lying) if begun <= at <= ended]
        if link.piece is first.piece and met:
            return passed + met[0]
        passed += link.edge.length
    return None


def _spot(piece: Piece, chain: Sequence[Link], along: float, told: Match, *, unit: Unit) -> Spot:
    """The place at a distance along a side. Refusal when it lies on another piece, or beyond the side's end."""
    passed = 0.0
    for link in chain:
        if along <= passed + link.edge.length:
            if link.piece is not piece:
                break
            return Spot(link, along - passed, point_at(link.points, along - passed))
        passed += link.edge.length
    where = f"{spoken_in_full(told.seam.name)} {show_length(along, unit)} from the {spoken(told.seam.ends[0])}"
    raise Refusal(
        f"The {piece.name} has no edge at the {where}, where the line crosses: cross the seam elsewhere, or end the "
        f"line there.",
        piece=piece.name,
    )


def _through(parts: Sequence[Part], met: Sequence[Crossing]) -> Points:
    """The fair curve on the table through all that is placed and through the seams."""
    places: list[Point] = []
    for part, crossing in zip(parts, (*met, None), strict=True):
        for place in (*part.on_table, *((crossing.at,) if crossing is not None else ())):
            if not places or gap(places[-1], place) > JOIN_GAP:
                places.append(place)
    return _fair(places)


def _held(garment: Garment, part: Part, ends: tuple[Crossing | None, Crossing | None], through: Points) -> Part:
    """A part from the seam where the line comes to it to the seam where it leaves, on its course beside each."""
    came, leaves = ends
    own = replace(part, points=tuple(point for point in part.points if not _is_on_seam(part, point, ends)))
    first = _seam_end(garment, own, (came, came.second), through) if came is not None else []
    last = _seam_end(garment, own, (leaves, leaves.first), through) if leaves is not None else []
    return replace(own, points=(*first, *own.points, *last[::-1]))


def _is_on_seam(part: Part, point: LinePoint, ends: Sequence[Crossing | None]) -> bool:
    at = part.place.point((point.x, point.y))
    return any(end is not None and gap(at, end.at) <= JOIN_GAP for end in ends)


def _seam_end(garment: Garment, part: Part, end: tuple[Crossing, Spot], through: Points) -> list[LinePoint]:
    """The point on the seam and one beside it, in the piece's mm; none beside it near a placed one, or at a step."""
    crossing, spot = end
    on_seam = LinePoint(*spot.at, place=spot.place(garment))
    at = nearest(through, crossing.at)[0]
    others = [nearest(through, place)[0] - at for place in part.on_table]
    ahead = min(others, key=abs, default=2 * BESIDE if spot is crossing.second else -2 * BESIDE)
    if abs(ahead) <= NEAREST or crossing.apart > JOIN_GAP:
        return [on_seam]
    beside = point_at(through, at + copysign(min(BESIDE, abs(ahead) / 2), ahead))
    return [on_seam, LinePoint(*part.place.inverse().point(beside))]
