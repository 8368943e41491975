"""Mirror images of pieces, their names with a word before them, and pieces unfolded to both halves.

A mirror image seen face up again runs counter-clockwise: its edges are travelled the other way, and so hold their
origins from stop to start. Its seams therefore still run from their first end to their last.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2

from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap, reflected
from core.geometry.polyline import Point, Points, as_point, as_points, backwards, nearest
from core.geometry.tolerances import ON_EDGE, SAME_POINT
from core.pieces.names import RIGHT
from core.pieces.outline import closed, named, rejoined
from core.pieces.records import Edge, Line, Origin, Piece, Seam, Span
from core.pieces.turning import with_bases

CENTRE = ((0.0, 0.0), (0.0, 1.0))
"""The centre line, upwards."""


def mirrored_piece(piece: Piece, axis: tuple[Point, Point] = CENTRE) -> Piece:
    """The piece's mirror image in a line given by two points; mirrored twice it is as it was."""

    def image(points: Points) -> Points:
        return reflected(points, *axis)

    def image_of(place: Point) -> Point:
        return as_point(image(as_points([place]))[0])

    edges = named(closed([_mirrored_edge(edge, image(edge.points)) for edge in reversed(piece.edges)]))
    darts = tuple(
        replace(
            dart,
            pivot=image_of(dart.pivot),
            legs=(image_of(dart.legs[1]), image_of(dart.legs[0])),
            point=image_of(dart.point),
        )
        for dart in piece.darts
    )
    return replace(
        piece,
        edges=edges,
        darts=with_bases(darts, edges),
        lines=tuple(replace(line, stretches=tuple(map(image, line.stretches))) for line in piece.lines),
        landmarks={name: image_of(place) for name, place in piece.landmarks.items()},
        grain=2 * atan2(axis[1][1] - axis[0][1], axis[1][0] - axis[0][0]) - piece.grain,
    )


def _mirrored_edge(edge: Edge, image: Points) -> Edge:
    held = edge.origin
    if edge.kind == "dart base":
        return Edge(edge.name, edge.kind, backwards(image), held)
    return Edge(edge.name, edge.kind, backwards(image), Origin(held.edge, held.stop, held.start, held.side))


def prefixed_piece(piece: Piece, word: str) -> Piece:
    """The piece with its edges, darts and lines named as others: "side" of "front" is of "right.front" then."""
    edges = named(_prefixed_edge(edge, word) for edge in piece.edges)
    darts = tuple(replace(dart, name=prefixed(dart.name, word)) for dart in piece.darts)
    lines = tuple(
        Line(prefixed(line.name, word), line.purpose, line.stretches, line.intended_ends, line.starts)
        for line in piece.lines
    )
    eased = tuple(replace(held, edge=prefixed(held.edge, word)) for held in piece.eased)
    return replace(piece, edges=edges, darts=with_bases(darts, edges), lines=lines, eased=eased)


def _prefixed_edge(edge: Edge, word: str) -> Edge:
    held = edge.origin
    return Edge(edge.name, edge.kind, edge.points, Origin(prefixed(held.edge, word), held.start, held.stop, held.side))


def prefixed(name: str, word: str) -> str:
    """A name with a word before it."""
    return f"{word}.{name}"


def prefixed_seam(seam: Seam, word: str) -> Seam:
    """The seam between pieces whose names have that word before them."""

    def chain(spans: Sequence[Span]) -> tuple[Span, ...]:
        return tuple(Span(prefixed(span.edge, word), span.side, span.backwards) for span in spans)

    return Seam(prefixed(seam.name, word), chain(seam.a), chain(seam.b), seam.ends, seam.ease)


def right_piece(piece: Piece) -> Piece:
    """The other one of a pair: the mirror image in the centre line, its edges, darts and lines named as the right's."""
    return replace(mirrored_piece(prefixed_piece(piece, RIGHT)), name=f"{RIGHT} {piece.name}", is_single=True)


def unfolded(piece: Piece) -> Piece:
    """The piece with both its halves; the fold is gone.

    What lies on the right half has "right." before its name. A line that ends on the fold runs on over it under its own
    name. Refusal when the piece has no fold, or more than one.
    """
    folds = [edge for edge in piece.edges if edge.kind == "fold"]
    if len(folds) != 1:
        raise Refusal(
            f"Piece {piece.name} has {len(folds)} fold edges; only a piece with one is unfolded.", piece=piece.name
        )
    axis = (as_point(folds[0].points[-1]), as_point(folds[0].points[0]))
    other = mirrored_piece(prefixed_piece(piece, RIGHT), axis)
    edges = named(closed((*_from_fold(piece.edges), *_from_fold(other.edges))))
    lines, over = _unfolded_lines(piece.lines, other.lines, axis)
    off = {name: place for name, place in piece.landmarks.items() if gap(place, other.landmarks[name]) > SAME_POINT}
    return replace(
        piece,
        edges=edges,
        darts=with_bases((*piece.darts, *other.darts), edges),
        lines=(*lines, *over),
        landmarks={**piece.landmarks, **{prefixed(name, RIGHT): other.landmarks[name] for name in off}},
        intended=frozenset(),
        is_single=True,
        eased=(*piece.eased, *other.eased),
    )


def _from_fold(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The edges from the end of the fold round to its beginning."""
    fold = next(index for index, edge in enumerate(edges) if edge.kind == "fold")
    return (*edges[fold + 1 :], *edges[:fold])


def _unfolded_lines(
    own: Sequence[Line], other: Sequence[Line], axis: tuple[Point, Point]
) -> tuple[list[Line], list[Line]]:
    """The lines of the left half, those that meet the fold run on over it, and what is left of the right half."""
    lines, over = [], []
    for line, image in zip(own, other, strict=True):
        back = tuple(backwards(stretch) for stretch in reversed(image.stretches))
        first, last = _on(axis, line.path[0]), _on(axis, line.path[-1])
        if last and not first:
            lines.append(replace(line, stretches=(*line.stretches, *back), starts=()))
        elif first and not last:
            lines.append(replace(line, stretches=(*back, *line.stretches), starts=()))
        else:
            lines.append(line)
            over.append(image)
    return [rejoined(line) for line in lines], over


def _on(axis: tuple[Point, Point], place: Points) -> bool:
    return nearest(as_points(axis), place)[1] <= ON_EDGE
