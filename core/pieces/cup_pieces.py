"""The pieces of a cup: their edges and seams, the match line with its marks, the line along which they are turned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Final, Literal, TypeAlias

import msgspec
import numpy as np
from msgspec.structs import replace

from core.geometry.polyline import Points, length
from core.pieces.cup_cover import Cover, marks_of, match_lines
from core.pieces.cup_shape import CupShape, Part, Ray, Way, spread
from core.pieces.mirroring import prefixed, prefixed_piece, prefixed_seam
from core.pieces.records import Edge, EdgeKind, Line, Origin, OriginEdge, Piece, Seam, Side, Span

SEAM: Final = "cup.seam"
CROSS_SEAM: Final = "cup.cross_seam"
MATCH_LINE: Final = "cup.match_line"
TURNING_LINE: Final = "cup.turning_line"

TICK: Final = 8.0
"""A mark on the match line is a tick so long (mm), half on either side."""


Hems: TypeAlias = Literal["all", "upper", "none"]
"""Which rims of a cup are hems."""

PartLines: TypeAlias = Mapping[str, Sequence[Line]]
"""Lines by the name of the part that they lie on."""


class CupPieces(msgspec.Struct, frozen=True, eq=False):
    """Pieces, seams and original edges of a cup or of a copy of it."""

    pieces: tuple[Piece, ...]
    seams: Mapping[str, Seam]
    origins: Mapping[str, OriginEdge]


def cup_pieces(
    shape: CupShape,
    marks: PartLines,
    *,
    names: Sequence[str],
    numbers: Sequence[int],
    turning: float = 0.0,
    is_hemmed: bool = True,
) -> CupPieces:
    """The pieces as they are sewn; `marks` are the lines on each part, `cover_lines` for one.

    The rims are hems, but where there is a turning the lower one is raw: it is turned under along a line of its own and
    needs no more. All are raw where they are not hemmed: foam is cut to its stitching line and butted.
    """
    turned: PartLines = _turning_lines(shape) if turning > 0.0 else {}
    hems: Hems = "none" if not is_hemmed else "upper" if turning > 0.0 else "all"
    pieces = tuple(
        Piece(
            name,
            "cup",
            edges,
            lines=(*marks.get(part.name, ()), *turned.get(part.name, ())),
            landmarks={"bust_point": shape.cone.centre},
            number=number,
            fabric="cup",
        )
        for part, edges, name, number in zip(shape.parts, _loops(shape, hems), names, numbers, strict=True)
    )
    return CupPieces(pieces, _seams("upper" in shape.taken), _origins(pieces))


# --------------------------------------------------------------------------------------------------------------
# edges


@lru_cache(maxsize=8)
def _loops(shape: CupShape, hems: Hems) -> tuple[tuple[Edge, ...], ...]:
    """The loops of all parts; remembered, as a drag of the opening changes none of them."""
    stops = [_stops(shape, part) for part in shape.parts]
    outlines = shape.outlines(stops)
    return tuple(
        tuple(_edges(shape, part, own, outline, hems=hems))
        for part, own, outline in zip(shape.parts, stops, outlines, strict=True)
    )


def _stops(shape: CupShape, part: Part) -> Sequence[float]:
    """The closed angles between the rim's edges on a part, from its last seam back to its first."""
    stops = [way for way in (shape.rim.outer, shape.cone.top, shape.rim.inner) if part.low < way < part.high]
    return part.high, *(way for way in stops if way - part.low > SHORTEST and part.high - way > SHORTEST), part.low


def _edges(
    shape: CupShape, part: Part, stops: Sequence[float], outline: Sequence[Points], *, hems: Hems
) -> Iterator[Edge]:
    """The loop, counter-clockwise: out along the last seam, round the rim, back along the first."""
    out, *rim, back = outline
    yield _seam_edge(part.last, out, "left", outwards=True)
    for (start, stop), points in zip(pairwise(stops), rim, strict=True):
        yield _rim_edge(shape, (start + stop) / 2, points, hems)
    yield _seam_edge(part.first, back, "right", outwards=False)


SHORTEST: Final = 0.15
"""Radians: a shorter run of the rim is no edge of its own."""


def _seam_edge(ray: Ray, points: Points, side: Side, *, outwards: bool) -> Edge:
    """A side of a seam. The cloth lies left of a ray, run from the bust point out, that is the part's higher end."""
    size = length(points)
    held = Origin(f"cup.{ray}_seam", 0.0, size, side) if outwards else Origin(f"cup.{ray}_seam", size, 0.0, side)
    return Edge(f"{ray}_seam", "seam", points, held)


def _rim_edge(shape: CupShape, middle: float, points: Points, hems: Hems) -> Edge:
    place = "inner" if middle < shape.cone.top else "outer"
    is_upper = shape.rim.inner < middle < shape.rim.outer
    kind: EdgeKind = "hem" if hems == "all" or (is_upper and hems == "upper") else "raw"
    name = f"{place}_{'upper' if is_upper else 'under'}_edge"
    return Edge(name, kind, points, Origin(f"cup.{name}", 0.0, length(points)))


@lru_cache(maxsize=2)
def _seams(runs_over: bool) -> Mapping[str, Seam]:
    """The seam that runs over the point, or the cross seam and the one below it; side a is the inner or upper part."""
    if runs_over:
        chains = [
            (Span("cup.under_seam", side, backwards=True), Span("cup.upper_seam", other)) for side, other in PAIRS
        ]
        return {SEAM: Seam(SEAM, chains[0], chains[1], ("under-bust", "upper edge"))}
    cross = [
        (Span("cup.inner_cross_seam", side, backwards=True), Span("cup.outer_cross_seam", other))
        for side, other in PAIRS
    ]
    under: tuple[Side, Side] = ("right", "left")
    down = [(Span("cup.under_seam", side, backwards=True),) for side in under]
    return {
        CROSS_SEAM: Seam(CROSS_SEAM, cross[0], cross[1], ("inner edge", "outer edge")),
        SEAM: Seam(SEAM, down[0], down[1], ("under-bust", "bust point")),
    }


PAIRS: Final[tuple[tuple[Side, Side], tuple[Side, Side]]] = (("right", "left"), ("left", "right"))
"""Along a seam that runs in over the bust point and out again, the cloth on one hand is on the right of the first ray
and on the left of the second: both rays are counted from the point out."""


def _origins(pieces: Sequence[Piece]) -> dict[str, OriginEdge]:
    found: dict[str, OriginEdge] = {}
    for piece in pieces:
        edges = piece.edges
        for before, edge, after in zip((edges[-1], *edges), edges, (*edges[1:], edges[0]), strict=False):
            ends = ("bust_point", "rim") if edge.kind == "seam" else (before.name, after.name)
            found[edge.origin.edge] = OriginEdge(edge.origin.edge, abs(edge.origin.stop - edge.origin.start), ends)
    return found


# --------------------------------------------------------------------------------------------------------------
# lines


def cover_lines(shape: CupShape, cover: Cover) -> PartLines:
    """The match line and the ticks across it, on each part that it crosses."""
    along, ticks = list(match_lines(cover, shape)), list(_ticks(cover, shape))
    places = shape.laid([*along, *(tick for _, tick in ticks)])
    stretches: dict[str, list[Points]] = {}
    for way, lying in zip(along, places, strict=False):
        stretches.setdefault(way.part.name, []).append(lying)
    found = {name: [Line(MATCH_LINE, "mark", tuple(lying))] for name, lying in stretches.items()}
    for (name, way), lying in zip(ticks, places[len(along) :], strict=True):
        found.setdefault(way.part.name, []).append(Line(name, "mark", (lying,)))
    return found


def _ticks(cover: Cover, shape: CupShape) -> Iterator[tuple[str, Way]]:
    """A tick across the match line at each mark, with its line's name; none where a seam marks the place."""
    ends = [end for part in shape.parts for end in (part.low, part.high)]
    for mark in marks_of(cover, shape):
        closed = float(shape.cone.round(mark.closed))
        if any(abs(closed - end) < 1e-3 for end in ends):
            continue
        radii = np.array((mark.radius - TICK / 2, min(mark.radius + TICK / 2, float(shape.rim.at(closed)))))
        yield f"cup.{mark.name.replace(' ', '_')}", Way(shape.part_at(closed), radii, np.full(2, closed))


@lru_cache(maxsize=8)
def _turning_lines(shape: CupShape) -> PartLines:
    """The lines of the parts along which they are turned under; remembered as the loops are."""
    ways = [way for part in shape.parts for way in _turning_ways(shape, part)]
    found: dict[str, list[Line]] = {}
    for way, lying in zip(ways, shape.laid(ways), strict=True):
        found.setdefault(way.part.name, []).append(Line(TURNING_LINE, "mark", (lying,)))
    return found


def _turning_ways(shape: CupShape, part: Part) -> Iterator[Way]:
    """Where the lower rim is turned under."""
    low, high, bare = shape.cone.down, shape.cone.down + shape.cone.cloth, shape.rim.bare
    for start, stop in ((low, bare.inner), (bare.outer, high)):
        first, last = max(start, part.low), min(stop, part.high)
        if last - first > SHORTEST:
            closed = spread(first, last)
            yield Way(part, bare.at(closed), closed)


# --------------------------------------------------------------------------------------------------------------
# copies


def copied(cup: CupPieces, word: str, fabric: str, numbers: Sequence[int]) -> CupPieces:
    """The cup once more in another cloth: "lining upper cup", its edges and seams with the word before their names."""
    pieces = tuple(
        replace(prefixed_piece(piece, word), name=f"{word} {piece.name}", number=number, fabric=fabric)
        for piece, number in zip(cup.pieces, numbers, strict=True)
    )
    return CupPieces(
        pieces,
        _prefixed_seams(tuple(cup.seams.values()), word),
        {
            prefixed(name, word): OriginEdge(prefixed(name, word), origin.length, origin.ends)
            for name, origin in cup.origins.items()
        },
    )


@lru_cache(maxsize=8)
def _prefixed_seams(seams: tuple[Seam, ...], word: str) -> Mapping[str, Seam]:
    """The seams of a copy; remembered, as a cup has the same ones whatever its size."""
    return {prefixed(seam.name, word): prefixed_seam(seam, word) for seam in seams}
