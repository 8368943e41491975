"""What a garment is made of.

Every record is frozen, its arrays are read-only, and records are compared by identity: an unchanged piece is the same
object before and after a step, which is what the replay's memo and the window's picture cache look at.

*Origin*: the edge of the first block, or the drawn line, that an edge descends from. It survives every later cut and
turn, so references and seams name origins and are resolved to whichever descendants hold them now.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache
from itertools import accumulate, count
from typing import Literal, TypeAlias, get_args

import msgspec
import numpy as np
from msgspec.structs import force_setattr, replace
from numpy.typing import NDArray

from core.errors import Refusal
from core.geometry.placement import angle_between, gap
from core.geometry.polyline import Point, Points, as_points, crossings, distances, joined, length
from core.pieces.names import line_said, spoken, spoken_in_full

EdgeKind: TypeAlias = Literal["seam", "fold", "hem", "opening", "raw", "dart base"]
EDGE_KINDS: tuple[EdgeKind, ...] = get_args(EdgeKind)
Side: TypeAlias = Literal["", "left", "right"]
LinePurpose: TypeAlias = Literal["sheer", "panel", "mark", "level"]
EaseKind: TypeAlias = Literal["ease", "gathers"]
CutKind: TypeAlias = Literal["fold", "pair", "single"]


class Origin(msgspec.Struct, frozen=True, eq=False):
    """The stretch of an original edge that an edge holds, in mm along the original; start > stop runs against it.

    `side` tells the two edges that one cut line leaves: "left" lies left of the line's direction. A dart's legs that
    became seam edges have the sides "left" and "right" too.
    """

    edge: str
    start: float
    stop: float
    side: Side = ""

    def at(self, share: float) -> float:
        """Millimetres along the original edge at this share of the edge's own length."""
        return self.start + share * (self.stop - self.start)


class Edge(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """A named run of an outline: points (N, 2) in mm in loop order, smooth inside."""

    name: str
    kind: EdgeKind
    points: Points
    origin: Origin

    @cached_property
    def length(self) -> float:
        """Arc length in mm."""
        return length(self.points)

    @cached_property
    def along(self) -> NDArray[np.float64]:
        """Arc length in mm from the first point to each, (N,)."""
        return distances(self.points)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of the edge in mm."""
        left, low = self.points.min(axis=0).tolist()
        right, high = self.points.max(axis=0).tolist()
        return (left, low, right, high)


class Dart(msgspec.Struct, frozen=True, eq=False):
    """A wedge to be folded out: pivot, two legs of equal length, the edge that bridges them, the sewn point.

    `legs` are in loop order: walking the outline counter-clockwise one meets legs[0], the base, then legs[1].
    """

    name: str
    pivot: Point
    legs: tuple[Point, Point]
    base: str
    point: Point

    @property
    def angle(self) -> float:
        """Intake angle at the pivot in radians, positive."""
        return abs(angle_between(self.pivot, *self.legs))

    @property
    def leg_length(self) -> float:
        """Distance in mm from the pivot to the leg ends."""
        return gap(self.pivot, self.legs[0])

    @property
    def width(self) -> float:
        """Intake at the base, leg end to leg end, in mm."""
        return gap(*self.legs)

    @property
    def mouth(self) -> Point:
        """The place halfway between its leg ends."""
        (ax, ay), (bx, by) = self.legs
        return ((ax + bx) / 2, (ay + by) / 2)

    @property
    def inside(self) -> Point:
        """A place in its wedge, as far from the legs as from the base in share."""
        (ax, ay), (bx, by), (px, py) = *self.legs, self.pivot
        return ((ax + bx + px) / 3, (ay + by + py) / 3)

    def is_crossed_by(self, path: Points) -> bool:
        """Whether a polyline (N, 2) crosses or touches a leg."""
        return any(crossings(path, as_points((self.pivot, leg))) for leg in self.legs)

    @property
    def closing_turn(self) -> float:
        """The turn about the pivot (radians) that lays legs[1], with what follows it, onto legs[0]."""
        return angle_between(self.pivot, self.legs[1], self.legs[0])


class Eased(msgspec.Struct, frozen=True, eq=False):
    """A dart's angle that is sewn as ease or gathers along a stretch of an edge instead of as a dart.

    `start` and `stop` are mm along the original edge, `amount` is how much longer (mm) the stretch was made than it is
    sewn, `angle` (radians) what it still shapes.
    """

    edge: str
    side: Side
    start: float
    stop: float
    amount: float
    angle: float
    kind: EaseKind


class Line(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """A line drawn on a piece. Where it crosses an open dart it is interrupted: one polyline a stretch, in order.

    `starts` tells how far along the line, darts closed, each stretch begins (mm); worked out when not given, and kept
    when a turn or a cut divides the line, so that the parts can be put in order again.
    """

    name: str
    purpose: LinePurpose
    stretches: tuple[Points, ...]
    intended_ends: tuple[bool, bool] = (False, False)
    starts: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if len(self.starts) != len(self.stretches):
            before = accumulate((length(stretch) for stretch in self.stretches[:-1]), initial=0.0)
            force_setattr(self, "starts", tuple(before) if self.stretches else ())

    @property
    def said(self) -> str:
        """The line's name as it is spoken."""
        return line_said(self.name)

    @property
    def path(self) -> Points:
        """All stretches joined, straight over the darts between them, shape (N, 2)."""
        return joined(self.stretches)

    @property
    def length(self) -> float:
        """Length in mm with the crossed darts closed."""
        return sum(length(stretch) for stretch in self.stretches)


class Piece(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """One piece of the pattern. Its outline is the closed loop of its edges, counter-clockwise, seen face up.

    `block` is the block it was cut from ("front", "back", "cup"); `grain` the direction of the lengthwise grain in
    radians; `number` is unique in a design, 0 for a block that is not cut yet.
    """

    name: str
    block: str
    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...] = ()
    lines: tuple[Line, ...] = ()
    landmarks: Mapping[str, Point] = msgspec.field(default_factory=dict)
    number: int = 0
    fabric: str = "main"
    grain: float = 1.5707963267948966
    intended: frozenset[str] = frozenset()
    """Corners that are meant (a V, a sweetheart): names of edges whose end at a fold is not asked to be square."""
    is_single: bool = False
    """Whether it is cut once, face up, as its other half differs or lies on it already."""
    eased: tuple[Eased, ...] = ()
    """What is eased or gathered along its edges; a record whose edge was cut away says nothing of this piece."""

    @cached_property
    def loop(self) -> Points:
        """The outline (N, 2) without the repeated last point."""
        return _outline(self.edges)

    @property
    def cut(self) -> CutKind:
        """How the piece is cut: once as it lies, once on the fold, else as a pair."""
        if self.is_single:
            return "single"
        return "fold" if any(edge.kind == "fold" for edge in self.edges) else "pair"

    def edge(self, name: str) -> Edge:
        """The edge of that name; Refusal when there is none."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise Refusal(
            f"Piece {self.name} has no edge {spoken(name)}; its edges are {self._edge_names()}.", piece=self.name
        )

    def _edge_names(self) -> str:
        return ", ".join(dict.fromkeys(spoken(edge.name) for edge in self.edges))

    def dart(self, name: str) -> Dart:
        """The dart of that name; Refusal when there is none."""
        for dart in self.darts:
            if dart.name == name:
                return dart
        open_now = ", ".join(spoken(dart.name) for dart in self.darts) or "none"
        raise Refusal(f"Piece {self.name} has no open {spoken(name)}; open now: {open_now}.", piece=self.name)

    def line(self, name: str) -> Line:
        """The drawn line of that name; Refusal when there is none."""
        for line in self.lines:
            if line.name == name:
                return line
        raise Refusal(f"No {spoken(name)} is drawn on piece {self.name}: draw it first.", piece=self.name)

    def neighbours(self, edge_name: str) -> tuple[Edge, Edge]:
        """The edges before and after an edge in the loop; Refusal when there is none of that name."""
        index = self.edges.index(self.edge(edge_name))
        return self.edges[index - 1], self.edges[(index + 1) % len(self.edges)]


@lru_cache(maxsize=128)
def _outline(edges: tuple[Edge, ...]) -> Points:
    """The loop of some edges, remembered: a piece that only had a line drawn on it has the same ones."""
    return as_points(joined([edge.points for edge in edges])[:-1])


class Span(msgspec.Struct, frozen=True, eq=False):
    """A stretch of an original edge as one link of a seam. `backwards`: the seam runs it from its stop to its start."""

    edge: str
    side: Side = ""
    backwards: bool = False


class Seam(msgspec.Struct, frozen=True, eq=False):
    """Two chains that are sewn together, both listed from the seam's first end to its last.

    `ease` is how much longer `a` is wanted than `b`, in mm; `ends` names what lies at the first and the last end.
    """

    name: str
    a: tuple[Span, ...]
    b: tuple[Span, ...]
    ends: tuple[str, str]
    ease: float = 0.0


class OriginEdge(msgspec.Struct, frozen=True, eq=False):
    """An original edge: its length in mm when it was made, and what lies at its first and last end."""

    name: str
    length: float
    ends: tuple[str, str]


class Garment(msgspec.Struct, frozen=True, eq=False, weakref=True):
    """Pieces, seams and origins by name. `open_edges`: origins left open on purpose, with the reason in words.

    `blocks` keeps the pieces as drafted, before any step: a cup is drafted from a copy of them.
    """

    pieces: Mapping[str, Piece]
    seams: Mapping[str, Seam]
    origins: Mapping[str, OriginEdge]
    open_edges: Mapping[str, str]
    blocks: Mapping[str, Piece]

    def piece(self, name: str) -> Piece:
        """The piece of that name; Refusal when there is none."""
        if name not in self.pieces:
            raise Refusal(f"There is no piece {name}; there are {', '.join(self.pieces)}.", piece=name)
        return self.pieces[name]

    def seam(self, name: str) -> Seam:
        """The seam of that name; Refusal when there is none."""
        if name not in self.seams:
            there = ", ".join(map(spoken_in_full, self.seams))
            raise Refusal(f"There is no {spoken_in_full(name)} seam now: undo, or choose one of {there}.")
        return self.seams[name]

    def taken(self, *but: str) -> tuple[tuple[str, int], ...]:
        """Names and numbers that pieces have already; pieces named in `but` are about to go. 0 is no number yet."""
        return tuple((name, piece.number) for name, piece in self.pieces.items() if name not in but)

    def free_numbers(self, *but: int) -> Iterator[int]:
        """The numbers that no piece has, from the smallest up; nor are they those in `but`."""
        used = {piece.number for piece in self.pieces.values()} | set(but)
        return (number for number in count(1) if number not in used)

    def edges(self) -> Iterator[tuple[Piece, Edge]]:
        """Every edge with its piece."""
        return ((piece, edge) for piece in self.pieces.values() for edge in piece.edges)


class Change(msgspec.Struct, frozen=True, eq=False):
    """What a step does to a garment, so that it can be laid on a garment whose other pieces have moved on.

    `pieces` maps each piece that the step takes away to the pieces that stand in its place (none: deleted).
    """

    pieces: Mapping[str, tuple[Piece, ...]] = msgspec.field(default_factory=dict)
    added: tuple[Piece, ...] = ()
    seams: Mapping[str, Seam | None] = msgspec.field(default_factory=dict)
    origins: Mapping[str, OriginEdge] = msgspec.field(default_factory=dict)
    open_edges: Mapping[str, str] = msgspec.field(default_factory=dict)

    def on(self, garment: Garment) -> Garment:
        """The garment after the change; pieces keep their order, new ones stand where the old one stood."""
        pieces: dict[str, Piece] = {}
        for name, piece in garment.pieces.items():
            for now in self.pieces.get(name, (piece,)):
                pieces[now.name] = now
        pieces.update({piece.name: piece for piece in self.added})
        merged = {**garment.seams, **self.seams}
        return replace(
            garment,
            pieces=pieces,
            seams={name: seam for name, seam in merged.items() if seam is not None},
            origins={**garment.origins, **self.origins},
            open_edges={**garment.open_edges, **self.open_edges},
        )
