"""Take in: remove an amount along a seam between levels, each side by its own share.

Contour takes in from the sheer line to nothing at the bust point, where cloth would stand off the hollow above the
bust; tightening takes in from nothing at the bust point over the under-bust to the waist. Amounts below nothing let
the seam out.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees
from typing import Literal, TypeAlias

import msgspec
import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.monotone import Values, monotone
from core.geometry.planar import is_simple_loop
from core.pieces.levels import PASSES
from core.pieces.names import spoken, spoken_in_full
from core.pieces.places import Place, place_words
from core.pieces.records import Change, Garment, Piece, Seam
from core.pieces.seams import Link, Match, match
from core.pieces.taking_in import Course, course_of
from core.steps.across import pieces_across, taken_off_across
from core.steps.step import Effect, Note, Step, fitted
from core.steps.trim import touched_seams
from core.units import Unit, show_length

STEEP = 15.0
"""A wedge of more degrees at the bust point pokes (cutting.md 11)."""

NEAR = 40.0
"""A contour that ends at the bust point is not begun nearer to it than this (mm) (cutting.md 11)."""

SEEN = 0.2
"""A difference (mm) that is no more than exact is not spoken of (a house value)."""

MOST = 150.0
"""More than this (mm) on one side is taken for a slip of the pen."""

Taper: TypeAlias = Literal["wedge", "fade"]
Across: TypeAlias = Literal["leave", "ease", "fold", "trim"]


class Level(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """An amount (mm) to take in on each side at a level of the seam; below nothing it is let out.

    `at` names an end of the seam, a landmark that it passes ("bust_point"), or a level line drawn across it
    ("under_bust_line"); `offset` goes on from there towards the seam's last end.
    """

    at: str
    a: float
    b: float
    offset: float = 0.0


def level_words(level: Level, unit: Unit) -> str:
    """Where a level lies: "at the waist", "at 3 1/2 in on from the sheer line" towards the last end, "back from" it."""
    if level.offset == 0.0:
        return f"at the {spoken(level.at)}"
    way = "on" if level.offset > 0.0 else "back"
    return f"at {show_length(abs(level.offset), unit)} {way} from the {spoken(level.at)}"


class TakeIn(Step, frozen=True, tag="take in"):
    """Take in a seam between its first and its last level.

    Where the amount comes to nothing inside the seam, a "wedge" runs straight to it and adds its angle there, a "fade"
    leaves the old line tangentially and adds none. Seams across the ends that lose length are left with the
    difference, or ("ease") are allowed it, or the piece across loses as much: in a wedge folded out of it from where
    the seam ends to nothing at `across_at` ("fold"), or at the end of the seam across that `across_end` names ("trim").
    `fitting` keeps what was said when it was pinned on the toile; None, it was not.
    """

    seam: str
    levels: tuple[Level, ...]
    taper: Taper = "wedge"
    across: Across = "leave"
    across_at: Place | None = None
    across_end: str = ""
    fitting: str | None = None

    @property
    def said(self) -> str:
        """The seam's name as it is spoken."""
        return spoken_in_full(self.seam)

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The seam, the pieces on both sides, every seam that the ends may touch, and what lies across them."""
        found = match(garment, garment.seam(self.seam))
        read = (*garment.seams.values(), *(garment.pieces[name] for name in found.pieces))
        if self.across not in ("fold", "trim"):
            return read
        hinge = garment.origins.get(self.across_at.edge) if self.across_at else None
        return (*read, hinge, *pieces_across(garment, found))

    def effect(self, garment: Garment) -> Effect:
        """Both pieces with the seam moved; amounts are kept at the levels, along the edge at an end.

        Refusal for fewer than two levels, a level that the seam does not pass, an amount that ends in a step, a side of
        more than one piece, an amount that the piece or a dart in the seam is not wide enough for, and what cannot be
        taken off across.
        """
        self._refuse_levels()
        found = match(garment, garment.seam(self.seam))
        courses = self._course(found.a, "a"), self._course(found.b, "b")
        pieces = [self._taken_in(found.seam, courses[0], "a"), self._taken_in(found.seam, courses[1], "b")]
        change = Change(pieces={piece.name: (piece,) for piece in pieces})
        touched = touched_seams(garment, self.seam, pieces)
        words, others = self._treated(garment, found, touched)
        change = replace(change, pieces={**change.pieces, **others.change.pieces}, seams=others.change.seams)
        own = self._own_notes(found, change.on(garment))
        return Effect(
            change, (*self._angle_notes(found.seam, courses), *own, *_touched_notes(touched, words), *others.notes)
        )

    def _own_notes(self, before: Match, after: Garment) -> list[Note]:
        """What the moved sides differ by, where they did not before: their ends slide along edges that slant."""
        by = match(after, before.seam).difference - before.difference
        if abs(by) < SEEN:
            return []
        words = f"The sides of the seam {self.said} now differ by {abs(by):.1f} mm more: trim it to match."
        return [Note("mismatch", words)]

    def _treated(self, garment: Garment, found: Match, touched: Sequence[tuple[Seam, float]]) -> tuple[str, Effect]:
        """What becomes of the seams across, in words and as a change of them or of the pieces on their other side."""
        if self.across == "ease":
            eased = {seam.name: replace(seam, ease=seam.ease + by) for seam, by in touched}
            return "which is allowed it as ease", Effect(Change(seams=eased))
        if self.across == "leave" or not touched:
            return "which now differs by it: take the same off its other side", Effect(Change())
        hinge, end = (self.across_at, "") if self.across == "fold" else (None, self.across_end)
        return "and its other side loses as much", taken_off_across(garment, found, touched, hinge=hinge, end=end)

    def _refuse_levels(self) -> None:
        if len(self.levels) < 2:
            raise Refusal(f"Taking in the seam {self.said} needs two levels, such as the bust point and an end.")
        for level in self.levels:
            if max(abs(level.a), abs(level.b)) > MOST:
                raise Refusal(
                    f"The amount at the {spoken(level.at)} of the seam {self.said} is over {MOST:.0f} mm a side; give "
                    f"less."
                )

    def _course(self, chain: tuple[Link, ...], side: Literal["a", "b"]) -> Course:
        names = {link.piece.name for link in chain}
        if len(names) != 1:
            raise Refusal(
                f"Side {side} of the seam {self.said} lies on {len(names)} pieces; take in a seam between two panels."
            )
        return course_of(chain, self.said)

    def _taken_in(self, seam: Seam, course: Course, side: Literal["a", "b"]) -> Piece:
        knots = sorted((self._along(seam, course, level), getattr(level, side)) for level in self.levels)
        self._refuse_steps(course, knots)
        moved = course.moved(self._profile(course, knots))
        if not is_simple_loop(moved.loop):
            raise Refusal(
                f"Piece {moved.name} is not wide enough to take in so much along the seam {self.said}; take in less.",
                piece=moved.name,
            )
        return moved

    def _along(self, seam: Seam, course: Course, level: Level) -> float:
        """Where a level lies along one side of the seam, in mm from its first end."""
        if level.at in seam.ends:
            start = 0.0 if level.at == seam.ends[0] else course.length
        else:
            start = course.passes(level.at, self.said)
        return min(max(start + level.offset, 0.0), course.length)

    def _refuse_steps(self, course: Course, knots: list[tuple[float, float]]) -> None:
        (first, at_first), (last, at_last) = knots[0], knots[-1]
        if (first > 1e-6 and at_first) or (last < course.length - 1e-6 and at_last):
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

    def _profile(self, course: Course, knots: list[tuple[float, float]]) -> Values:
        places, amounts = zip(*knots, strict=True)
        fade = self.taper == "fade"
        at = course.stations
        inside = (at >= places[0]) & (at <= places[-1])
        curve = monotone(
            places, amounts, at, flat_first=fade and amounts[0] == 0.0, flat_last=fade and amounts[-1] == 0.0
        )
        return np.where(inside, curve, 0.0)

    def _angle_notes(self, seam: Seam, courses: tuple[Course, Course]) -> list[Note]:
        """The angle that a wedge adds at the bust point; warnings where it is steep or begins near."""
        bust = courses[0].passed("bust_point")
        nothing = [
            level
            for level in self.levels
            if bust is not None and level.a == level.b == 0.0
            if abs(self._along(seam, courses[0], level) - bust) <= PASSES
        ]
        others = [level for level in self.levels if level not in nothing]
        if not nothing or not any(level.a or level.b for level in others):
            return []
        near = self._near_note(seam, courses[0], others)
        if self.taper != "wedge":
            return near
        angle = max((sum(self._wedge(seam, courses, other)) for other in others), key=abs)
        what = "adds" if angle >= 0.0 else "takes away"
        said = f"The wedge {what} {abs(angle):.1f} degrees at the bust point"
        if angle <= STEEP:
            return [Note("advice", f"{said}."), *near]
        return [Note("advice", f"{said}, which may poke: run it on to the under-bust, or fade it."), *near]

    def _near_note(self, seam: Seam, course: Course, others: Sequence[Level]) -> list[Note]:
        """Advice where the contour begins nearer to the bust point than a hand can taper."""
        here = self._along(seam, course, Level("bust_point", 0, 0))
        away = min(abs(self._along(seam, course, level) - here) for level in others if level.a or level.b)
        if away >= NEAR or any(self._along(seam, course, level) > here + 1.0 for level in others):
            return []
        return [
            Note(
                "advice",
                f"It is {away:.0f} mm from there to the bust point, too near to come to nothing: run it on towards the "
                f"under-bust.",
            )
        ]

    def _wedge(self, seam: Seam, courses: tuple[Course, Course], level: Level) -> tuple[float, float]:
        """Degrees that each side turns between the bust point and a level, out of the cloth being negative."""
        angles = []
        for course, amount in zip(courses, (level.a, level.b), strict=True):
            here, there = (self._along(seam, course, lv) for lv in (Level("bust_point", 0, 0), level))
            angles.append(degrees(atan2(amount, max(abs(here - there), 1.0))))
        return angles[0], angles[1]

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Take in the princess: 1/2 in at the sheer line, 0 in at the bust point."""
        lets_out = all(level.a + level.b <= 0.0 for level in self.levels) and any(
            level.a + level.b for level in self.levels
        )
        sign = -1.0 if lets_out else 1.0
        amounts = ", ".join(
            f"{show_length(sign * (level.a + level.b), unit)} {level_words(level, unit)}" for level in self.levels
        )
        verb = "Let out" if lets_out else "Take in"
        return fitted(f"{verb} the {self.said}: {amounts}{self._across_words(unit)}.", self.fitting)

    def _across_words(self, unit: Unit) -> str:
        """What becomes of the seams across, for the sentence."""
        if self.across == "fold" and self.across_at is not None:
            where = place_words(self.across_at, show_length(self.across_at.distance or 0.0, unit))
            return f", and as much folded out of the piece across, to nothing {where}"
        if self.across == "trim":
            return f", and as much taken off the piece across at the {spoken(self.across_end)}"
        return ", eased across" if self.across == "ease" else ""


def _touched_notes(touched: Sequence[tuple[Seam, float]], words: str) -> list[Note]:
    return [
        Note("mismatch", f"Taking in changes the seam {spoken_in_full(seam.name)} by {by:+.1f} mm, {words}.")
        for seam, by in touched
    ]
