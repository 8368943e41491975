"""Places named by origin: "3 1/2 in from the neck along the shoulder". They hold through later cuts and turns."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from core.errors import Refusal
from core.geometry.polyline import Point, length, point_at
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import OnLoop
from core.pieces.records import Edge, Garment, Line, Piece


class Place(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A place on an original edge: a distance in mm, or a share of its length, from one of its ends.

    `edge` is the origin's full name ("front.shoulder"); `end` names what lies at the end one counts from ("neck").
    Exactly one of `distance` and `share` is given: a middle is a share, and stays the middle when the edge grows
    (cutting.md 16).
    """

    edge: str
    end: str
    distance: float | None = None
    share: float | None = None


def place_words(place: Place, shown: str) -> str:
    """The place in words; `shown` is the distance already written in the user's unit."""
    edge = spoken(place.edge)
    if place.share is not None:
        return f"{place.share:.0%} along the {edge} from the {spoken(place.end)}"
    return f"{shown} from the {spoken(place.end)} along the {edge}"


def along_origin(garment: Garment, place: Place) -> float:
    """Millimetres from the original edge's first point; Refusal when edge, end or amount make no sense."""
    origin = garment.origins.get(place.edge)
    if origin is None:
        line = spoken_in_full(place.edge)
        raise Refusal(f"There is no {line} to measure along: draw it first, or choose one of the block's edges.")
    if place.end not in origin.ends:
        ends = " and ".join(spoken(end) for end in origin.ends)
        raise Refusal(f"The {spoken(place.edge)} ends at {ends}, not at {spoken(place.end)}.", edge=place.edge)
    if (place.distance is None) == (place.share is None):
        raise Refusal(f"A place on {place.edge} needs either a distance or a share of its length, not both.")
    amount = place.share * origin.length if place.share is not None else (place.distance or 0.0)
    if not -1e-6 <= amount <= origin.length + 1e-6:
        raise Refusal(
            f"The place on {place.edge} lies {amount:.1f} mm from the {place.end}, but the edge is only "
            f"{origin.length:.1f} mm long; choose a place on it.",
            edge=place.edge,
        )
    return amount if place.end == origin.ends[0] else origin.length - amount


def holders(piece: Piece, origin: str) -> Iterator[tuple[int, Edge]]:
    """The edges of a piece that descend from an original edge, with their index in the loop."""
    return ((index, edge) for index, edge in enumerate(piece.edges) if edge.origin.edge == origin)


def resolve(garment: Garment, piece: Piece, place: Place) -> OnLoop:
    """Where the place lies on the piece's outline now; Refusal when the piece no longer holds it."""
    wanted = along_origin(garment, place)
    best: tuple[float, OnLoop] | None = None
    for index, edge in holders(piece, place.edge):
        low, high = sorted((edge.origin.start, edge.origin.stop))
        off = max(low - wanted, wanted - high, 0.0)
        held = edge.origin.stop - edge.origin.start
        share = (min(max(wanted, low), high) - edge.origin.start) / held if held else 0.0
        if best is None or off < best[0]:
            best = (off, OnLoop(index, share * edge.length))
    if best is None or best[0] > 1e-3:
        raise Refusal(
            f"Piece {piece.name} no longer holds that place on {place.edge}: it was cut away; choose another place.",
            piece=piece.name,
            edge=place.edge,
        )
    return best[1]


def resolved_point(garment: Garment, piece: Piece, place: Place) -> Point:
    """The point where the place lies now: on the piece's outline, or on a line that is drawn on it and not cut yet."""
    for line in piece.lines:
        if line.name == place.edge:
            return _on_line(line, along_origin(garment, place))
    on = resolve(garment, piece, place)
    return point_at(piece.edges[on.index].points, on.distance)


def _on_line(line: Line, along: float) -> Point:
    """The point at a distance along a line, the darts that it crosses being closed."""
    start, stretch = max(
        (pair for pair in zip(line.starts, line.stretches, strict=True) if pair[0] <= along + 1e-6),
        key=lambda pair: pair[0],
        default=(line.starts[0], line.stretches[0]),
    )
    return point_at(stretch, along - start)


def place_on_line(garment: Garment, line: Line, along: float) -> Place:
    """The place at a distance along a drawn line, as a share of it, so that it goes along when the line is moved."""
    origin = garment.origins[line.name]
    return Place(line.name, origin.ends[0], share=min(max(along / origin.length, 0.0), 1.0))


def place_at(garment: Garment, edge: Edge, distance: float) -> Place:
    """The place at a distance along an edge, counted from the nearer end of its origin."""
    origin = garment.origins[edge.origin.edge]
    along = edge.origin.at(distance / length(edge.points))
    if along <= origin.length / 2:
        return Place(origin.name, origin.ends[0], distance=max(along, 0.0))
    return Place(origin.name, origin.ends[1], distance=max(origin.length - along, 0.0))
