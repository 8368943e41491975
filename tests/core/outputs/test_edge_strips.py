"""Bones, turning gaps and the waist stay beside their edges, holes for darts, finishes in the edges' names."""

from __future__ import annotations

from itertools import combinations

import msgspec
import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from core.design.finishes import Bone, EdgeFinish, Finishing
from core.finishing.finish import Finished, finish
from core.finishing.turning import turned
from core.outputs.drawing import Stroke
from core.outputs.edge_strips import edge_strips
from core.outputs.piece_drawing import piece_drawing
from tests.samples import design, replayed


def pieces() -> dict[str, Finished]:
    """The concert bodice with a bone, a turned yoke, a zip and a waist stay."""
    garment = replayed("concert").garment
    made = msgspec.structs.replace(
        design("concert"),
        finishing=Finishing(
            edges=(EdgeFinish("centre back", "back.centre_back", use="zip"),),
            doubled=(turned(garment, "front yoke", unit="in"),),
            bones=(Bone("side front", "front.side"),),
            waist_stay=True,
        ),
    )
    return {piece.name: piece for piece in finish(made, garment)}


def test_a_bone_is_drawn_as_long_as_it_is() -> None:
    """From 10 mm after one end of the side to 10 mm before the other, 3 mm inside it, with its length in words."""
    piece = pieces()["side front"]
    (mark,) = (mark for mark in piece.marks if mark.kind == "bone")
    side = piece.piece.edge("side")
    strips = [LineString(item.points) for item in edge_strips(piece, 1.0) if isinstance(item, Stroke)]
    line = max(strips, key=lambda strip: strip.length)
    assert line.length == pytest.approx(side.length - 20.0, rel=0.01)
    assert line.distance(LineString(side.points)) == pytest.approx(3.0, abs=0.05)
    assert Polygon(piece.piece.loop).contains(line)
    assert mark.words == "bone 6 27/32 in"


def test_a_turning_gap_is_drawn_where_it_is() -> None:
    """60 mm in the middle of the shoulder, named."""
    piece = pieces()["front yoke"]
    (mark,) = (mark for mark in piece.marks if mark.kind == "turning gap")
    assert mark.stop - mark.start == pytest.approx(60.0)
    assert any(text.text == "turn: 2 3/8 in" for text in piece_drawing(piece).texts())
    assert piece.count == "cut 2 on fold, turned"


def test_a_waist_stay_is_marked_on_every_waist_edge() -> None:
    """Each panel that reaches the waist, and no other piece."""
    marked = {piece.name for piece in pieces().values() for mark in piece.marks if mark.kind == "waist stay"}
    assert marked == {"centre front", "side front", "centre back", "side back"}


def test_an_edge_names_its_finish() -> None:
    """The zip beside the centre back."""
    assert "centre back: zip" in {text.text for text in piece_drawing(pieces()["centre back"]).texts()}


def test_no_words_of_a_mark_lie_on_others() -> None:
    """All texts of every piece, by about the room they take."""
    for piece in pieces().values():
        boxes = [Polygon(text.box) for text in piece_drawing(piece).texts()]
        for first, second in combinations(boxes, 2):
            assert first.intersection(second).area < 1.0


def test_a_hole_stands_half_an_inch_inside_every_dart() -> None:
    """On its middle line, 12.7 mm from where the sewing ends (a factory pattern-maker's page, trade.md C2)."""
    front = next(piece for piece in finish(design("block"), replayed("block").garment) if piece.name == "front")
    rings = [s.points for s in piece_drawing(front).strokes("mark") if len(s.points) == 13]
    assert len(rings) == len(front.piece.darts) > 0
    for dart, ring in zip(front.piece.darts, rings, strict=True):
        centre = ring[:-1].mean(axis=0)
        assert np.hypot(*(centre - dart.point)) == pytest.approx(12.7)
        legs = [np.hypot(*(centre - leg)) for leg in dart.legs]
        assert legs[0] == pytest.approx(legs[1])
