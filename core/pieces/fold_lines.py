"""Where darts that are folded shut lie on a piece as it is shown: a line from the outline to the pivot each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from core.geometry.placement import Placement, gap, laying
from core.geometry.polyline import Point, point_at
from core.pieces.records import Dart, Edge, Piece

BESIDE: Final = 2.0
"""mm of the edge beside a leg that tell how that side of the dart has turned."""

SAME: Final = 1e-3
"""mm along an original edge within which a place lies on a stretch of it."""


class FoldLine(msgspec.Struct, frozen=True):
    """A dart that lies shut: where its legs meet the outline, where it turns, where its sewing ends; in mm."""

    dart: str
    mouth: Point
    pivot: Point
    point: Point


def fold_lines(flat: Piece, shown: Piece, darts: Sequence[str]) -> tuple[FoldLine, ...]:
    """The folds of some darts of a flat piece on the one that is shown with all of them shut.

    The cloth beside a leg moves with the edge that ends there, which keeps its origin; of a dart that has none beside
    it, between two others, nothing is told.
    """
    return tuple(line for name in darts for line in _fold_line(flat, shown, flat.dart(name)))


def _fold_line(flat: Piece, shown: Piece, dart: Dart) -> Iterator[FoldLine]:
    """The fold by the cloth beside one leg or the other; nothing where neither can be told."""
    for edge, leg, is_last in zip(flat.neighbours(dart.base), dart.legs, (True, False), strict=True):
        moved = None if edge.kind == "dart base" else _moved(edge, shown, at_end=is_last)
        if moved is not None:
            mouth, pivot = moved.point(leg), moved.point(dart.pivot)
            share = gap(dart.pivot, dart.point) / dart.leg_length
            sewn = (pivot[0] + share * (mouth[0] - pivot[0]), pivot[1] + share * (mouth[1] - pivot[1]))
            yield FoldLine(dart.name, mouth, pivot, sewn)
            return


def _moved(edge: Edge, shown: Piece, *, at_end: bool) -> Placement | None:
    """How the cloth by an end of a flat edge has moved; None where the shown piece no longer has it."""
    reach = min(BESIDE, edge.length / 2)
    at, inner = (edge.length, edge.length - reach) if at_end else (0.0, reach)
    there, ahead = _on_shown(edge, at, shown), _on_shown(edge, inner, shown)
    if there is None or ahead is None:
        return None
    return laying(point_at(edge.points, at), point_at(edge.points, inner), onto=there, onto_towards=ahead)


def _on_shown(edge: Edge, along: float, shown: Piece) -> Point | None:
    """The place on the shown piece that holds what lies so far along a flat edge."""
    here = edge.origin.at(along / edge.length)
    for other in shown.edges:
        start, stop = other.origin.start, other.origin.stop
        is_same = (other.origin.edge, other.origin.side, other.kind) == (edge.origin.edge, edge.origin.side, edge.kind)
        if is_same and min(start, stop) - SAME <= here <= max(start, stop) + SAME:
            share = min(max((here - start) / (stop - start), 0.0), 1.0)
            return point_at(other.points, share * other.length)
    return None
