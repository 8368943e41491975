"""Parts: what a path through a piece divides it into, with the darts, lines and landmarks that lie in each.

A part knows only the edges that it inherits, in loop order; whoever divides the piece closes the part with new edges,
or turns it about a pivot and puts the loop together again.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import msgspec
import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray

from core.errors import Refusal
from core.geometry.placement import Placement
from core.geometry.planar import inside_each, is_simple_loop, meetings
from core.geometry.polyline import Point, Points, as_point, as_points, cut_at, joined, length
from core.geometry.tolerances import SAME_POINT
from core.pieces.outline import is_centre, placed_dart, placed_edge, placed_line, rejoined
from core.pieces.records import Dart, Edge, Line, Piece

LANDMARK_REACH = 1.0
"""A landmark on a cut belongs to both parts; one this near (mm) to a part's outline still counts as on it."""

CUT_SLIVER = 1e-4
"""A crossing this near (mm) to a line's end divides nothing."""


class Part(msgspec.Struct, frozen=True, eq=False):
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


class Border(msgspec.Struct, frozen=True, eq=False):
    """What bounds a part: the edges it inherits, and the path (M, 2) from their last point back to their first."""

    edges: Sequence[Edge]
    path: Points


def part_of_piece(piece: Piece, border: Border) -> Part:
    """The part of a piece inside one border. Refusal when the border crosses the outline or itself."""
    stretches = _divided(piece.lines, border.path)
    (marks,), kept = _held(piece, stretches, [_polygon(piece, border)])
    return _part(piece, border, _gathered(piece.lines, stretches, kept), marks)


def two_parts(piece: Piece, first: Border, second: Border) -> tuple[Part, Part]:
    """The two parts of a divided piece: each line's stretches lie in one or the other. Refusal as `part_of_piece`."""
    stretches = _divided(piece.lines, first.path)
    (here, there), kept = _held(piece, stretches, [_polygon(piece, border) for border in (first, second)])
    return (
        _part(piece, first, _gathered(piece.lines, stretches, kept), here),
        _part(piece, second, _gathered(piece.lines, stretches, ~kept), there),
    )


def _part(piece: Piece, border: Border, lines: tuple[Line, ...], marks: NDArray[np.bool_]) -> Part:
    bases = {edge.name for edge in border.edges if edge.kind == "dart base"}
    darts = tuple(dart for dart in piece.darts if dart.base in bases)
    landmarks = {name: place for (name, place), is_held in zip(piece.landmarks.items(), marks, strict=True) if is_held}
    return Part(tuple(border.edges), darts, lines, landmarks)


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


_Stretch: TypeAlias = tuple[Line, float, Points]
"""A stretch with its line and where it begins along it."""


def _held(
    piece: Piece, stretches: Sequence[_Stretch], polygons: Sequence[Points]
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which landmarks each polygon holds, (polygons, landmarks), and which stretches the first does, (stretches,).

    All are looked up at once: it is the dearest question of a cut.
    """
    marks = len(piece.landmarks)
    places = [*piece.landmarks.values(), *(_middle(stretch) for _, _, stretch in stretches)]
    if not places:
        return np.zeros((len(polygons), 0), dtype=np.bool_), np.zeros(0, dtype=np.bool_)
    reach = np.repeat((LANDMARK_REACH, 0.0), (marks, len(stretches)))
    held = inside_each(polygons, as_points(places), slack=reach)
    return held[:, :marks], held[0, marks:]


def _gathered(lines: tuple[Line, ...], stretches: list[_Stretch], kept: NDArray[np.bool_]) -> tuple[Line, ...]:
    """The lines that have any of the kept stretches, with those only; the very same line where that is all of it."""
    held: dict[str, list[_Stretch]] = {}
    for stretch, is_kept in zip(stretches, kept.tolist(), strict=True):
        if is_kept:
            held.setdefault(stretch[0].name, []).append(stretch)
    return tuple(_with_stretches(line, held[line.name]) for line in lines if line.name in held)


def _with_stretches(line: Line, own: Sequence[_Stretch]) -> Line:
    if len(own) == len(line.stretches) and all(o[2] is s for o, s in zip(own, line.stretches, strict=True)):
        return line
    starts, points = tuple(stretch[1] for stretch in own), tuple(stretch[2] for stretch in own)
    return Line(line.name, line.purpose, points, line.intended_ends, starts)


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
