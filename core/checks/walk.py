"""Walking a seam: one edge is rolled along its mate, as a cutter does before she trusts two edges to be sewn together.

Side a lies still. At a distance from the seam's first end, side b is laid so that it touches side a at that distance on
both, running the same way. Ahead of that place the two edges lie together as far as their shapes agree.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2
from typing import Final

import msgspec
import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from core.errors import Refusal
from core.geometry.placement import Placement
from core.geometry.polyline import Point, Points, as_points, distances, point_at
from core.geometry.tolerances import JOIN_GAP
from core.pieces.names import spoken_in_full
from core.pieces.seams import Link, Match, chain_length, chain_points

STEP: Final = 1.0
"""Spacing (mm) of the places at which the two edges are compared; between two of them the place is halved for."""

HALVINGS: Final = 20
"""Halvings of a step, to a millionth of a millimetre."""

CHORD: Final = 0.5
"""An edge's direction is that of the chord over this much (mm) on both sides of the place."""


class Contact(msgspec.Struct, frozen=True, eq=False):
    """Side b laid to side a at a place of their seam: `placement` lays `moving`'s piece in `still`'s frame.

    `at` is where the two touch, in that frame; both edges run the same way there.
    """

    placement: Placement
    still: Link
    moving: Link
    at: Point


class Walk(Contact, frozen=True, eq=False):
    """Side b rolled to a place of its seam.

    `parts` is how far from the seam's first end (mm) they first part by over 0.5 mm ahead of that place, None when
    they do not; where one edge ends that much sooner, they part there.
    """

    parts: float | None


def from_end(found: Match, which: int) -> Match:
    """The seam told from its first end (0) or from its last (1): both chains run from there, and its ends follow."""
    if which == 0:
        return found
    a, b = (tuple(replace(link, reversed=not link.reversed) for link in chain[::-1]) for chain in (found.a, found.b))
    seam = replace(found.seam, ends=(found.seam.ends[1], found.seam.ends[0]))
    return replace(found, seam=seam, a=a, b=b)


def with_sides_changed(found: Match) -> Match:
    """The seam with its second side named first, the ease wanted with it."""
    seam = replace(found.seam, a=found.seam.b, b=found.seam.a, ease=-found.seam.ease)
    return Match(seam, found.b, found.a, found.length_b, found.length_a)


def contact(found: Match, distance: float) -> Contact:
    """Side b laid to side a at `distance` mm from the seam's first end; clamped to what both sides have.

    Refusal when a side of the seam holds no edge.
    """
    return _laid(found, distance)[0]


def walk(found: Match, distance: float) -> Walk:
    """As `contact`, and where the two part ahead of that place."""
    met, a, b, here = _laid(found, distance)
    return Walk(met.placement, met.still, met.moving, met.at, _parting(a, b, met.placement, here))


def _laid(found: Match, distance: float) -> tuple[Contact, _Stretch, _Stretch, float]:
    for chain in (found.a, found.b):
        if not chain:
            raise Refusal(
                f"The seam {spoken_in_full(found.seam.name)} has lost a side, so there is nothing to walk along."
            )
    here = min(max(distance, 0.0), chain_length(found.a), chain_length(found.b))
    a, b = _Stretch.at(found.a, here), _Stretch.at(found.b, here)
    turn = a.direction(here) - b.direction(here)
    at = a.point(here)
    x, y = Placement(turn).point(b.point(here))
    placement = Placement(turn, at[0] - x, at[1] - y)
    return Contact(placement, a.link(here), b.link(here), at), a, b, here


class _Stretch(msgspec.Struct, frozen=True, eq=False):
    """The links of a side that follow one another on one piece, from `start` mm along the side to `stop`."""

    links: tuple[Link, ...]
    points: Points
    start: float
    stop: float
    is_last: bool

    @classmethod
    def at(cls, chain: Sequence[Link], distance: float) -> _Stretch:
        """The stretch that holds a distance; where two meet, the later one."""
        start = 0.0
        for links in (runs := _runs(chain)):
            stop = start + chain_length(links)
            if distance < stop or links is runs[-1]:
                return cls(links, chain_points(links), start, stop, links is runs[-1])
            start = stop
        raise ValueError("a side without edges cannot be walked")

    def point(self, distance: float) -> Point:
        """The place at a distance along the side, in the piece's frame."""
        return point_at(self.points, distance - self.start)

    def row(self, along: NDArray[np.float64]) -> Points:
        """The places at distances (N,) along the side, shape (N, 2)."""
        known = distances(self.points)
        return as_points(np.column_stack([np.interp(along - self.start, known, self.points[:, i]) for i in (0, 1)]))

    def direction(self, distance: float) -> float:
        """The direction of the side in radians."""
        (ax, ay), (bx, by) = self.point(distance - CHORD), self.point(distance + CHORD)
        return atan2(by - ay, bx - ax)

    def link(self, distance: float) -> Link:
        """The link that holds the distance."""
        reached = self.start
        for link in self.links:
            reached += link.edge.length
            if distance < reached:
                return link
        return self.links[-1]


def _runs(chain: Sequence[Link]) -> list[tuple[Link, ...]]:
    """The links dealt out to the pieces that they follow one another on."""
    found: list[tuple[Link, ...]] = []
    for link in chain:
        if found and found[-1][-1].piece is link.piece:
            found[-1] = (*found[-1], link)
        else:
            found.append((link,))
    return found


def _parting(a: _Stretch, b: _Stretch, placement: Placement, here: float) -> float | None:
    """Where the two first part ahead of `here`, as far as they stay on these two pieces."""

    def part(along: NDArray[np.float64]) -> NDArray[np.bool_]:
        off = a.row(along) - placement.points(b.row(along))
        found: NDArray[np.bool_] = np.hypot(off[:, 0], off[:, 1]) > JOIN_GAP
        return found

    stop = min(a.stop, b.stop)
    along = np.linspace(here, stop, max(int((stop - here) / STEP), 1) + 1)
    apart = part(along)
    if not apart.any():
        ends_alone = a.is_last and b.is_last and abs(a.stop - b.stop) > JOIN_GAP
        return stop if ends_alone else None
    index = int(apart.argmax())
    low, high = float(along[max(index - 1, 0)]), float(along[index])
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if part(np.array([middle]))[0] else (middle, high)
    return high
