"""Neckline: a new opening, front and back as one step, so that the shoulders still meet."""

from __future__ import annotations

from math import pi
from typing import Literal, TypeAlias

import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.curve import fair_curve
from core.geometry.planar import inside_path, is_simple
from core.geometry.polyline import Point, Points, as_point, as_points, end_direction, length
from core.geometry.tolerances import CORNER_CHORD, ON_EDGE
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, closed, is_centre, named, point_on, run
from core.pieces.parts import Border, part_of_piece
from core.pieces.records import Change, Edge, Garment, Origin, Piece
from core.pieces.turning import with_bases
from core.steps.mapping import placed_points
from core.steps.step import Effect, Landmarks, LinePoint, Step
from core.units import Unit, show_length

WidthFrom: TypeAlias = Literal["centre", "neck"]
DepthFrom: TypeAlias = Literal["pit", "side neck"]
Shape: TypeAlias = Literal["round", "V"]


class Neckline(Step, frozen=True, tag="neckline"):
    """Cut a new neckline on front and back.

    `width` is half the opening: from the centre ("centre"), or from the old side neck along the shoulder ("neck").
    `front_depth` is below the pit of the neck ("pit") or below side neck level ("side neck"); `back_depth` is below
    the nape. All in mm. `through` are points that the front's curve is drawn through, from the shoulder down.
    """

    width: float
    front_depth: float
    back_depth: float = 0.0
    width_from: WidthFrom = "centre"
    depth_from: DepthFrom = "pit"
    shape: Shape = "round"
    through: tuple[LinePoint, ...] = ()
    drawn_on: Landmarks = {}
    front: str = "front"
    back: str = "back"

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """Both pieces."""
        return (garment.piece(self.front), garment.piece(self.back))

    def effect(self, garment: Garment) -> Effect:
        """Both pieces with the new neck edges; what is left of each shoulder keeps its line.

        Refusal when the opening would be narrower or shallower than the neck, pass a shoulder dart, or reach the
        shoulder point.
        """
        front, back = garment.piece(self.front), garment.piece(self.back)
        along = self._along_shoulder(front)
        bottom, nape = (0.0, self._front_bottom(front)), (0.0, neck_corner(back)[1] - self.back_depth)
        through = placed_points(garment, front, self.through, self.drawn_on)
        now = (
            _opened(front, along, bottom, self._curve_maker(through)),
            _opened(back, along, nape, self._curve_maker([], plain=True)),
        )
        pieces = {piece.name: (piece,) for piece in now}
        origins = {name: replace(garment.origins[name], length=size) for name, size in map(_neck_size, now)}
        return Effect(Change(pieces=pieces, origins=origins))

    def _along_shoulder(self, front: Piece) -> float:
        """How far from the old side neck the new neckline meets the shoulder, in mm along it."""
        shoulder = shoulder_at_neck(front)
        along = self.width if self.width_from == "neck" else _along_at_x(shoulder, self.width)
        if along < 0.0:
            narrow = abs(_side_neck(front)[0])
            raise Refusal(
                f"A neckline {self.width:.0f} mm wide at each side is narrower than the neck of piece {front.name}; "
                f"give at least {narrow:.0f} mm.",
                piece=front.name,
                edge="neck",
            )
        return along

    def _front_bottom(self, front: Piece) -> float:
        pit, side_neck = neck_corner(front), _side_neck(front)
        bottom = (pit[1] if self.depth_from == "pit" else side_neck[1]) - self.front_depth
        if bottom > pit[1] + ON_EDGE:
            raise Refusal(
                f"A front neckline {self.front_depth:.0f} mm deep lies above the pit of the neck on piece "
                f"{front.name}; give a greater depth.",
                piece=front.name,
                edge="neck",
            )
        return min(bottom, pit[1])

    def _curve_maker(self, through: list[Point], *, plain: bool = False) -> _CurveMaker:
        return _CurveMaker("round" if plain else self.shape, tuple(through), tuple(p.corner for p in self.through))

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Cut a round neckline 3 1/2 in from the centre each side, the front 4 in below the pit."""
        wide, deep = show_length(self.width, unit), show_length(self.front_depth, unit)
        measured = "from the centre" if self.width_from == "centre" else "along the shoulder"
        below = "the pit of the neck" if self.depth_from == "pit" else "side neck level"
        back = f", the back {show_length(self.back_depth, unit)} below the nape" if self.back_depth else ""
        return f"Cut a {self.shape} neckline {wide} {measured} each side, the front {deep} below {below}{back}."


class _CurveMaker:
    """Draws a neck curve between the shoulder and the centre, square to both unless it is a V."""

    def __init__(self, shape: Shape, through: tuple[Point, ...], corners: tuple[bool, ...]) -> None:
        self.shape, self.through, self.corners = shape, through, corners

    def __call__(self, top: Point, bottom: Point, square_to_shoulder: float) -> Points:
        """From the shoulder down to the centre, shape (N, 2); `square_to_shoulder` is the direction leaving `top`."""
        if self.shape == "V" and not self.through:
            return as_points((top, bottom))
        towards_centre = pi if top[0] > 0 else 0.0
        end = None if self.shape == "V" else towards_centre
        points = [top, *self.through, bottom]
        return fair_curve(
            points, corners=[False, *self.corners, False], start_direction=square_to_shoulder, end_direction=end
        )


def _side_neck(piece: Piece) -> Point:
    if "side_neck" not in piece.landmarks:
        raise Refusal(
            f"Piece {piece.name} holds no side neck point to measure from; cut the neckline before the panels.",
            piece=piece.name,
        )
    return piece.landmarks["side_neck"]


def _neck_index(piece: Piece) -> int:
    return [edge.name for edge in piece.edges].index(piece.edge("neck").name)


def _is_front_order(piece: Piece) -> bool:
    """Whether the loop runs from the shoulder over the neck to the centre (front), or the other way (back)."""
    return is_centre(piece.neighbours("neck")[1])


def neck_corner(piece: Piece) -> Point:
    """Where the neck meets the centre: the pit of the neck, or the nape."""
    neck = piece.edge("neck").points
    return as_point(neck[-1] if _is_front_order(piece) else neck[0])


def shoulder_at_neck(piece: Piece) -> Edge:
    """The shoulder edge that meets the neck, its points from the neck outwards."""
    before, after = piece.neighbours("neck")
    return replace(before, points=as_points(before.points[::-1])) if _is_front_order(piece) else after


def _along_at_x(shoulder: Edge, x: float) -> float:
    """Distance from the neck along a shoulder at which it lies `x` mm from the centre; negative nearer the centre."""
    reach = np.abs(shoulder.points[:, 0])
    if x < reach[0] - ON_EDGE:
        return -1.0
    steps = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(shoulder.points, axis=0).T))))
    return float(np.interp(x, reach, steps))


def _opened(piece: Piece, along: float, bottom: Point, curve_maker: _CurveMaker) -> Piece:
    """The piece with its neck edge redrawn from `along` the shoulder to `bottom` on the centre."""
    shoulder = shoulder_at_neck(piece)
    if along >= shoulder.length - CORNER_CHORD:
        divided = len([edge for edge in piece.edges if edge.origin.edge == shoulder.origin.edge]) > 1
        beyond = "past the shoulder dart, so pivot that dart first" if divided else "off the shoulder"
        raise Refusal(
            f"The neckline would run {beyond}: piece {piece.name} has {shoulder.length:.0f} mm of shoulder there.",
            piece=piece.name,
            edge=shoulder.name,
        )
    top, centre = _on_shoulder(piece, along), _on_centre(piece, bottom)
    leaving = end_direction(shoulder.points, at_end=False, chord=CORNER_CHORD)
    square = leaving + (-pi / 2 if _is_front_order(piece) else pi / 2)
    curve = curve_maker(point_on(piece.edges, top), point_on(piece.edges, centre), square)
    _refuse_curve(piece, curve)
    return _with_neck(piece, curve, top, centre)


def _on_shoulder(piece: Piece, along: float) -> OnLoop:
    index = _neck_index(piece)
    if _is_front_order(piece):
        return OnLoop(index - 1, piece.edges[index - 1].length - along)
    return OnLoop((index + 1) % len(piece.edges), along)


def _on_centre(piece: Piece, bottom: Point) -> OnLoop:
    index = _neck_index(piece)
    index = (index + 1) % len(piece.edges) if _is_front_order(piece) else index - 1
    edge = piece.edges[index]
    drop = abs(neck_corner(piece)[1] - bottom[1])
    if drop >= edge.length - CORNER_CHORD:
        raise Refusal(
            f"A neckline {drop:.0f} mm below the neck leaves no centre edge on piece {piece.name}; give less depth.",
            piece=piece.name,
            edge=edge.name,
        )
    return OnLoop(index, drop if _is_front_order(piece) else edge.length - drop)


def _refuse_curve(piece: Piece, curve: Points) -> None:
    if not is_simple(curve) or not inside_path(piece.loop, curve, slack=ON_EDGE):
        raise Refusal(
            f"The neckline leaves piece {piece.name} or crosses itself; move its points or give more depth.",
            piece=piece.name,
            edge="neck",
        )
    for dart in piece.darts:
        if dart.is_crossed_by(curve):
            raise Refusal(
                f"The neckline passes the {spoken(dart.name)} of piece {piece.name}; pivot that dart first.",
                piece=piece.name,
                edge="neck",
            )


def _with_neck(piece: Piece, down: Points, top: OnLoop, centre: OnLoop) -> Piece:
    """The part below the curve, the curve its neck edge. Landmarks of the body stay marked even off the cloth."""
    front = _is_front_order(piece)
    own = run(piece.edges, centre, top) if front else run(piece.edges, top, centre)
    curve = down if front else as_points(down[::-1])
    neck = piece.edge("neck")
    new = replace(neck, points=curve, origin=Origin(neck.origin.edge, 0.0, length(curve)))
    part = part_of_piece(piece, Border(own, curve))
    edges = named(closed((*own, new)))
    return replace(piece, edges=edges, darts=with_bases(part.darts, edges), lines=part.lines)


def _neck_size(piece: Piece) -> tuple[str, float]:
    neck = piece.edge("neck")
    return neck.origin.edge, neck.length
