"""Taking in: one side of a seam in one piece, moved into the cloth or out of it by an amount that changes along it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, sin

import numpy as np

from core.errors import Refusal
from core.geometry.monotone import Values
from core.geometry.placement import gap
from core.geometry.polyline import (
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
)
from core.geometry.tolerances import CORNER_CHORD, SAME_POINT
from core.pieces.levels import edge_beside, passed_at
from core.pieces.names import spoken
from core.pieces.outline import closed
from core.pieces.records import Edge, Line, Piece
from core.pieces.seams import Link

STATIONS = 2.0
"""Spacing in mm of the points at which a seam is moved: under 0.01 mm of chord error down to radii of 50 mm."""

TURN_IN = 30.0
"""Over this length (mm) from an end the move changes from along the neighbour edge to square to the seam."""

ON_SEAM = 1.0
"""A line that ends within so much (mm) of a seam ends on it."""


@dataclass(frozen=True, eq=False)
class Course:
    """One side of a seam: its links in one piece, each with points close enough to be moved, as the seam runs."""

    piece: Piece
    chain: tuple[Link, ...]
    rows: tuple[Points, ...]

    @cached_property
    def points(self) -> Points:
        """All points end to end, shape (N, 2)."""
        return joined(self.rows)

    @cached_property
    def stations(self) -> Values:
        """How far along the side each point lies, shape (N,), in mm."""
        return distances(self.points)

    @property
    def length(self) -> float:
        """Length of the side in mm."""
        return float(self.stations[-1])

    def passes(self, mark: str, seam: str) -> float:
        """How far along the side a landmark, or the end of a level line, lies. Refusal when it is not passed."""
        found = passed_at(self.piece, self.points, mark)
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
        first, last = edge_beside(self.chain, at_last=False), edge_beside(self.chain, at_last=True)
        shorter = {
            edge.name: _shortened(edge, float(amount), at_first=at_first)
            for (edge, at_first), amount in ((first, amounts[0]), (last, amounts[-1]))
            if amount
        }
        ends = [_corner(shorter.get(edge.name, edge.points), at_first=at_first) for edge, at_first in (first, last)]
        now = self._displaced(amounts, ends)
        rows = {link.edge.name: row for link, row in zip(self.chain, self._split(now), strict=True)}
        edges = [self._edge_now(edge, rows, shorter) for edge in self.piece.edges]
        lines = tuple(_line_met(line, self.points, now) for line in self.piece.lines)
        corners = {
            name: as_point(now[end])
            for name, place in self.piece.landmarks.items()
            for end in (0, -1)
            if amounts[end] and gap(place, self.points[end]) <= SAME_POINT
        }
        marks = {**self.piece.landmarks, **corners}
        return replace(self.piece, edges=closed(edges), lines=lines, landmarks=marks)

    def _displaced(self, amounts: Values, ends: list[Points]) -> Points:
        points, along = self.points, self.stations
        inward = self._inward()
        moved = points + amounts[:, None] * inward
        for index, end in ((0, ends[0]), (-1, ends[1])):
            if amounts[index]:
                # Near an end the move turns from square to the seam to along the neighbour edge, so that the end
                # slides on that edge by just the amount.
                slide = (end - points[index]) / amounts[index] - inward[index]
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

    def _edge_now(self, edge: Edge, rows: dict[str, Points], shorter: dict[str, Points]) -> Edge:
        if edge.name in rows:
            link = next(link for link in self.chain if link.edge.name == edge.name)
            return replace(edge, points=backwards(rows[edge.name]) if link.reversed else rows[edge.name])
        return replace(edge, points=shorter[edge.name]) if edge.name in shorter else edge


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


def course_of(chain: tuple[Link, ...]) -> Course:
    """One side of a seam, all of it in one piece."""
    return Course(chain[0].piece, chain, tuple(_stationed(link.points) for link in chain))


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
