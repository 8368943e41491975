"""Taking in: one side of a seam in one piece, moved into the cloth or out of it by an amount that changes along it.

A dart that stands open in the side is folded for it, as a cutter would: the side is moved in one run over the fold and
opened again, so that it ends on both legs at one distance.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise
from math import cos, sin
from typing import Final

import msgspec
import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.monotone import Values
from core.geometry.placement import Placement, about, angle_between, gap
from core.geometry.polyline import (
    Point,
    Points,
    as_point,
    as_points,
    backwards,
    between,
    crossings,
    distances,
    end_direction,
    joined,
    length,
    nearest,
    with_ends,
)
from core.geometry.tolerances import CORNER_CHORD, SAME_POINT
from core.pieces.levels import edge_beside, passed_at
from core.pieces.names import spoken
from core.pieces.outline import closed
from core.pieces.records import Dart, Edge, Line, Origin, Piece
from core.pieces.seams import Link

STATIONS = 2.0
"""Spacing in mm of the points at which a seam is moved: under 0.01 mm of chord error down to radii of 50 mm."""

TURN_IN = 30.0
"""Over this length (mm) from an end the move changes from along the neighbour edge to square to the seam."""

ON_SEAM = 1.0
"""A line that ends within so much (mm) of a seam ends on it."""


FLAT: Final = Placement()
"""How a row lies before which no dart was folded."""

NOTHING: Final = 1e-9
"""An amount of less (mm) is a rounding of nothing, and nothing slides by it."""

SHORTEST_DART: Final = 5.0
"""A dart that would be sewn over less (mm) once the seam is taken in is none any more."""


class Course(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """One side of a seam: its links in one piece, each with points close enough to be moved, as the seam runs.

    The rows lie as they do with the darts between them folded; `laid` says how each came there from the flat piece,
    and `folded` names the dart before each, if there is one.
    """

    piece: Piece
    chain: tuple[Link, ...]
    rows: tuple[Points, ...]
    laid: tuple[Placement, ...]
    folded: tuple[Dart | None, ...]

    @cached_property
    def points(self) -> Points:
        """All points end to end with the darts folded, shape (N, 2)."""
        return joined(self.rows)

    @cached_property
    def stations(self) -> Values:
        """How far along the side each point lies, shape (N,), in mm."""
        return distances(self.points)

    @property
    def length(self) -> float:
        """Length of the side in mm."""
        return float(self.stations[-1])

    def passed(self, mark: str) -> float | None:
        """How far along the side a landmark, or the end of a level line, lies; None where it is not passed."""
        reached = 0.0
        for row in self._opened(self.rows):
            found = passed_at(self.piece, row, mark)
            if found is not None:
                return reached + found
            reached += length(row)
        return None

    def passes(self, mark: str, seam: str) -> float:
        """As `passed`; Refusal when it is not passed."""
        found = self.passed(mark)
        if found is None:
            raise Refusal(
                f"The seam {seam} does not pass the {spoken(mark)} on piece {self.piece.name}; choose another level.",
                piece=self.piece.name,
            )
        return found

    def moved(self, amounts: Values) -> Piece:
        """The piece with the side moved inward by the amounts (N,) in mm at its stations, outward below nothing.

        The edges beside its ends are shortened, or run straight on, by as much. Refusal where they cannot be.
        """
        amounts = np.where(np.abs(amounts) < NOTHING, 0.0, amounts)
        first, last = edge_beside(self.chain, at_last=False), edge_beside(self.chain, at_last=True)
        shorter = {
            edge.name: _shortened(edge, float(amount), at_first=at_first)
            for (edge, at_first), amount in ((first, amounts[0]), (last, amounts[-1]))
            if amount
        }
        ends = [
            as_point(place.points(_corner(shorter.get(edge.name, edge.points), at_first=at_first)[None])[0])
            for (edge, at_first), place in ((first, self.laid[0]), (last, self.laid[-1]))
        ]
        old = self._opened(self.rows)
        now = self._opened(self._ended_on_legs(self._split(self._displaced(amounts, ends))))
        if not amounts[-1]:  # folded and opened again it would be where it was but for a rounding
            now[-1] = with_ends(now[-1], last=as_point(self.chain[-1].points[-1]))
        darts = {dart.name: dart for dart in self._darts_now(now)}
        rows = {link.edge.name: row for link, row in zip(self.chain, now, strict=True)}
        edges = [self._edge_now(edge, rows, shorter, darts) for edge in self.piece.edges]
        lines = tuple(_line_met(line, joined(old), joined(now)) for line in self.piece.lines)
        corners = {
            name: as_point(now[end][end])
            for name, place in self.piece.landmarks.items()
            for end in (0, -1)
            if amounts[end] and gap(place, as_point(old[end][end])) <= SAME_POINT
        }
        return replace(
            self.piece,
            edges=closed(edges),
            lines=lines,
            darts=tuple(darts.get(dart.name, dart) for dart in self.piece.darts),
            landmarks={**self.piece.landmarks, **corners},
        )

    def _opened(self, rows: Sequence[Points]) -> list[Points]:
        """Rows with the darts between them open again, as they lie on the flat piece."""
        return [
            row if place is FLAT else place.inverse().points(row) for row, place in zip(rows, self.laid, strict=True)
        ]

    def _ended_on_legs(self, rows: list[Points]) -> list[Points]:
        """The moved rows, ended where they run over the legs of folded darts. Refusal when none is left of a dart."""
        for index, dart in enumerate(self.folded):
            if dart is None:
                continue
            pivot, end = self.laid[index].point(dart.pivot), as_point(self.rows[index][0])
            leg = as_points((pivot, (2 * end[0] - pivot[0], 2 * end[1] - pivot[1])))
            both = joined(rows[index - 1 : index + 1])
            met, usual = [along for along, _ in crossings(both, leg)], length(rows[index - 1])
            at = min(met, key=lambda along: abs(along - usual), default=0.0)
            rows[index - 1 : index + 1] = between(both, 0.0, at), between(both, at, length(both))
            sewn = gap(pivot, as_point(rows[index][0])) - gap(dart.pivot, dart.point)
            if not met or sewn < SHORTEST_DART:
                raise Refusal(
                    f"So much taken in would cut the {spoken(dart.name)} of piece {self.piece.name} away; take in "
                    f"less, or pivot the dart into another place first.",
                    piece=self.piece.name,
                )
        return rows

    def _darts_now(self, rows: Sequence[Points]) -> list[Dart]:
        """The folded darts with legs that end where the opened rows do."""
        darts = []
        for index, dart in enumerate(self.folded):
            if dart is not None:
                legs = as_point(rows[index - 1][-1]), as_point(rows[index][0])
                is_first = gap(dart.legs[0], as_point(self.chain[index - 1].points[-1])) <= SAME_POINT
                darts.append(replace(dart, legs=legs if is_first else (legs[1], legs[0])))
        return darts

    def _displaced(self, amounts: Values, ends: Sequence[Point]) -> Points:
        points, along = self.points, self.stations
        inward = self._inward()
        moved = points + amounts[:, None] * inward
        for index, end in ((0, ends[0]), (-1, ends[1])):
            if amounts[index]:
                # Near an end the move turns from square to the seam to along the neighbour edge, so that the end
                # slides on that edge by just the amount.
                slide = (np.array(end) - points[index]) / amounts[index] - inward[index]
                moved = moved + (_fading((along - along[index]) / TURN_IN) * amounts)[:, None] * slide
        return as_points(moved)

    def _inward(self) -> Points:
        """Where each point (N, 2) goes for a millimetre: square to its link, and at a joint to where both links meet.

        Square alone, links that meet in a corner would run over each other or part there.
        """
        squares = [_normals(row) for row in self.rows]
        ways = [square.copy() for square in squares]
        for index in range(len(self.rows) - 1):
            meeting = squares[index][-1] + squares[index + 1][0]
            corner = meeting / (1.0 + squares[index][-1] @ squares[index + 1][0])
            for number, end in ((index, -1), (index + 1, 0)):
                along = distances(self.rows[number])
                reach = min(TURN_IN, along[-1])
                ways[number] += _fading((along - along[end]) / reach)[:, None] * (corner - squares[number][end])
        return as_points(joined(ways) * (-1.0 if self.chain[0].reversed else 1.0))

    def _split(self, points: Points) -> list[Points]:
        """The moved points dealt out to the links again."""
        rows, start = [], 0
        for row in self.rows:
            rows.append(as_points(points[start : start + len(row)]))
            start += len(row) - 1
        return rows

    def _edge_now(
        self, edge: Edge, rows: dict[str, Points], shorter: dict[str, Points], darts: dict[str, Dart]
    ) -> Edge:
        if edge.name in rows:
            link = next(link for link in self.chain if link.edge.name == edge.name)
            return replace(edge, points=backwards(rows[edge.name]) if link.reversed else rows[edge.name])
        if edge.kind == "dart base" and edge.origin.edge in darts:
            legs = darts[edge.origin.edge].legs
            return Edge(
                edge.name, edge.kind, _between_legs(edge.points, legs), Origin(edge.origin.edge, 0.0, gap(*legs))
            )
        return replace(edge, points=shorter[edge.name]) if edge.name in shorter else edge


def _between_legs(base: Points, legs: tuple[Point, Point]) -> Points:
    """A dart's base carried to other leg ends; one that was trued to a peak keeps its shape."""
    places = base[:, 0] + 1j * base[:, 1]
    first, last = (complex(*leg) for leg in legs)
    carried = first + (places - places[0]) * (last - first) / (places[-1] - places[0])
    return with_ends(as_points(np.column_stack((carried.real, carried.imag))), first=legs[0], last=legs[1])


def _line_met(line: Line, old: Points, now: Points) -> Line:
    """The line, ended on the moved seam where it ended on it before."""
    stretches = [*line.stretches]
    if nearest(old, stretches[-1][-1])[1] <= ON_SEAM:
        stretches[-1] = _stretch_met(stretches[-1], now)
    if nearest(old, stretches[0][0])[1] <= ON_SEAM:
        stretches[0] = backwards(_stretch_met(backwards(stretches[0]), now))
    same = all(a is b or (len(a) == len(b) and (a == b).all()) for a, b in zip(stretches, line.stretches, strict=True))
    return line if same else replace(line, stretches=tuple(stretches), starts=())


def _stretch_met(stretch: Points, now: Points) -> Points:
    off = nearest(now, stretch[-1])[1]
    if off <= SAME_POINT:
        return stretch
    way, reach = end_direction(stretch, at_end=True, chord=CORNER_CHORD), 3.0 * off + ON_SEAM
    long = as_points([*stretch, stretch[-1] + reach * np.array((cos(way), sin(way)))])
    met = [along for along, _ in crossings(long, now)]
    return between(long, 0.0, min(met, key=lambda along: abs(along - length(stretch)))) if met else stretch


def course_of(chain: tuple[Link, ...], seam: str) -> Course:
    """One side of a seam, all of it in one piece. Refusal where other edges than an open dart's base divide it."""
    laid, folded = [FLAT], [None, *(_dart_between(*links, seam) for links in pairwise(chain))]
    for dart, (before, after) in zip(folded[1:], pairwise(chain), strict=True):
        if dart is None:
            laid.append(laid[-1])
            continue
        ends = as_point(after.points[0]), as_point(before.points[-1])
        laid.append(about(dart.pivot, angle_between(dart.pivot, *ends)).then(laid[-1]))
    rows = (_stationed(link.points) for link in chain)
    folded_rows = tuple(row if place is FLAT else place.points(row) for row, place in zip(rows, laid, strict=True))
    return Course(chain[0].piece, chain, folded_rows, tuple(laid), tuple(folded))


def _dart_between(before: Link, after: Link, seam: str) -> Dart | None:
    """The dart that stands open between two links of a side; None where they meet."""
    ends = as_point(before.points[-1]), as_point(after.points[0])
    if gap(*ends) <= SAME_POINT:
        return None
    for dart in before.piece.darts:
        if any(
            max(gap(ends[0], one), gap(ends[1], other)) <= SAME_POINT for one, other in (dart.legs, dart.legs[::-1])
        ):
            return dart
    raise Refusal(
        f"The seam {seam} is divided on piece {before.piece.name} by an edge that is not sewn in it; take in a seam "
        f"that runs on in one piece.",
        piece=before.piece.name,
    )


def _stationed(points: Points) -> Points:
    """The polyline with points no farther apart than the stations, its own vertices kept."""
    along = distances(points)
    fine = np.union1d(along, np.linspace(0.0, along[-1], int(along[-1] / STATIONS) + 2))
    fine = fine[np.concatenate(([True], np.diff(fine) > 1e-6))]
    fine[-1] = along[-1]
    return as_points(np.column_stack([np.interp(fine, along, points[:, axis]) for axis in (0, 1)]))


def _fading(away: Values) -> Values:
    """1 at 0, smoothly down to nothing at 1 on both sides; shape (N,)."""
    share = np.clip(1.0 - np.abs(away), 0.0, 1.0)
    fading: Values = share * share * (3 - 2 * share)
    return fading


def _normals(points: Points) -> Points:
    """Unit normals to the left of the direction of travel, shape (N, 2), by the chords on both sides of each point.

    The nearer neighbour counts for more, so that two points that all but lie on each other go the same way.
    """
    chords = np.gradient(points, distances(points), axis=0)
    left = np.column_stack((-chords[:, 1], chords[:, 0]))
    return as_points(left / np.hypot(left[:, 0], left[:, 1])[:, None])


def _shortened(edge: Edge, amount: float, *, at_first: bool) -> Points:
    if edge.kind in ("fold", "dart base") or amount >= edge.length - 1.0:
        raise Refusal(
            f"The {spoken(edge.name)} beside the seam cannot {'give' if amount > 0.0 else 'be let out by'} "
            f"{abs(amount):.1f} mm; {'take in' if amount > 0.0 else 'let out'} less there.",
            edge=edge.name,
        )
    if not at_first:
        return backwards(_from_start(backwards(edge.points), amount))
    return _from_start(edge.points, amount)


def _from_start(points: Points, amount: float) -> Points:
    """The polyline begun so far along it, or run on straight before its beginning."""
    if amount > 0.0:
        return between(points, amount, float(distances(points)[-1]))
    way = end_direction(points, at_end=False, chord=CORNER_CHORD)
    return as_points([points[0] + amount * np.array((cos(way), sin(way))), *points])


def _corner(points: Points, *, at_first: bool) -> Points:
    corner: Points = points[0] if at_first else points[-1]
    return corner
