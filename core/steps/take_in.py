"""Take in: remove an amount along a seam between levels, each side by its own share.

Contour takes in from the sheer line to nothing at the bust point, where cloth would stand off the hollow above the
bust; tightening takes in from nothing at the bust point over the under-bust to the waist.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, degrees
from typing import Literal, TypeAlias

import msgspec
import numpy as np

from core.errors import Refusal
from core.geometry.monotone import Values, monotone
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import Points, as_points, backwards, between, distances, joined
from core.pieces.levels import edge_beside, passed_at
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import closed
from core.pieces.records import Change, Edge, Garment, Piece, Seam
from core.pieces.seams import Link, Match, match
from core.steps.step import Effect, Note, Step
from core.steps.trim import touched_seams
from core.units import Unit, show_length

STATIONS = 2.0
"""Spacing in mm of the points at which a seam is moved: under 0.01 mm of chord error down to radii of 50 mm."""

TURN_IN = 30.0
"""Over this length (mm) from an end the move changes from along the neighbour edge to square to the seam."""

STEEP = 15.0
"""A wedge of more degrees at the bust point pokes (cutting.md 11)."""

Taper: TypeAlias = Literal["wedge", "fade"]
Across: TypeAlias = Literal["leave", "ease"]


class Level(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """An amount (mm) to take in on each side at a level of the seam.

    `at` names an end of the seam, a landmark that it passes ("bust_point"), or a level line drawn across it
    ("under_bust_line"); `offset` goes on from there towards the seam's last end.
    """

    at: str
    a: float
    b: float
    offset: float = 0.0


def level_words(level: Level, unit: Unit) -> str:
    """Where a level lies: "at the waist", "3 1/2 in on from the sheer line" towards the last end, "back from" it."""
    if level.offset == 0.0:
        return f"at the {spoken(level.at)}"
    way = "on" if level.offset > 0.0 else "back"
    return f"{show_length(abs(level.offset), unit)} {way} from the {spoken(level.at)}"


class TakeIn(Step, frozen=True, tag="take in"):
    """Take in a seam between its first and its last level.

    Where the amount comes to nothing inside the seam, a "wedge" runs straight to it and adds its angle there, a "fade"
    leaves the old line tangentially and adds none. Seams across the ends that lose length are left with the
    difference, or ("ease") are allowed it.
    """

    seam: str
    levels: tuple[Level, ...]
    taper: Taper = "wedge"
    across: Across = "leave"

    @property
    def said(self) -> str:
        """The seam's name as it is spoken."""
        return spoken_in_full(self.seam)

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The seam, the pieces on both sides, and every seam that the ends may touch."""
        seam = garment.seam(self.seam)
        return (*garment.seams.values(), *(garment.pieces[name] for name in match(garment, seam).pieces))

    def effect(self, garment: Garment) -> Effect:
        """Both pieces with the seam moved in; amounts are kept at the levels, along the edge at an end.

        Refusal for fewer than two levels, a negative amount, a level that the seam does not pass, an amount that ends
        in a step, a side of more than one piece, or an amount that the piece is not wide enough for.
        """
        self._refuse_levels()
        found = match(garment, garment.seam(self.seam))
        pieces = [self._taken_in(found.seam, found.a, "a"), self._taken_in(found.seam, found.b, "b")]
        change = Change(pieces={piece.name: (piece,) for piece in pieces})
        touched = touched_seams(garment, self.seam, pieces)
        if self.across == "ease":
            eased = {seam.name: replace(seam, ease=seam.ease + by) for seam, by in touched}
            change = replace(change, seams=eased)
        return Effect(change, (*self._angle_notes(found), *_touched_notes(touched, self.across)))

    def _refuse_levels(self) -> None:
        if len(self.levels) < 2:
            raise Refusal(f"Taking in the seam {self.said} needs two levels, such as the bust point and an end.")
        for level in self.levels:
            if level.a < 0.0 or level.b < 0.0:
                raise Refusal(f"The amount at the {level.at} of the seam {self.said} is negative; give 0 or more.")

    def _taken_in(self, seam: Seam, chain: tuple[Link, ...], side: Literal["a", "b"]) -> Piece:
        names = {link.piece.name for link in chain}
        if len(names) != 1:
            raise Refusal(
                f"Side {side} of the seam {self.said} lies on {len(names)} pieces; take in a seam between two panels."
            )
        course = _course(chain)
        knots = sorted((self._along(seam, course, level), getattr(level, side)) for level in self.levels)
        self._refuse_steps(course, knots)
        moved = course.moved(self._profile(course, knots))
        if not is_simple_loop(moved.loop):
            raise Refusal(
                f"Piece {moved.name} is not wide enough to take in so much along the seam {self.said}; take in less.",
                piece=moved.name,
            )
        return moved

    def _along(self, seam: Seam, course: _Course, level: Level) -> float:
        """Where a level lies along one side of the seam, in mm from its first end."""
        if level.at in seam.ends:
            start = 0.0 if level.at == seam.ends[0] else course.length
        else:
            start = course.passes(level.at, self.said)
        return min(max(start + level.offset, 0.0), course.length)

    def _refuse_steps(self, course: _Course, knots: list[tuple[float, float]]) -> None:
        (first, at_first), (last, at_last) = knots[0], knots[-1]
        if (first > 1e-6 and at_first > 0.0) or (last < course.length - 1e-6 and at_last > 0.0):
            raise Refusal(
                f"Taking in the seam {self.said} would end in a step on piece {course.piece.name}; let the amount come "
                f"to nothing, or take it on to the end of the seam.",
                piece=course.piece.name,
            )
        if any(b[0] - a[0] < 1.0 for a, b in pairwise(knots)):
            raise Refusal(
                f"Two levels of the seam {self.said} fall on one place; move one.",
                piece=course.piece.name,
            )

    def _profile(self, course: _Course, knots: list[tuple[float, float]]) -> Values:
        places, amounts = zip(*knots, strict=True)
        fade = self.taper == "fade"
        at = course.stations
        inside = (at >= places[0]) & (at <= places[-1])
        curve = monotone(
            places, amounts, at, flat_first=fade and amounts[0] == 0.0, flat_last=fade and amounts[-1] == 0.0
        )
        return np.where(inside, curve, 0.0)

    def _angle_notes(self, found: Match) -> list[Note]:
        """The angle that a wedge adds where it comes to nothing at the bust point, with a warning when it is steep."""
        at_point = [level for level in self.levels if level.at == "bust_point" and level.a == level.b == 0.0]
        if self.taper != "wedge" or not at_point:
            return []
        angle = max(sum(self._wedge(found, other)) for other in self.levels if other is not at_point[0])
        if angle <= STEEP:
            return [Note("advice", f"The wedge adds {angle:.1f} degrees at the bust point.")]
        return [
            Note(
                "advice",
                f"The wedge adds {angle:.1f} degrees at the bust point, which may poke: run it on to the under-bust, "
                f"or fade it.",
            )
        ]

    def _wedge(self, found: Match, level: Level) -> tuple[float, float]:
        """Degrees that each side turns between the bust point and a level."""
        angles = []
        for chain, amount in ((found.a, level.a), (found.b, level.b)):
            course = _course(chain)
            here, there = (self._along(found.seam, course, lv) for lv in (Level("bust_point", 0, 0), level))
            angles.append(degrees(atan2(amount, max(abs(here - there), 1.0))))
        return angles[0], angles[1]

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Take in the princess: 1/2 in at the sheer line, 0 in at the bust point."""
        amounts = ", ".join(
            f"{show_length(level.a + level.b, unit)} {level_words(level, unit)}" for level in self.levels
        )
        return f"Take in the {self.said}: {amounts}."


@dataclass(frozen=True, eq=False, slots=True)
class _Course:
    """One side of a seam: its links in one piece, each with points close enough to be moved, as the seam runs."""

    piece: Piece
    chain: tuple[Link, ...]
    rows: tuple[Points, ...]

    @property
    def points(self) -> Points:
        """All points end to end, shape (N, 2)."""
        return joined(self.rows)

    @property
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
        """The piece with the side moved inward by the amounts at its stations, the neighbours shortened at its ends."""
        first, last = edge_beside(self.chain, at_last=False), edge_beside(self.chain, at_last=True)
        shorter = {
            edge.name: _shortened(edge, float(amount), at_first=at_first)
            for (edge, at_first), amount in ((first, amounts[0]), (last, amounts[-1]))
            if amount > 0.0
        }
        ends = [_corner(shorter.get(edge.name, edge.points), at_first=at_first) for edge, at_first in (first, last)]
        now = self._displaced(amounts, ends)
        rows = {link.edge.name: row for link, row in zip(self.chain, self._split(now), strict=True)}
        edges = [self._edge_now(edge, rows, shorter) for edge in self.piece.edges]
        return replace(self.piece, edges=closed(edges))

    def _displaced(self, amounts: Values, ends: list[Points]) -> Points:
        points, along = self.points, self.stations
        inward = _normals(points) * (-1.0 if self.chain[0].reversed else 1.0)
        moved = points + amounts[:, None] * inward
        for index, end in ((0, ends[0]), (-1, ends[1])):
            if amounts[index] > 0.0:
                # Near an end the move turns from square to the seam to along the neighbour edge, so that the end
                # slides on that edge by just the amount.
                share = np.clip(1.0 - np.abs(along - along[index]) / TURN_IN, 0.0, 1.0)
                slide = (end - points[index]) / amounts[index] - inward[index]
                moved = moved + (share * share * (3 - 2 * share) * amounts)[:, None] * slide
        return as_points(moved)

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


def _course(chain: tuple[Link, ...]) -> _Course:
    return _Course(chain[0].piece, chain, tuple(_stationed(link.points) for link in chain))


def _stationed(points: Points) -> Points:
    """The polyline with points no farther apart than the stations, its own vertices kept."""
    along = distances(points)
    fine = np.union1d(along, np.linspace(0.0, along[-1], int(along[-1] / STATIONS) + 2))
    fine = fine[np.concatenate(([True], np.diff(fine) > 1e-6))]
    fine[-1] = along[-1]
    return as_points(np.column_stack([np.interp(fine, along, points[:, axis]) for axis in (0, 1)]))


def _normals(points: Points) -> Points:
    """Unit normals to the left of the direction of travel, shape (N, 2), by the chords on both sides of each point."""
    chords = np.gradient(points, axis=0)
    left = np.column_stack((-chords[:, 1], chords[:, 0]))
    return as_points(left / np.hypot(left[:, 0], left[:, 1])[:, None])


def _shortened(edge: Edge, amount: float, *, at_first: bool) -> Points:
    if edge.kind in ("fold", "dart base") or amount >= edge.length - 1.0:
        raise Refusal(
            f"The {edge.name.replace('_', ' ')} beside the seam cannot give {amount:.1f} mm; take in less there.",
            edge=edge.name,
        )
    return between(edge.points, amount, edge.length) if at_first else between(edge.points, 0.0, edge.length - amount)


def _corner(points: Points, *, at_first: bool) -> Points:
    corner: Points = points[0] if at_first else points[-1]
    return corner


def _touched_notes(touched: list[tuple[Seam, float]], across: Across) -> list[Note]:
    words = "is allowed it as ease" if across == "ease" else "now differs by it: take the same off its other side"
    return [
        Note("mismatch", f"Taking in changes the seam {spoken_in_full(seam.name)} by {by:+.1f} mm, which {words}.")
        for seam, by in touched
    ]
