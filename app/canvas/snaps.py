"""Snapping: the named place that the pointer is near enough to mean.

Points win over edges: a landmark, a dart's pivot, the middle or an end of an edge; then a place along an edge; then a
drawn line. All in the frame of the piece as it is shown; `reach` in mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import msgspec

from core.geometry.placement import gap
from core.geometry.polyline import Point, as_point, nearest, point_at
from core.pieces.folded_piece import SLIT
from core.pieces.names import spoken
from core.pieces.outline import is_centre, local_name
from core.pieces.places import Place, place_at, place_on_line
from core.pieces.records import Edge, Garment, Piece
from core.units import Unit, show_length

FAR: Final = 1e6
"""mm: any distance will do."""


class Snap(msgspec.Struct, frozen=True):
    """A place with the name that is shown beside it, and what is stored so that it holds when the piece changes."""

    name: str
    at: Point
    landmark: str = ""
    place: Place | None = None

    @property
    def is_end(self) -> bool:
        """Whether a line that reaches this place can end there: on an edge or on another line."""
        return self.place is not None


def snap(
    garment: Garment, piece: Piece, at: Point, reach: float, *, unit: Unit, edges: bool = True, skip: str = ""
) -> Snap | None:
    """The place meant by a pointer at `at`, or None. `skip` is a line's name, for a line does not snap to itself.

    Without `edges` only landmarks and pivots count: what the inner points of a line may be meant to lie on.
    """
    points = [*_landmarks(piece), *(_edge_points(garment, piece) if edges else ())]
    best = _nearest(points, at, reach)
    if best is None and edges:
        best = _on_edge(garment, piece, at, reach, unit=unit) or _on_line(garment, piece, at, reach, skip=skip)
    return best


def nearest_end(garment: Garment, piece: Piece, at: Point, *, unit: Unit, skip: str = "") -> Snap:
    """The place on an edge or another line nearest to a place, however far: where the end of a line goes."""
    edge = _on_edge(garment, piece, at, FAR, unit=unit)
    line = _on_line(garment, piece, at, FAR, skip=skip)
    found = [place for place in (edge, line) if place is not None]
    return min(found, key=lambda place: gap(place.at, at))


def _nearest(points: list[Snap], at: Point, reach: float) -> Snap | None:
    best = min(points, key=lambda point: gap(point.at, at), default=None)
    return best if best is not None and gap(best.at, at) <= reach else None


def _landmarks(piece: Piece) -> Iterator[Snap]:
    for name, at in piece.landmarks.items():
        yield Snap(spoken(name), at, landmark=name)
    for dart in piece.darts:
        if not dart.name.endswith(SLIT) and all(gap(dart.pivot, at) > 1e-6 for at in piece.landmarks.values()):
            yield Snap(f"pivot of the {spoken(dart.name)}", dart.pivot)


def _edge_points(garment: Garment, piece: Piece) -> Iterator[Snap]:
    """Middles of whole edges and their ends, the leg ends of darts among them."""
    for edge in piece.edges:
        if edge.kind == "dart base" or edge.origin.edge not in garment.origins:
            continue
        origin = garment.origins[edge.origin.edge]
        middle = origin.length / 2
        low, high = sorted((edge.origin.start, edge.origin.stop))
        if low < middle < high:
            share = (middle - edge.origin.start) / (edge.origin.stop - edge.origin.start)
            place = Place(origin.name, origin.ends[0], share=0.5)
            yield Snap(f"mid {_words(edge)}", point_at(edge.points, share * edge.length), place=place)
        for distance, point in ((0.0, edge.points[0]), (edge.length, edge.points[-1])):
            yield Snap(f"end of the {_words(edge)}", as_point(point), place=place_at(garment, edge, distance))


def edge_middles(garment: Garment, piece: Piece) -> list[Snap]:
    """The middles of edges that are no centre edge: where a dart may be sent by name."""
    centres = {f"mid {_words(edge)}" for edge in piece.edges if is_centre(edge)}
    return [
        point
        for point in _edge_points(garment, piece)
        if point.place is not None and point.place.share is not None and point.name not in centres
    ]


def _words(edge: Edge) -> str:
    return spoken(edge.origin.edge)


def _on_edge(garment: Garment, piece: Piece, at: Point, reach: float, *, unit: Unit) -> Snap | None:
    held = [edge for edge in piece.edges if edge.kind != "dart base" and edge.origin.edge in garment.origins]
    met = [(edge, *nearest(edge.points, at)) for edge in held]
    if not met:
        return None
    edge, along, off = min(met, key=lambda found: found[2])
    if off > reach:
        return None
    place = place_at(garment, edge, along)
    shown = show_length(place.distance or 0.0, unit)
    name = f"{_words(edge)}, {shown} from the {place.end.replace('_', ' ')}"
    return Snap(name, point_at(edge.points, along), place=place)


def _on_line(garment: Garment, piece: Piece, at: Point, reach: float, *, skip: str) -> Snap | None:
    """On another drawn line, as a share of its length."""
    found: list[tuple[float, Snap]] = []
    for line in piece.lines:
        if line.name == skip or line.purpose not in ("sheer", "panel") or line.name not in garment.origins:
            continue
        for start, stretch in zip(line.starts, line.stretches, strict=True):
            along, off = nearest(stretch, at)
            place = place_on_line(garment, line, start + along)
            name = f"on the {local_name(line.name).replace('_', ' ')}"
            found.append((off, Snap(name, point_at(stretch, along), place=place)))
    off, best = min(found, key=lambda pair: pair[0], default=(reach + 1.0, None))
    return best if off <= reach else None
