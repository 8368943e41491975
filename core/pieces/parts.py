"""Parts: what a path through a piece divides it into, with the darts, lines and landmarks that lie in each.

A part knows only the edges that it inherits, in loop order; whoever divides the piece closes the part with new edges,
or turns it about a pivot and puts the loop together again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.errors import Refusal
from core.geometry.placement import Placement
from core.geometry.planar import depths, is_simple_loop
from core.geometry.polyline import Point, Points, as_point, as_points, crossings, cut_at, joined, length
from core.geometry.tolerances import SAME_POINT
from core.pieces.outline import is_centre, placed_dart, placed_edge, placed_line, rejoined
from core.pieces.records import Dart, Edge, Line, Piece

LANDMARK_REACH = 1.0
"""A landmark on a cut belongs to both parts; one this near (mm) to a part's outline still counts as on it."""

CUT_SLIVER = 1e-4
"""A crossing this near (mm) to a line's end divides nothing."""


@dataclass(frozen=True, eq=False, slots=True)
class Part:
    """Edges in loop order, from the path's far end round to its near end, and what lies on the cloth between."""

    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...]
    lines: tuple[Line, ...]
    landmarks: dict[str, Point]

    def placed(self, placement: Placement) -> Part:
        """The part moved, everything on it with it."""
        return Part(
            tuple(placed_edge(edge, placement) for edge in self.edges),
            tuple(placed_dart(dart, placement) for dart in self.darts),
            tuple(placed_line(line, placement) for line in self.lines),
            {name: placement.point(place) for name, place in self.landmarks.items()},
        )

    @property
    def is_anchored(self) -> bool:
        """Whether the part holds the fold or the centre seam: that part lies still while the other turns."""
        return any(is_centre(edge) for edge in self.edges)


def part_of_piece(piece: Piece, edges: Sequence[Edge], path: Points) -> Part:
    """The part of a piece bounded by `edges` and, from their last point back to their first, by `path` (M, 2)."""
    inherited = joined([edge.points for edge in edges]) if edges else path[-1:]
    polygon = as_points(_without_repeat(np.vstack((inherited, path))))
    if len(polygon) < 3 or not is_simple_loop(polygon):
        raise Refusal(f"The cut through piece {piece.name} crosses the outline or itself; draw it inside the piece.")
    bases = {edge.name for edge in edges if edge.kind == "dart base"}
    darts = tuple(dart for dart in piece.darts if dart.base in bases)
    return Part(tuple(edges), darts, _lines_inside(piece.lines, polygon, path), _marks_inside(piece, polygon))


def _marks_inside(piece: Piece, polygon: Points) -> dict[str, Point]:
    if not piece.landmarks:
        return {}
    inside = depths(polygon, as_points(list(piece.landmarks.values()))) >= -LANDMARK_REACH
    return {name: place for (name, place), kept in zip(piece.landmarks.items(), inside, strict=True) if kept}


def _without_repeat(loop: Points) -> Points:
    steps = np.hypot(*(loop - np.roll(loop, 1, axis=0)).T)
    return as_points(loop[steps > SAME_POINT])


def _lines_inside(lines: tuple[Line, ...], polygon: Points, path: Points) -> tuple[Line, ...]:
    parts = [(line, *part) for line in lines for part in _divided(line, path)]
    if not parts:
        return ()
    middles = as_points([_middle(stretch) for _, _, stretch in parts])
    inside = [part for part, depth in zip(parts, depths(polygon, middles), strict=True) if depth > -CUT_SLIVER]
    return tuple(_kept(line, [part for part in inside if part[0] is line]) for line in lines if _any_of(line, inside))


def _middle(stretch: Points) -> Point:
    """A point of a stretch that is not one of its ends."""
    return as_point(stretch[len(stretch) // 2] if len(stretch) > 2 else (stretch[0] + stretch[1]) / 2)


def _any_of(line: Line, parts: list[tuple[Line, float, Points]]) -> bool:
    return any(owner is line for owner, _, _ in parts)


def _kept(line: Line, parts: list[tuple[Line, float, Points]]) -> Line:
    """The line with these parts only; the very same line when that is all of it."""
    if len(parts) == len(line.stretches) and all(p[2] is s for p, s in zip(parts, line.stretches, strict=True)):
        return line
    return replace(line, stretches=tuple(part[2] for part in parts), starts=tuple(part[1] for part in parts))


def _divided(line: Line, path: Points) -> list[tuple[float, Points]]:
    """The parts into which a path divides a line, each with where it begins along the line."""
    found: list[tuple[float, Points]] = []
    for start, stretch in zip(line.starts, line.stretches, strict=True):
        met = crossings(stretch, path)
        cuts = _inner_cuts(stretch, [along for along, _ in met]) if met else []
        parts = cut_at(stretch, cuts) if cuts else [stretch]
        found += [(start + along, part) for along, part in zip([0.0, *cuts], parts, strict=True)]
    return found


def _inner_cuts(stretch: Points, cuts: list[float]) -> list[float]:
    total = length(stretch)
    return [along for along in cuts if CUT_SLIVER < along < total - CUT_SLIVER]


def _both(first: Line, second: Line) -> Line:
    return replace(first, stretches=first.stretches + second.stretches, starts=first.starts + second.starts)


def together(first: Part, second: Part) -> tuple[tuple[Dart, ...], tuple[Line, ...], dict[str, Point]]:
    """Darts, lines and landmarks of two parts as one piece's; the first part's landmarks win where both have one."""
    lines = {line.name: line for line in first.lines}
    for line in second.lines:
        mate = lines.get(line.name)
        whole = line if mate is None else _both(mate, line)
        lines[line.name] = rejoined(whole)
    return (*first.darts, *second.darts), tuple(lines.values()), {**second.landmarks, **first.landmarks}
