"""What one step did, as a picture: faint what was there before, firm what is there now, arrows from place to place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import atan2, hypot
from typing import Final

import numpy as np

from core.design.replay import Stage
from core.geometry.planar import roomiest
from core.geometry.polyline import Point, as_point, as_points
from core.outputs.drawing import Box, Drawing, Item, Role, Stroke, Text, bounds
from core.outputs.edge_words import arrow_head
from core.pieces.outline import wedge_of
from core.pieces.records import Garment, Piece

MOVED: Final = 1.0
"""mm: what moved less gets no arrow."""

ARROWS: Final = 8
APART: Final = 15.0
"""At most so many arrows to a picture, the longest, their feet so far apart (mm at full size)."""

HEAD: Final = 2.2
NUMBER: Final = 5.0
"""Sizes in mm on paper of an arrow's head and of a piece's number."""

SAME_SPOT: Final = 20.0
"""mm at full size: pieces whose middles are nearer lie over each other, such as a copy over what it was copied from."""

AROUND: Final = 6.0
"""mm on paper round a picture."""


def step_picture(stage: Stage, *, scale: float) -> tuple[Drawing, Box]:
    """The picture of a step in mm of the paper, and the box that holds it."""
    gone, come = changed(stage.before, stage.garment)
    if not gone and not come:
        return block_picture(stage.garment, scale=scale)
    items = [item for piece in gone.values() for item in _lines(piece, None)]
    for piece in come.values():
        items += _lines(piece, gone.get(piece.name) or _source(piece, gone) or piece)
    drawn = Drawing((*items, *_arrows(gone, come, scale), *_numbers(come, scale))).scaled(scale)
    return drawn, _framed(drawn)


def block_picture(garment: Garment, *, scale: float) -> tuple[Drawing, Box]:
    """A garment as it is, such as the block that was drafted."""
    items = [item for piece in garment.pieces.values() for item in _lines(piece, piece)]
    drawn = Drawing((*items, *_numbers(garment.pieces, scale))).scaled(scale)
    return drawn, _framed(drawn)


def changed(before: Garment, after: Garment) -> tuple[Mapping[str, Piece], Mapping[str, Piece]]:
    """The pieces that a step took away or altered, as they were, and those that it made or altered, as they are."""
    gone = {name: piece for name, piece in before.pieces.items() if after.pieces.get(name) is not piece}
    come = {name: piece for name, piece in after.pieces.items() if before.pieces.get(name) is not piece}
    return gone, come


def _framed(drawing: Drawing) -> Box:
    if not drawing.strokes():
        return (0.0, 0.0, 2 * AROUND, 2 * AROUND)
    left, bottom, right, top = bounds(as_points(np.vstack([stroke.points for stroke in drawing.strokes()])))
    return (left - AROUND, bottom - AROUND, right + AROUND, top + AROUND)


def _source(piece: Piece, gone: Mapping[str, Piece]) -> Piece | None:
    """The piece that a panel was cut from: its lines are not new."""
    return next((old for old in gone.values() if old.block == piece.block), None)


def _lines(piece: Piece, before: Piece | None) -> Iterator[Item]:
    """The outline, darts and drawn lines of a piece: faint without `before`, else firm and what is new boldly."""
    is_new = before is not None
    for edge in piece.edges:
        if edge.kind != "dart base":
            yield Stroke(edge.points, "after" if is_new else "before")
    for dart in piece.darts:
        yield Stroke(as_points((dart.legs[0], dart.point, dart.legs[1])), "after" if is_new else "before")
    known = {line.name for line in before.lines} if before is not None else set()
    for line in piece.lines:
        if line.purpose != "level":
            role: Role = "new line" if is_new and line.name not in known else "mark" if is_new else "before"
            yield from (Stroke(stretch, role) for stretch in line.stretches)


# --------------------------------------------------------------------------------------------------------------
# arrows and numbers


def _arrows(gone: Mapping[str, Piece], come: Mapping[str, Piece], scale: float) -> Iterator[Item]:
    moves = sorted(_moves(gone, come), key=lambda move: -hypot(move[1][0] - move[0][0], move[1][1] - move[0][1]))
    drawn: list[Point] = []
    for foot, tip in moves:
        if len(drawn) < ARROWS and all(hypot(foot[0] - x, foot[1] - y) >= APART for x, y in drawn):
            drawn.append(foot)
            yield Stroke(as_points((foot, tip)), "moved")
            way = atan2(tip[1] - foot[1], tip[0] - foot[0])
            yield arrow_head(tip, way, HEAD / scale, "moved")


def _moves(gone: Mapping[str, Piece], come: Mapping[str, Piece]) -> Iterator[tuple[Point, Point]]:
    """Where named places were and where they are: ends of edges, darts, landmarks."""
    for name, piece in come.items():
        old = _places(gone[name]) if name in gone else {}
        for key, tip in _places(piece).items():
            foot = old.get(key)
            if foot is not None and hypot(tip[0] - foot[0], tip[1] - foot[1]) >= MOVED:
                yield foot, tip


def _places(piece: Piece) -> dict[tuple[str, ...], Point]:
    """Named places of a piece; ends of edges by what they descend from, and how far along it."""
    found: dict[tuple[str, ...], Point] = {(name,): place for name, place in piece.landmarks.items()}
    for edge in piece.edges:
        origin = edge.origin
        found[origin.edge, origin.side, "first", f"{origin.start:.1f}"] = as_point(edge.points[0])
        found[origin.edge, origin.side, "last", f"{origin.stop:.1f}"] = as_point(edge.points[-1])
    for dart in piece.darts:
        found[dart.name, "point"] = dart.point
        found[dart.name, "first leg"], found[dart.name, "last leg"] = dart.legs
    return found


def _numbers(pieces: Mapping[str, Piece], scale: float) -> Iterator[Text]:
    """Each piece's number, or its name while it has none, where it has most room; pieces on one spot share a text."""
    spots: list[tuple[Point, float, list[str]]] = []
    for piece in pieces.values():
        (x, y), room = roomiest(piece.loop, [wedge_of(piece, dart) for dart in piece.darts])
        words = str(piece.number) if piece.number else piece.name
        near = next((spot for spot in spots if hypot(spot[0][0] - x, spot[0][1] - y) < SAME_SPOT), None)
        if near is not None:
            near[2].append(words)
        else:
            spots.append(((x, y), room, [words]))
    for (x, y), room, names in spots:
        shown = ", ".join(names)
        size = min(NUMBER / scale, 2.4 * room / max(len(shown), 2))
        yield Text((x, y - 0.36 * size), size, shown, "label")
