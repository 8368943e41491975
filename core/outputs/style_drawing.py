"""The style as a small line drawing: front and back of the bodice before it was cut, both halves, with its lines."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from core.design.replay import Replay
from core.geometry.placement import Placement, mirrored
from core.outputs.drawing import Box, Drawing, Item, Stroke, Text, bounds
from core.pieces.records import Garment, Piece

GAP: Final = 120.0
"""mm between front and back at full size."""

NAME: Final = 28.0
"""Size in mm of the words under them, at full size."""


def style_drawing(replay: Replay) -> tuple[Drawing, Box]:
    """Front and back side by side at full size, seen from outside, and the box that holds them."""
    garment = _uncut(replay)
    drawn, left = Drawing(), 0.0
    for name in ("front", "back"):
        if name in garment.pieces:
            half = Drawing(tuple(_half(garment.pieces[name])))
            whole = half + _reflected(half)
            low, _, high, _ = _box(whole)
            words = Text(((low + high) / 2, -2.0 * NAME), NAME, name, "words")
            drawn += (whole + Drawing((words,))).placed(Placement(0.0, left - low, 0.0))
            left += high - low + GAP
    left, bottom, right, top = _box(drawn)
    return drawn, (left, bottom - 2.4 * NAME, right, top)


def _uncut(replay: Replay) -> Garment:
    """The last garment in which front and back are whole, with all the lines drawn until then."""
    garments = [replay.block, *(stage.garment for stage in replay.stages)]
    whole = [garment for garment in garments if {"front", "back"} <= set(garment.pieces)]
    return whole[-1] if whole else replay.block


def _half(piece: Piece) -> Iterator[Item]:
    for edge in piece.edges:
        if edge.kind != "fold" and edge.name != "centre_back":
            yield Stroke(edge.points, "dart base" if edge.kind == "dart base" else "map line")
    for dart in piece.darts:
        yield Stroke(np.array((dart.legs[0], dart.point, dart.legs[1])), "level")
    for line in piece.lines:
        if line.purpose in ("sheer", "panel"):
            yield from (
                Stroke(stretch, "map line" if line.purpose == "sheer" else "mark") for stretch in line.stretches
            )


def _reflected(half: Drawing) -> Drawing:
    return Drawing(tuple(Stroke(mirrored(stroke.points), stroke.role) for stroke in half.strokes()))


def _box(drawing: Drawing) -> Box:
    return bounds(np.vstack([stroke.points for stroke in drawing.strokes()]))
