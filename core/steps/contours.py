"""Contours: the usual amounts to take in, each with where it is from.

The table of a pattern-making course gives them for a standard figure and for half the body, "each closed into another
dart" (trade.md C4); amounts for the figure at hand come from cutting a toile and measuring the gape.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, TypeAlias

import msgspec

from core.pieces.levels import APART, SeamLevel, passed_at, seam_levels
from core.pieces.seams import Match, chain_points
from core.steps.take_in import NEAR

Where: TypeAlias = Literal["top", "upper circle", "lower circle", "under-bust"]

COURSE: Final = "a pattern-making course's table for a standard figure (trade.md C4)"
COMMON: Final = "common practice, no source"
INCH: Final = 25.4


class Contour(msgspec.Struct, frozen=True):
    """An amount (mm, both sides of the seam together) taken in at a place, to nothing at the levels beyond it.

    `tops` are words of which the upper end of the seam has one; none, and any seam through the bust point will do.
    """

    name: str
    amount: float
    where: Where
    source: str
    tops: tuple[str, ...] = ()


GAPE: Final = Contour("Spread the gape evenly", INCH / 2, "top", COMMON)
"""A measured excess at the sheer line comes off by half on each side, to nothing at the bust point."""

CONTOURS: Final = (
    Contour("Tighten under the bust", INCH / 2, "under-bust", COMMON),
    Contour("Low neckline", INCH / 4, "upper circle", COURSE, ("neck", "sheer")),
    Contour("Cut-away armhole", INCH / 2, "upper circle", COURSE, ("armhole",)),
    Contour("Hollow below the shoulder", 0.13 * INCH, "top", COURSE, ("shoulder",)),
    Contour("Empire line", 0.75 * INCH, "lower circle", COURSE),
)


class Taking(msgspec.Struct, frozen=True):
    """What is taken in at a level by name, in mm on both sides together."""

    level: str
    amount: float


def takings(contour: Contour, found: Match) -> tuple[Taking, ...]:
    """The levels of a seam at which a contour takes in, or comes to nothing, in no order; none where it has no place.

    A gape nearer than 40 mm to the bust point is run on towards the under-bust (cutting.md 11). Where the seam begins
    inside the bust circle, what belongs at the circle is taken in at its beginning, less by as much as that is nearer
    to the bust point.
    """
    down = _downwards(found)
    bust = _bust_index(found, down)
    is_below = contour.where in ("under-bust", "lower circle")
    if bust is None or not (0 if is_below else 1) <= bust < len(down) - 1:
        return ()
    if contour.tops and not any(word in down[0].name for word in contour.tops):
        return ()
    return tuple(_takings(contour, down, bust))


def _bust_index(found: Match, down: tuple[SeamLevel, ...]) -> int | None:
    """Which level is the bust point's: its own, or the seam's upper end where a sheer line runs through the point."""
    if not down:
        return None
    along = passed_at(found.a[0].piece, chain_points(found.a), "bust_point")
    near = [index for index, level in enumerate(down) if along is not None and abs(level.a.along - along) <= APART]
    return near[0] if near else None


def _downwards(found: Match) -> tuple[SeamLevel, ...]:
    """The levels from the seam's upper end to its lower one."""
    levels = seam_levels(found)
    return levels[::-1] if levels and levels[0].name.endswith("waist") else levels


def _takings(contour: Contour, down: tuple[SeamLevel, ...], bust: int) -> Iterator[Taking]:
    names = [level.name for level in down]
    away = [abs(level.a.along - down[bust].a.along) for level in down]
    if contour.where == "top":
        yield Taking(names[0], contour.amount)
        yield Taking(names[bust + 1 if away[0] < NEAR else bust], 0.0)
    elif contour.where == "upper circle":
        yield from _above(contour.amount, names[: bust + 1], away)
    else:
        wanted = "lower_bust_circle" if contour.where == "lower circle" else "under_bust_line"
        other = "under_bust_line" if contour.where == "lower circle" else "lower_bust_circle"
        at = next((name for name in (wanted, other) if name in names[bust + 1 : -1]), "")
        if at:
            yield from (Taking(names[bust], 0.0), Taking(at, contour.amount), Taking(names[-1], 0.0))


def _above(amount: float, names: list[str], away: list[float]) -> Iterator[Taking]:
    """At the circle above the bust point; where the seam begins inside it, less at the beginning."""
    if "upper_bust_circle" in names[:-1]:
        yield from (Taking(names[0], 0.0), Taking("upper_bust_circle", amount))
    else:
        yield Taking(names[0], amount * min(away[0] / (3.0 * INCH), 1.0))
    yield Taking(names[-1], 0.0)
