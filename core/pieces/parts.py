"""Parts: what a path through a piece divides it into, with the darts, lines and landmarks that lie in each.

A part knows only the edges that it inherits, in loop order; whoever divides the piece closes the part with new edges,
or turns it about a pivot and puts the loop together again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from core.errors import Refusal
from core.geometry.placement import Placement
from core.geometry.planar import inside, is_simple_loop, meetings
from core.geometry.polyline import Point, Points, as_point, as_points, cut_at, joined, length
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


@dataclass(frozen=True, eq=False, slots=True)
class Border:
    """What bounds a part: the edges it inherits, and the path (M, 2) from their last point back to their first."""

    edges: Sequence[Edge]
    path: Points


def part_of_piece(piece: Piece, border: Border) -> Part:
    """The part of a piece inside one border. Refusal when the border crosses the outline or itself."""
    polygon = _polygon(piece, border)
    lines, _ = _shared_out(piece.lines, border.path, polygon)
    return _part(piece, border, polygon, lines)


def two_parts(piece: Piece, first: Border, second: Border) -> tuple[Part, Part]:
    """The two parts of a divided piece: each line's stretches lie in one or the other. Refusal as `part_of_piece`."""
    polygons = _polygon(piece, first), _polygon(piece, second)
    here, there = _shared_out(piece.lines, first.path, polygons[0])
    return _part(piece, first, polygons[0], here), _part(piece, second, polygons[1], there)


def _part(piece: Piece, border: Border, polygon: Points, lines: tuple[Line, ...]) -> Part:
    bases = {edge.name for edge in border.edges if edge.kind == "dart base"}
    darts = tuple(dart for dart in piece.darts if dart.base in bases)
    return Part(tuple(border.edges), darts, lines, _marks_inside(piece, polygon))


def _polygon(piece: Piece, border: Border) -> Points:
    inherited = joined([edge.points for edge in border.edges]) if border.edges else border.path[-1:]
    polygon = _without_repeat(np.vstack((inherited, border.path)))
    if len(polygon) < 3 or not is_simple_loop(polygon):
        raise Refusal(
            f"The cut through piece {piece.name} crosses the outline or itself; draw it inside the piece, and where "
            f"it runs from edge to edge twice, as two lines."
        )
    return polygon


def _without_repeat(loop: Points) -> Points:
    before = np.concatenate((loop[-1:], loop[:-1]))
    return as_points(loop[np.abs(loop - before).max(axis=1) > SAME_POINT])


def _marks_inside(piece: Piece, polygon: Points) -> dict[str, Point]:
    if not piece.landmarks:
        return {}
    kept = inside(polygon, as_points(list(piece.landmarks.values())), slack=LANDMARK_REACH)
    return {name: place for (name, place), is_kept in zip(piece.landmarks.items(), kept, strict=True) if is_kept}


_Stretch: TypeAlias = tuple[Line, float, Points]
"""A stretch with its line and where it begins along it."""


def _shared_out(lines: tuple[Line, ...], path: Points, polygon: Points) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """The lines as they lie inside the polygon and outside it, divided where the path crosses them."""
    stretches = _divided(lines, path)
    if not stretches:
        return (), ()
    kept = inside(polygon, as_points([_middle(stretch) for _, _, stretch in stretches]))
    return (
        _gathered(lines, [stretch for stretch, is_inside in zip(stretches, kept, strict=True) if is_inside]),
        _gathered(lines, [stretch for stretch, is_inside in zip(stretches, kept, strict=True) if not is_inside]),
    )


def _gathered(lines: tuple[Line, ...], stretches: list[_Stretch]) -> tuple[Line, ...]:
    """The lines that have any of the stretches, with those only; the very same line where that is all of it."""
    found = []
    for line in lines:
        own = [stretch for stretch in stretches if stretch[0] is line]
        whole = len(own) == len(line.stretches) and all(o[2] is s for o, s in zip(own, line.stretches, strict=True))
        if own:
            starts, points = tuple(stretch[1] for stretch in own), tuple(stretch[2] for stretch in own)
            found.append(line if whole else replace(line, stretches=points, starts=starts))
    return tuple(found)


def _middle(stretch: Points) -> Point:
    """A point of a stretch that is not one of its ends."""
    return as_point(stretch[len(stretch) // 2] if len(stretch) > 2 else (stretch[0] + stretch[1]) / 2)


def _divided(lines: tuple[Line, ...], path: Points) -> list[_Stretch]:
    """Every stretch of the lines, cut where the path crosses it."""
    whole = [(line, *item) for line in lines for item in zip(line.starts, line.stretches, strict=True)]
    if not whole:
        return []
    met = meetings([stretch for _, _, stretch in whole], path)
    return [part for item, cuts in zip(whole, met, strict=True) for part in (_cut(item, cuts) if cuts else [item])]


def _cut(whole: _Stretch, met: list[float]) -> list[_Stretch]:
    line, start, stretch = whole
    total = length(stretch)
    cuts = [along for along in met if CUT_SLIVER < along < total - CUT_SLIVER]
    if not cuts:
        return [whole]
    return [(line, start + along, part) for along, part in zip([0.0, *cuts], cut_at(stretch, cuts), strict=True)]


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
