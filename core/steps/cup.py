"""Cup: two pieces that back the bust behind the sheer, drafted from the block with all its shaping in one seam."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, degrees, pi

import numpy as np

from core.errors import Refusal
from core.geometry.placement import angle_between, gap
from core.geometry.polyline import Point, Points, as_points
from core.pieces.records import Change, Dart, Edge, Garment, Origin, OriginEdge, Piece, Seam, Side, Span
from core.steps.step import Effect, Name, Note, Number, Step
from core.units import Unit, show_length

WIDEST = 60.0
"""More underlap or turning than this (mm) is no part of a cup."""

SMALLEST_RADIUS = 25.0
"""A cup edge nearer the bust point than this (mm) covers nothing that could be sewn."""

STATIONS = 49
"""Points along each half of the cup's edge: under 0.01 mm of chord error at 120 mm radius is had with 45."""


class Cup(Step, frozen=True, tag="cup"):
    """Draft a two-piece cup from the front block, through the bust point, between a top and a bottom level.

    `top` and `bottom` are distances (mm) from the side neck point over the bust point, measured with the shoulder dart
    closed; None takes the bust circle. `underlap` is added all round where the bust circle is taken, `turning` below
    the bottom. The shoulder dart and the waist dart of the block both go into the cup seam.
    """

    numbers: tuple[Number, Number]
    names: tuple[Name, Name] = ("inner cup", "outer cup")
    top: float | None = None
    bottom: float | None = None
    underlap: float = 12.7
    turning: float = 12.7
    block: str = "front"

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The block, and the names and numbers that are taken."""
        return (garment.blocks.get(self.block), *garment.taken())

    def effect(self, garment: Garment) -> Effect:
        """The two cup pieces and the seam between them, its sides equal.

        Refusal when the block has no two darts at the bust point, when the top level is not above the bust point or
        the bottom not below it, or when a name or number is taken.
        """
        self._refuse_taken(garment)
        if not (0.0 <= self.underlap <= WIDEST and 0.0 <= self.turning <= WIDEST):
            raise Refusal(
                f"A cup with {self.underlap:.0f} mm of underlap and {self.turning:.0f} mm for turning cannot be sewn; "
                f"give from 0 to {WIDEST:.0f} mm of each."
            )
        block = self._block(garment)
        bust_point = block.landmarks["bust_point"]
        upper, lower = _two_darts(block, bust_point)
        reach = self._reach(block, bust_point)
        inner = _sector(block, bust_point, (upper.legs[1], lower.legs[0]), underlap=self.underlap, reach=reach)
        outer = _sector(block, bust_point, (upper.legs[0], lower.legs[1]), underlap=self.underlap, reach=reach)
        pieces = (
            _cup_piece(self.names[0], bust_point, inner, number=self.numbers[0], side="left"),
            _cup_piece(self.names[1], bust_point, outer, number=self.numbers[1], side="right"),
        )
        change = Change(added=pieces, seams={SEAM: _seam()}, origins=_origins(pieces))
        return Effect(change, (self._intake(upper, lower, inner),))

    def _refuse_taken(self, garment: Garment) -> None:
        if len(set(self.names)) < 2 or len(set(self.numbers)) < 2:
            raise Refusal("The two pieces of the cup need two names and two numbers.")
        for name, number in zip(self.names, self.numbers, strict=True):
            if name in dict(garment.taken()):
                raise Refusal(f"There is a piece {name} already; give the cup piece another name.", piece=name)
            if number in dict(garment.taken()).values():
                raise Refusal(f"Number {number} is taken; give the {name} another.", piece=name)

    def _block(self, garment: Garment) -> Piece:
        if self.block not in garment.blocks:
            raise Refusal(f"There is no block {self.block} to draft a cup from; there are {', '.join(garment.blocks)}.")
        return garment.blocks[self.block]

    def _reach(self, block: Piece, bust_point: Point) -> tuple[float | None, float | None]:
        """Distances of the typed top and bottom edge from the bust point; None where the bust circle decides."""
        level = gap(block.landmarks["side_neck"], bust_point)
        top = None if self.top is None else level - self.top
        bottom = None if self.bottom is None else self.bottom + self.turning - level
        for name, given, reach in (("top", self.top, top), ("bottom", self.bottom, bottom)):
            if given is not None and reach is not None and reach < SMALLEST_RADIUS:
                raise Refusal(
                    f"The cup's {name} lies {given:.0f} mm from the side neck point, but the bust point lies at "
                    f"{level:.0f} mm; keep the top at least {SMALLEST_RADIUS:.0f} mm above it and the bottom below it.",
                    piece=block.name,
                )
        return top, bottom

    def _intake(self, upper: Dart, lower: Dart, inner: _Sector) -> Note:
        angle = degrees(upper.angle + lower.angle)
        across = float(inner.radii.mean())
        return Note("advice", f"The cup seam takes in {angle:.0f} degrees over a mean radius of {across:.0f} mm.")

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Draft a two-piece cup from 7 in to 12 in below the side neck point, with 1/2 in for turning."""
        if self.top is None and self.bottom is None:
            span = f"over the bust circle with {show_length(self.underlap, unit)} underlap"
        else:
            ends = [show_length(end, unit) if end is not None else "the bust circle" for end in (self.top, self.bottom)]
            span = f"from {ends[0]} to {ends[1]} below the side neck point"
        return f"Draft a two-piece cup {span}, with {show_length(self.turning, unit)} for turning below."


SEAM = "cup.seam"


@dataclass(frozen=True, eq=False, slots=True)
class _Sector:
    """One half of the cup in polar form about the bust point: directions and radii from the upper leg to the lower."""

    directions: Points
    radii: Points

    def outline(self, centre: Point) -> Points:
        """The edge from the upper leg round to the lower, shape (N, 2)."""
        return as_points(
            np.column_stack(
                (centre[0] + self.radii * np.cos(self.directions), centre[1] + self.radii * np.sin(self.directions))
            )
        )


def _two_darts(block: Piece, bust_point: Point) -> tuple[Dart, Dart]:
    """The darts at the bust point: the one above it and the one below."""
    darts = [dart for dart in block.darts if gap(dart.pivot, bust_point) <= 1e-6]
    if len(darts) != 2:
        raise Refusal(
            f"The block {block.name} has {len(darts)} darts at the bust point; a two-piece cup needs one above it and "
            f"one below.",
            piece=block.name,
        )
    above, below = sorted(darts, key=lambda dart: -dart.legs[0][1])
    return above, below


def _sector(
    block: Piece, centre: Point, legs: tuple[Point, Point], *, underlap: float, reach: tuple[float | None, float | None]
) -> _Sector:
    """The half of the cup between two legs: the bust circle grown by the underlap, drawn out to the typed levels."""
    start = atan2(legs[0][1] - centre[1], legs[0][0] - centre[0])
    turn = _turn_past(block, centre, legs)
    share = np.linspace(0.0, 1.0, STATIONS)
    directions = start + share * turn
    radii = _circle_radii(block, centre, directions) + underlap
    if reach[0] is not None:
        radii = radii * (1.0 + (reach[0] / radii[0] - 1.0) * np.cos(np.minimum(share, 0.5) * pi) ** 2)
    if reach[1] is not None:
        radii = radii * (1.0 + (reach[1] / radii[-1] - 1.0) * np.cos(np.minimum(1.0 - share, 0.5) * pi) ** 2)
    return _Sector(directions, radii)


def _turn_past(block: Piece, centre: Point, legs: tuple[Point, Point]) -> float:
    """The turn from the upper leg to the lower through cloth: towards the centre front or towards the side."""
    turn = angle_between(centre, legs[0], legs[1])
    inner = legs[0][0] + legs[1][0] < _legs_middle(block, centre)
    if inner:
        return turn if turn > 0 else turn + 2 * pi
    return turn if turn < 0 else turn - 2 * pi


def _legs_middle(block: Piece, centre: Point) -> float:
    """Twice the mean x of all leg ends at the centre: inner legs lie to its left."""
    xs = [leg[0] for dart in block.darts if gap(dart.pivot, centre) <= 1e-6 for leg in dart.legs]
    return 2.0 * sum(xs) / len(xs)


def _circle_radii(block: Piece, centre: Point, directions: Points) -> Points:
    """Radius of the block's bust circle in each direction, shape (N,), in mm."""
    circle = block.line(f"{block.name}.bust_circle")
    offsets = np.vstack(circle.stretches) - centre
    angles, radii = np.arctan2(offsets[:, 1], offsets[:, 0]), np.hypot(offsets[:, 0], offsets[:, 1])
    order = np.argsort(angles)
    return np.interp(np.mod(directions + pi, 2 * pi) - pi, angles[order], radii[order], period=2 * pi)


def _cup_piece(name: str, centre: Point, sector: _Sector, *, number: int, side: Side) -> Piece:
    """One cup piece, counter-clockwise: the seam edges over the bust point, then the upper and the under edge."""
    edge = sector.outline(centre)
    half = STATIONS // 2
    upper, under = as_points(edge[: half + 1]), as_points(edge[half:])
    top, bottom = edge[0], edge[-1]
    low = (_edge("under_seam", as_points((bottom, centre)), side), _edge("upper_seam", as_points((centre, top)), side))
    place = "inner" if side == "left" else "outer"
    around = (_edge(f"{place}_upper_edge", upper, ""), _edge(f"{place}_under_edge", under, ""))
    loop: tuple[Edge, ...] = (*low, *around)
    if side == "right":
        loop = tuple(_backwards(item) for item in reversed(loop))
    return Piece(name, "cup", loop, landmarks={"bust_point": centre}, number=number, fabric="cup")


def _edge(name: str, points: Points, side: Side) -> Edge:
    size = float(np.hypot(*np.diff(points, axis=0).T).sum())
    return Edge(name, "seam" if side else "hem", points, Origin(f"cup.{name}", 0.0, size, side))


def _backwards(edge: Edge) -> Edge:
    origin = Origin(edge.origin.edge, edge.origin.stop, edge.origin.start, edge.origin.side)
    return Edge(edge.name, edge.kind, as_points(edge.points[::-1]), origin)


def _seam() -> Seam:
    def chain(side: Side) -> tuple[Span, ...]:
        return (Span("cup.under_seam", side), Span("cup.upper_seam", side))

    return Seam(SEAM, chain("left"), chain("right"), ("under-bust", "upper edge"))


def _origins(pieces: Sequence[Piece]) -> dict[str, OriginEdge]:
    found = {}
    for piece in pieces:
        for edge in piece.edges:
            before, after = (other.name for other in piece.neighbours(edge.name))
            found[edge.origin.edge] = OriginEdge(edge.origin.edge, edge.length, (before, after))
    return found
