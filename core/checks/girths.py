"""Finished girths: how far round the block is with its darts sewn shut, beside the body."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from core.blocks.ease import Ease
from core.body.body import Measured
from core.geometry.placement import gap
from core.geometry.polyline import Point, Points, as_points, crossings, point_at
from core.pieces.levels import edge_girth, level_girth
from core.pieces.records import Dart, Garment, Piece


class Girth(msgspec.Struct, frozen=True):
    """One level. All in mm round the whole body; `wanted` is the ease that was asked for, None where none was."""

    name: str
    body: float
    finished: float
    wanted: float | None = None

    @property
    def ease(self) -> float:
        """How much larger the garment is than the body there."""
        return self.finished - self.body


def girths(block: Garment, measured: Measured, ease: Ease) -> tuple[Girth, ...]:
    """Upper bust, bust, under-bust and waist of the block, front and back, darts closed.

    The upper bust is taken where the high bust is: under the arms, from underarm to underarm. The others lie on the
    block's own level lines and waist edges.
    """
    body = measured.values
    pieces = tuple(block.pieces.values())
    return (
        Girth("upper bust", body["high_bust"], 2 * sum(_at_underarm(piece) for piece in pieces)),
        Girth("bust", body["bust"], 2 * sum(_level(piece, "bust_line") for piece in pieces), ease.bust),
        Girth("under-bust", body["under_bust"], 2 * sum(_level(piece, "under_bust_line") for piece in pieces)),
        Girth("waist", body["waist"], 2 * sum(_edge_length(piece, "waist") for piece in pieces), ease.waist),
    )


def as_worked(found: tuple[Girth, ...], worked: Garment) -> tuple[Girth, ...]:
    """A block's girths as the garment made of it has them now, taken in or let out.

    The upper bust is left as it was, as is a level that no piece has any more.
    """
    now = {
        "bust": level_girth(worked, "bust_line"),
        "under-bust": level_girth(worked, "under_bust_line"),
        "waist": edge_girth(worked, "waist"),
    }
    return tuple(replace(girth, finished=now.get(girth.name, 0.0) or girth.finished) for girth in found)


def _level(piece: Piece, name: str) -> float:
    return piece.line(f"{piece.block}.{name}").length


def _edge_length(piece: Piece, name: str) -> float:
    """Length in mm of all that descends from an edge of the block; bases of darts do not count."""
    origin = f"{piece.block}.{name}"
    return sum(edge.length for edge in piece.edges if edge.origin.edge == origin and edge.kind != "dart base")


def _at_underarm(piece: Piece) -> float:
    end = piece.landmarks["underarm"]
    return level_length(piece, (0.0, end[1]), end)


def level_length(piece: Piece, start: Point, end: Point) -> float:
    """The straight way from one place to another with the darts between them closed, in mm.

    At a dart it leaves the first leg and goes on from the other at the same distance from the pivot (cutting.md 1).
    """
    way = as_points((start, end))
    crossed = [met for dart in piece.darts if (met := _met_legs(dart, way)) is not None]
    if not crossed:
        return gap(start, end)
    reached, goes_on = min(crossed, key=lambda met: gap(start, met[0]))
    return gap(start, reached) + level_length(piece, goes_on, end)


def _met_legs(dart: Dart, way: Points) -> tuple[Point, Point] | None:
    """Where a straight way meets the nearer leg of a dart that it crosses, and where it goes on from the other."""
    met = [crossings(way, as_points((dart.pivot, leg))) for leg in dart.legs]
    if not met[0] or not met[1] or max(met[0][0][1], met[1][0][1]) <= NO_WIDTH or min(met[0][0][0], met[1][0][0]) <= 0:
        return None
    first = 0 if met[0][0][0] < met[1][0][0] else 1
    along, from_pivot = met[first][0]
    return point_at(way, along), point_at(as_points((dart.pivot, dart.legs[1 - first])), from_pivot)


NO_WIDTH = 1e-6
"""A dart is crossed only farther than this (mm) from its pivot."""
