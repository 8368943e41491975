"""Finishing: pieces with allowances, notches, grain and labels, ready to be cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, isfinite, sin
from typing import Final
from weakref import WeakKeyDictionary

import msgspec
import numpy as np
from msgspec.structs import replace

from core.design.design import Design
from core.design.finishes import Doubled, Pressed
from core.errors import Refusal
from core.fabrics.catalogue import Fabric, named
from core.finishing.allowances import FinishedEdge, Stretch, finished_edges, pressed
from core.finishing.both_halves import for_both_halves
from core.finishing.caps import CapKind, cap_of
from core.finishing.cup_marks import cup_notches
from core.finishing.edge_marks import EdgeMark, edge_marks
from core.finishing.notches import Mate, Notch, dart_notches, mates, seam_notches
from core.geometry.margins import Margin
from core.geometry.offset import offset_loop
from core.geometry.planar import roomiest, stretch_inside
from core.geometry.polyline import Point, Points, as_points, between
from core.pieces.outline import cloth_area, wedge_of
from core.pieces.records import Garment, Piece

GRAIN_ASIDE: Final = 0.55
"""The grain line runs this share of the radius of the roomiest place off its middle, to leave room for a label."""

NO_GRAIN: Final = "Piece {} has no grain line; draw the piece anew, or take out the step that lost it."

GRAIN_SHARE: Final = 0.8
LONGEST_GRAIN: Final = 250.0
"""The grain line takes this share of the way across the piece, and no more mm: it ends inside on every piece."""


class Finished(msgspec.Struct, frozen=True, eq=False):
    """A piece as it is cut. `edges` go by their names; `cutting_line` (M, 2) is closed, first point = last."""

    piece: Piece
    number: int
    fabric: Fabric
    edges: Mapping[str, FinishedEdge]
    cutting_line: Points
    notches: tuple[Notch, ...]
    grain: tuple[Point, Point]
    mates: Mapping[str, tuple[Mate, ...]]
    """The pieces that each sewn edge meets, by edge name."""
    caps: Mapping[str, CapKind]
    """How each open dart's end is cut, by the dart's name."""
    doubled: Doubled | None = None
    """How the piece is cut double, sewn closed and turned; None where it is not."""
    marks: tuple[EdgeMark, ...] = ()

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.piece.name

    @property
    def allowances(self) -> Mapping[str, float]:
        """The allowance in mm of every edge, or of most of it where stretches differ, by the edge's name."""
        return {name: edge.allowance for name, edge in self.edges.items()}

    @property
    def layers(self) -> int:
        """How often the piece is cut for one layer of the drawing: what is turned is cut double at least."""
        return max(self.fabric.layers, 2) if self.doubled else self.fabric.layers

    @property
    def area(self) -> float:
        """Area of cloth in mm² inside the stitching lines, without the wedges of open darts."""
        return cloth_area(self.piece)

    @property
    def count(self) -> str:
        """How often the piece is cut: "cut 1 on fold", "cut 2 pairs", "cut 2 on fold, turned", "cut 1 face up".

        A piece that is no pair fits one half only, or differs from its own mirror image: face down it is spoiled.
        """
        layers, turned = self.layers, ", turned" if self.doubled else ""
        if self.piece.cut == "single":
            down = layers // 2 if self.doubled else 0
            return f"cut {layers - down} face up" + (f" and {down} face down{turned}" if down else turned)
        many = " on fold" if self.piece.cut == "fold" else f" pair{'s' if layers > 1 else ''}"
        return f"cut {layers}{many}{turned}"


def finish(design: Design, garment: Garment) -> tuple[Finished, ...]:
    """Every piece of a garment, finished. Refusal when one has no grain, or a fabric that the design does not have.

    A piece without a number, as an uncut block is, gets the smallest that is free.
    """
    design = for_both_halves(design, garment)
    numbers = numbered(garment)
    notches, sewn_to = seam_notches(garment), mates(garment, numbers)
    cups = cup_notches(design, garment)
    found = []
    for piece in garment.pieces.values():
        mine = {edge: met for (name, edge), met in sewn_to.items() if name == piece.name}
        bare = _finished(garment, piece, design, numbers[piece.name])
        own = (*dart_notches(piece), *notches[piece.name], *cups.get(piece.name, ()))
        found.append(replace(bare, notches=own, mates=mine))
    return tuple(found)


def numbered(garment: Garment) -> dict[str, int]:
    """Every piece's number by its name, unique; pieces that have none get the smallest free ones, in order."""
    free = garment.free_numbers()
    return {piece.name: piece.number or next(free) for piece in garment.pieces.values()}


def cutting_line_of(garment: Garment, piece: Piece, design: Design) -> Points:
    """The closed cutting line (M, 2) of one piece of a garment. Refusal when the design has not its fabric."""
    return _finished(garment, piece, for_both_halves(design, garment), piece.number).cutting_line


def _finished(garment: Garment, piece: Piece, design: Design, number: int) -> Finished:
    """The piece by itself, as if nothing were sewn to it."""
    if not isfinite(piece.grain):
        raise Refusal(NO_GRAIN.format(piece.name), piece=piece.name)
    fabric = named(design.fabrics, piece.fabric)
    edges = finished_edges(garment, piece, fabric, design)
    shape = _shape(piece, edges, {dart.name: pressed(design, piece, dart) for dart in piece.darts})
    doubled = design.finishing.doubled_piece(piece.name)
    return Finished(
        piece,
        number,
        fabric,
        edges,
        shape.cutting_line,
        notches=(),
        grain=shape.grain,
        mates={},
        caps=shape.caps,
        doubled=doubled,
        marks=edge_marks(piece, edges, design),
    )


class _Shape(msgspec.Struct, frozen=True, eq=False):
    """What takes long to find of a finished piece."""

    cutting_line: Points
    caps: Mapping[str, CapKind]
    grain: tuple[Point, Point]


_SHAPES: WeakKeyDictionary[Piece, tuple[object, _Shape]] = WeakKeyDictionary()
"""The last shape of pieces that are still held, with what it was found for; pieces never change."""


def _shape(piece: Piece, edges: Mapping[str, FinishedEdge], towards: Mapping[str, Pressed]) -> _Shape:
    wanted = (tuple((edge.stretches, edge.ends) for edge in edges.values()), tuple(towards.items()))
    known = _SHAPES.get(piece)
    if known is None or known[0] != wanted:
        line, caps = _cut(piece, edges, towards)
        wedges = [wedge_of(piece, dart) for dart in piece.darts]
        grain = _grain(piece, *roomiest(piece.loop, wedges), wedges)
        known = _SHAPES[piece] = (wanted, _Shape(line, caps, grain))
    return known[1]


def cutting_line(piece: Piece, allowances: Mapping[str, float]) -> tuple[Points, dict[str, CapKind]]:
    """The closed cutting line (M, 2) for allowances by edge, and how each open dart's end is cut."""
    edges = {
        edge.name: FinishedEdge(edge, "plain", wide, (Stretch(0.0, edge.length, wide),))
        for edge in piece.edges
        for wide in (allowances[edge.name],)
    }
    return _cut(piece, edges, {})


def _cut(
    piece: Piece, edges: Mapping[str, FinishedEdge], towards: Mapping[str, Pressed]
) -> tuple[Points, dict[str, CapKind]]:
    darts = {dart.base: dart for dart in piece.darts}
    margins: list[Margin] = []
    caps: dict[str, CapKind] = {}
    for edge in piece.edges:
        finished = edges[edge.name]
        if edge.name in darts:
            dart = darts[edge.name]
            caps[dart.name], lines = cap_of(piece, dart, finished.allowance, towards=towards.get(dart.name, "centre"))
            margins += [Margin(line, finished.allowance) for line in lines]
        else:
            margins += _margins(finished)
    return offset_loop(margins), caps


def _margins(finished: FinishedEdge) -> list[Margin]:
    """A margin for every stretch of an edge; only its own two ends are squared or mirrored."""
    edge, parts = finished.edge, finished.stretches
    if len(parts) == 1:
        return [Margin(edge.points, parts[0].allowance, edge.kind == "fold", finished.ends)]
    margins = []
    for index, part in enumerate(parts):
        first = finished.ends[0] if index == 0 else "mitred"
        last = finished.ends[1] if index == len(parts) - 1 else "mitred"
        margins.append(Margin(between(edge.points, part.start, part.stop), part.allowance, ends=(first, last)))
    return margins


def _grain(piece: Piece, middle: Point, room: float, wedges: Sequence[Points]) -> tuple[Point, Point]:
    """The two ends of the grain line, inside the piece, beside the middle of its roomiest place."""
    along = np.array((cos(piece.grain), sin(piece.grain)))
    foot = np.array(middle) + GRAIN_ASIDE * room * np.array((-along[1], along[0]))
    line = as_points((foot - 3000.0 * along, foot + 3000.0 * along))
    inside = stretch_inside(piece.loop, line, foot, wedges)
    assert inside is not None, "the roomiest place lies inside the piece"
    first, last = sorted(((inside - foot) @ along)[[0, -1]])
    centre, half = (first + last) / 2, GRAIN_SHARE * (last - first) / 2
    low, high = max(centre - half, -LONGEST_GRAIN / 2), min(centre + half, LONGEST_GRAIN / 2)
    start, end = foot + low * along, foot + high * along
    return (float(start[0]), float(start[1])), (float(end[0]), float(end[1]))
