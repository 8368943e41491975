"""What is drawn of a piece."""

from __future__ import annotations

from functools import cache
from itertools import combinations

import numpy as np
import pytest
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.ops import unary_union

from core.finishing.finish import Finished, finish
from core.outputs.drawing import Drawing
from core.outputs.piece_drawing import piece_drawing
from tests.samples import NAMES, design, replayed


@cache
def finished(name: str) -> tuple[Finished, ...]:
    """The pieces of a sample design."""
    return finish(design(name), replayed(name).garment)


def lines(drawing: Drawing, *roles: str) -> MultiLineString:
    """The strokes of some roles as shapely has them."""
    return MultiLineString([LineString(s.points) for s in drawing.strokes() if s.role in roles])


ALL = [piece for name in NAMES for piece in finished(name)]
EVERY_PIECE = pytest.mark.parametrize("piece", ALL, ids=lambda piece: piece.name)


@EVERY_PIECE
def test_the_outline_is_drawn_as_it_is(piece: Finished) -> None:
    """Cutting line and stitching lines whole; what lies on the fold is drawn as fold and not as a line to cut."""
    drawing = piece_drawing(piece)
    cut = unary_union([lines(drawing, "cutting line"), lines(drawing, "fold")])
    assert cut.hausdorff_distance(LineString(piece.cutting_line)) < 1e-9
    fold = sum(edge.length for edge in piece.piece.edges if edge.kind == "fold")
    assert lines(drawing, "fold").length >= fold - 1e-9
    assert (lines(drawing, "fold").length > 0.0) == (piece.piece.cut == "fold")
    sewn = lines(drawing, "stitching line", "dart base")
    wanted = MultiLineString([LineString(edge.points) for edge in piece.piece.edges if edge.kind != "fold"])
    assert sewn.hausdorff_distance(wanted) < 1e-9


@EVERY_PIECE
def test_notches_stand_in_the_allowance(piece: Finished) -> None:
    """Never through the whole allowance, and outside an edge that has none (trade.md D2)."""
    cut, loop = LineString(piece.cutting_line), Polygon(piece.piece.loop)
    strokes = piece_drawing(piece).strokes("notch")
    notches = [notch for notch in piece.notches for _ in range(2 if notch.is_double else 1)]
    assert len(strokes) == len(notches)
    for notch, stroke in zip(notches, strokes, strict=True):
        tick = LineString(stroke.points)
        if piece.allowances[notch.edge] > 0.0:
            assert Polygon(piece.cutting_line).buffer(1e-6).contains(tick)
            assert cut.distance(tick) < 0.05
            assert tick.distance(loop) > 0.2 * piece.allowances[notch.edge]
            assert tick.length <= 5.0 + 1e-9
        else:
            assert tick.intersection(loop).length < 1e-6
            assert tick.distance(loop) < 1e-6


@EVERY_PIECE
def test_the_label_names_the_piece_and_its_count(piece: Finished) -> None:
    """Number, name, fabric and how it is cut, inside the piece and over no line but levels."""
    drawing = piece_drawing(piece)
    label = [text for text in drawing.texts() if text.role == "label"]
    words = " ".join(text.text for text in label)
    assert f"{piece.number}  {piece.name}" in words
    assert piece.count in words
    assert piece.fabric.name in words
    heavy = lines(drawing, "stitching line", "cutting line", "grain", "dart", "join arrow", "notch")
    for text in label:
        assert Polygon(piece.piece.loop).contains(Polygon(text.box))
        assert heavy.distance(Polygon(text.box)) > 0.0


@EVERY_PIECE
def test_no_text_lies_on_another(piece: Finished) -> None:
    """All texts of a piece, by about the room they take."""
    boxes = [Polygon(text.box) for text in piece_drawing(piece).texts()]
    for first, second in combinations(boxes, 2):
        assert first.intersection(second).area < 1.0


@EVERY_PIECE
def test_sewn_edges_point_to_their_mates(piece: Finished) -> None:
    """An arrow with the mate's number for every edge that has room for one; two where two pieces are sewn to it."""
    numbers = [text.text for text in piece_drawing(piece).texts() if text.role == "join arrow"]
    long = [edge for edge in piece.piece.edges if edge.name in piece.mates and edge.length > 24.0]
    wanted = [str(mate.number) for edge in long for mate in piece.mates[edge.name]]
    assert sorted(numbers) == sorted(wanted)


def test_a_fold_says_what_it_is() -> None:
    """In words, beside the line."""
    front = finished("block")[0]
    assert "centre front: place on the fold" in {text.text for text in piece_drawing(front).texts()}


def test_open_darts_are_drawn_to_the_point_where_sewing_ends() -> None:
    """Both legs, from their ends on the edge."""
    front = finished("block")[0]
    drawn = piece_drawing(front).strokes("dart")
    for dart, stroke in zip(front.piece.darts, drawn, strict=True):
        assert stroke.points == pytest.approx(np.array([dart.legs[0], dart.point, dart.legs[1]]))


def test_lines_on_a_cup_say_what_they_are() -> None:
    """The match line of the upper cup and the turning line of the lower parts carry their names."""
    texts = {piece.name: {text.text for text in piece_drawing(piece).texts()} for piece in finished("ball")}
    assert "match line" in texts["upper cup"]
    assert all("turning line" in texts[name] for name in ("inner lower cup", "outer lower cup"))


def test_no_name_of_an_edge_of_a_cup_lies_on_its_match_line() -> None:
    """The rim's names keep clear of the ends of the line where the opening is sewn."""
    piece = next(piece for piece in finished("ball") if piece.name == "upper cup")
    line = LineString(piece.piece.line("cup.match_line").stretches[0])
    names = [text for text in piece_drawing(piece).texts() if "edge" in text.text]
    assert len(names) == 2
    assert all(line.distance(Polygon(text.box)) > 0.5 for text in names)
