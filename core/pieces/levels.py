"""Levels that a seam passes: its ends, landmarks that it runs through, and level lines drawn across it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, sin
from typing import Final

import msgspec

from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_point, backwards, end_direction, nearest, point_at
from core.geometry.tolerances import CORNER_CHORD, SAME_POINT
from core.pieces.names import RIGHT
from core.pieces.outline import local_name
from core.pieces.records import Edge, Garment, Piece
from core.pieces.seams import Link, Match, chain_length, chain_points

PASSES: Final = 1.0
"""A seam passes a mark that lies within this of it (mm)."""

APART: Final = 5.0
"""Of two levels nearer to each other than this (mm), only the first is offered."""

SQUARE_CHORD: Final = 1.0
"""The seam's direction at a level is that of the chord over this much (mm) on both sides of it."""


class SideLevel(msgspec.Struct, frozen=True):
    """Where one side of a seam passes a level, in the frame of its piece, `along` mm from the seam's first end.

    `inward` is the unit vector in which an amount is taken in there: along the edge beside the seam at an end, square
    to the seam inside it.
    """

    piece: str
    along: float
    at: Point
    inward: Point


class SeamLevel(msgspec.Struct, frozen=True):
    """A level by the name that a step gives it ("bust_point"), on both sides of its seam; `offset` mm on from there."""

    name: str
    a: SideLevel
    b: SideLevel
    offset: float = 0.0


CIRCLE: Final = ("upper_bust_circle", "lower_bust_circle")
"""Where a seam passes the foot of the breast, above the bust point and below it."""


def passed_at(piece: Piece, points: Points, mark: str) -> float | None:
    """How far along a seam's side a landmark of its piece, or an end of a level line, lies; None when not passed.

    `points` (N, 2) are the side's, in mm. On the right half a mark is called as on the left one.
    """
    places = [at for name, at in piece.landmarks.items() if local_name(name) == mark and "line" not in mark]
    wanted = "bust_circle" if mark in CIRCLE else mark
    for line in piece.lines:
        if line.name.endswith(f".{wanted}"):
            places += [as_point(end) for stretch in line.stretches for end in (stretch[0], stretch[-1])]
    if mark in CIRCLE:
        bust = piece.landmarks.get("bust_point")
        places = [] if bust is None else [at for at in places if (at[1] > bust[1]) == (mark == CIRCLE[0])]
    found = (along for along, off in (nearest(points, place) for place in places) if off <= PASSES)
    return next(found, None)


def seam_levels(found: Match) -> tuple[SeamLevel, ...]:
    """The levels of a seam between two pieces, from its first end to its last; none where a side has other pieces."""
    if any(len({link.piece.name for link in chain}) != 1 for chain in (found.a, found.b)):
        return ()
    ends = [_level(found, found.seam.ends[0], (0.0, 0.0)), _level(found, found.seam.ends[1], _lengths(found))]
    kept = ends
    for name in _marks(found.a[0].piece):
        places = [_passed(chain, name) for chain in (found.a, found.b)]
        if places[0] is None or places[1] is None:
            continue
        if all(abs(places[0] - level.a.along) > APART for level in kept):
            kept = [*kept, _level(found, name, (places[0], places[1]))]
    return tuple(sorted(kept, key=lambda level: level.a.along))


def level_at(found: Match, name: str, offset: float) -> SeamLevel | None:
    """The level that lies so far (mm) on from a named one towards the seam's last end; None when it is not passed."""
    lengths, starts = _lengths(found), (0.0, 0.0)
    if name == found.seam.ends[1]:
        starts = lengths
    elif name != found.seam.ends[0]:
        passed = [_passed(chain, name) for chain in (found.a, found.b)]
        if passed[0] is None or passed[1] is None:
            return None
        starts = (passed[0], passed[1])
    a, b = (min(max(start + offset, 0.0), whole) for start, whole in zip(starts, lengths, strict=True))
    return SeamLevel(name, _side(found.a, a), _side(found.b, b), offset)


def level_girth(garment: Garment, name: str) -> float:
    """How long a level line ("under_bust_line") is round the whole body as the pieces are now, in mm.

    Pieces that are cut on the fold or as a pair count twice; copies for linings do not count.
    """
    return sum(
        line.length * (1.0 if piece.is_single else 2.0)
        for piece in garment.pieces.values()
        for line in piece.lines
        if line.name.removeprefix(f"{RIGHT}.") == f"{piece.block}.{name}"
    )


def edge_girth(garment: Garment, name: str) -> float:
    """How long all that descends from an edge of the block ("waist") is round the whole body, in mm, darts closed."""
    return sum(
        edge.length * (1.0 if piece.is_single else 2.0)
        for piece, edge in garment.edges()
        if edge.kind != "dart base" and edge.origin.edge.removeprefix(f"{RIGHT}.") == f"{piece.block}.{name}"
    )


def _lengths(found: Match) -> tuple[float, float]:
    return (found.length_a, found.length_b)


def _marks(piece: Piece) -> Iterator[str]:
    """Landmarks first: where a level line runs through one, the landmark is what is meant."""
    yield from dict.fromkeys(local_name(name) for name in piece.landmarks if "line" not in name)
    names = (local_name(line.name) for line in piece.lines if line.purpose == "level")
    yield from (name for name in names if name.endswith("_line"))
    yield from CIRCLE


def _level(found: Match, name: str, along: tuple[float, float]) -> SeamLevel:
    return SeamLevel(name, _side(found.a, along[0]), _side(found.b, along[1]))


def _side(chain: Sequence[Link], along: float) -> SideLevel:
    points, here = _run_at(chain, along)
    total = sum(link.edge.length for link in chain)
    if along <= PASSES or along >= total - PASSES:
        direction = _beside(chain, at_last=along > total / 2)
        inward = (cos(direction), sin(direction))
    else:
        (ax, ay), (bx, by) = (point_at(points, here + off) for off in (-SQUARE_CHORD, SQUARE_CHORD))
        size = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1e-9)
        left = ((ay - by) / size, (bx - ax) / size)
        # The inside of a piece lies left of its outline, so right of a side that runs against it.
        inward = (-left[0], -left[1]) if chain[0].reversed else left
    return SideLevel(chain[0].piece.name, along, point_at(points, here), inward)


def _passed(chain: Sequence[Link], mark: str) -> float | None:
    """How far along a side it passes a mark, open darts not counted; None when it does not."""
    reached = 0.0
    for run in _runs(chain):
        found = passed_at(chain[0].piece, chain_points(run), mark)
        if found is not None:
            return reached + found
        reached += chain_length(run)
    return None


def _run_at(chain: Sequence[Link], along: float) -> tuple[Points, float]:
    """The points of a side that hold a place so far (mm) along it, no open dart among them, and how far along those."""
    *others, last = _runs(chain)
    for run in others:
        size = chain_length(run)
        if along <= size:
            return chain_points(run), along
        along -= size
    return chain_points(last), along


def _runs(chain: Sequence[Link]) -> list[tuple[Link, ...]]:
    """A side in the runs that open darts leave of it."""
    runs: list[list[Link]] = [[chain[0]]]
    for before, after in pairwise(chain):
        if gap(as_point(before.points[-1]), as_point(after.points[0])) > SAME_POINT:
            runs.append([])
        runs[-1].append(after)
    return [tuple(run) for run in runs]


def _beside(chain: Sequence[Link], *, at_last: bool) -> float:
    """The direction (radians) in which the edge beside an end of the side leaves it."""
    edge, meets_first = edge_beside(chain, at_last=at_last)
    away = edge.points if meets_first else backwards(edge.points)
    return end_direction(away, at_end=False, chord=CORNER_CHORD)


def edge_beside(chain: Sequence[Link], *, at_last: bool) -> tuple[Edge, bool]:
    """The edge beyond an end of a seam's side, and whether it is its first point that meets the side."""
    link = chain[-1 if at_last else 0]
    before, after = link.piece.neighbours(link.edge.name)
    return (after, True) if at_last != link.reversed else (before, False)
