"""Her own block: a drafted block read off to a tenth of a millimetre, typed, and made a garment again."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, pi

import msgspec
import numpy as np
import pytest

from core.blocks.ease import Ease
from core.blocks.own_block import OwnBlock, OwnDart, OwnEdge, OwnPiece, own_garment
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, point_at
from core.pieces.outline import cloth_area
from core.pieces.records import Dart, Edge, Garment, Piece
from core.pieces.seams import matches
from core.steps.cup import Cup
from core.steps.pivot import Pivot
from tests.core.blocks.drafted_bodies import client
from tests.core.blocks.handbooks import by_handbook

CURVED = 9
"""Points that are read off a curve."""


def read_off(place: Point) -> Point:
    """A point as it would be typed, to a tenth of a millimetre."""
    return (round(place[0], 1), round(place[1], 1))


def typed_edge(edge: Edge) -> OwnEdge:
    """An edge read off at a few points; a straight one at its ends."""
    count = 2 if len(edge.points) == 2 else CURVED
    points = tuple(read_off(point_at(edge.points, share * edge.length)) for share in np.linspace(0.0, 1.0, count))
    return OwnEdge(edge.origin.edge.partition(".")[2], points)


def typed_dart(dart: Dart) -> OwnDart:
    """A dart read off."""
    legs = (read_off(dart.legs[0]), read_off(dart.legs[1]))
    return OwnDart(dart.name.partition(".")[2], read_off(dart.pivot), legs, 20.0)


def typed_piece(piece: Piece) -> OwnPiece:
    """A piece read off."""
    levels = tuple(round(piece.landmarks[line][1], 1) for line in ("upper_bust_line", "bust_line", "under_bust_line"))
    edges = tuple(typed_edge(edge) for edge in piece.edges if edge.kind != "dart base")
    return OwnPiece(edges, tuple(typed_dart(dart) for dart in piece.darts), (levels[0], levels[1], levels[2]))


def typed(garment: Garment) -> OwnBlock:
    """A block read off."""
    front, back = garment.piece("front"), garment.piece("back")
    return OwnBlock(typed_piece(front), typed_piece(back), read_off(front.landmarks["bust_point"]))


def drafted(method: str) -> Garment:
    """The block that lies on her table."""
    return client().garment if method == "tape" else by_handbook(method).garment


every = pytest.mark.parametrize("method", ["tape", "shoulder-dart", "armhole-dart"])


@every
def test_a_typed_block_is_like_the_one_it_was_read_from(method: str) -> None:
    """The same edges, darts, landmarks, seams; lengths within 0.5 mm, angles within 0.1 degree, area within 0.1 %."""
    old = drafted(method)
    new = own_garment(typed(old), Ease())
    for name, piece in old.pieces.items():
        mine = new.piece(name)
        assert [edge.name for edge in mine.edges] == [edge.name for edge in piece.edges]
        assert [edge.kind for edge in mine.edges] == [edge.kind for edge in piece.edges]
        assert set(piece.landmarks) - {"shoulder_blade"} <= set(mine.landmarks)
        for edge, was in zip(mine.edges, piece.edges, strict=True):
            assert edge.length == pytest.approx(was.length, abs=0.5), edge.name
        for dart in piece.darts:
            assert degrees(mine.dart(dart.name).angle) == pytest.approx(degrees(dart.angle), abs=0.1)
        assert cloth_area(mine) == pytest.approx(cloth_area(piece), rel=1e-3)
    assert new.seams.keys() == old.seams.keys()
    assert new.open_edges == old.open_edges


@every
def test_its_darts_have_equal_legs_and_its_edges_close(method: str) -> None:
    """However it was rounded in typing: legs equal to a millionth, edges bit for bit."""
    for piece in own_garment(typed(drafted(method)), Ease()).pieces.values():
        for dart in piece.darts:
            assert gap(dart.pivot, dart.legs[0]) == pytest.approx(gap(dart.pivot, dart.legs[1]), abs=1e-6)
        for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            assert (before.points[-1] == after.points[0]).all(), (before.name, after.name)


@every
def test_its_marks_cross_darts_at_one_distance(method: str) -> None:
    """The under-bust line leaves each leg as far from the pivot as it goes on from the other (design.md 5)."""
    for piece in own_garment(typed(drafted(method)), Ease()).pieces.values():
        stretches = piece.line(f"{piece.name}.under_bust_line").stretches
        assert len(stretches) == 1 + sum(dart.name.endswith("waist_dart") for dart in piece.darts)
        for before, after in pairwise(stretches):
            off = [abs(float(np.hypot(*(before[-1] - d.pivot)) - np.hypot(*(after[0] - d.pivot)))) for d in piece.darts]
            assert min(off) <= 0.01


def test_seams_compare_what_was_typed() -> None:
    """The typed block's shoulder and side seams agree as the drafted block's did, within the typing."""
    for match in matches(own_garment(typed(client().garment), Ease())):
        assert abs(match.difference) <= 0.5, match.seam.name


def test_it_is_worked_on_like_a_drafted_one() -> None:
    """A pivot into the waist dart keeps the cloth; a cup takes its bust circle of 76 mm radius with 1/2 in underlap.

    The rounding over the point lengthens the seam by under a millimetre.
    """
    garment = own_garment(typed(client().garment), Ease())
    circle = garment.piece("front").line("front.bust_circle")
    front = garment.piece("front")
    open_angle = sum(dart.angle for dart in front.darts)
    assert circle.length == pytest.approx(76.0 * (2 * pi - open_angle), abs=0.1)
    turned = Pivot("pivot-1", "front", "front.shoulder_dart", into="front.waist_dart").apply(garment).garment
    assert cloth_area(turned.piece("front")) == pytest.approx(cloth_area(front), abs=1e-3)
    cup = next(
        match
        for match in matches(Cup("cup-1", (6, 7), turning=0.0).apply(garment).garment)
        if match.seam.name == "cup.seam"
    )
    assert 2 * (76.0 + 12.7) <= cup.length_a <= 2 * (76.0 + 12.7) + 1.0


def test_it_is_kept_as_a_document() -> None:
    """Written as JSON and read again it is the same record; an unknown field is refused by the reader."""
    block = typed(client().garment)
    text = msgspec.json.encode(block)
    assert msgspec.json.decode(text, type=OwnBlock) == block
    with pytest.raises(msgspec.ValidationError, match="unknown field"):
        msgspec.json.decode(text.replace(b'"bust_point"', b'"bust_tip"'), type=OwnBlock)


# --------------------------------------------------------------------------------------------------------------
# refusals


def with_front(**changes: object) -> OwnBlock:
    """The client's block typed, something of its front changed."""
    block = typed(client().garment)
    return msgspec.structs.replace(block, front=msgspec.structs.replace(block.front, **changes))


def front_edges() -> list[OwnEdge]:
    """The front's edges as typed."""
    return list(typed(client().garment).front.edges)


def moved(edge: OwnEdge, index: int, dx: float, dy: float) -> OwnEdge:
    """An edge with one point moved."""
    points = list(edge.points)
    points[index] = (points[index][0] + dx, points[index][1] + dy)
    return msgspec.structs.replace(edge, points=tuple(points))


def test_an_open_loop_is_refused() -> None:
    """Side and armhole that part by 5 mm are named, with the gap."""
    edges = front_edges()
    side = next(index for index, edge in enumerate(edges) if edge.name == "side")
    edges[side] = moved(edges[side], -1, 0.0, -5.0)
    with pytest.raises(Refusal, match=r"front is open between side and armhole: 5\.0 mm"):
        own_garment(with_front(edges=tuple(edges)), Ease())


def test_a_dart_that_is_not_typed_leaves_the_loop_open() -> None:
    """Without its dart the waist has a gap, and the way out is said."""
    block = with_front(darts=typed(client().garment).front.darts[1:])
    with pytest.raises(Refusal, match=r"open between waist and waist.*type the dart"):
        own_garment(block, Ease())


def test_a_crossing_outline_is_refused() -> None:
    """A neck point typed 200 mm too low makes the loop cross itself."""
    edges = front_edges()
    neck = next(index for index, edge in enumerate(edges) if edge.name == "neck")
    edges[neck] = moved(edges[neck], 4, 150.0, -400.0)
    with pytest.raises(Refusal, match="front crosses itself"):
        own_garment(with_front(edges=tuple(edges)), Ease())


def test_unequal_legs_are_refused_with_both_lengths() -> None:
    """One leg 3 mm longer than the other: the dart, the piece and both lengths are said."""
    dart = typed(client().garment).front.darts[0]
    (x, y), other = dart.legs
    bad = msgspec.structs.replace(dart, legs=((x, y - 3.0), other))
    with pytest.raises(Refusal, match=r"legs of the waist dart of the front are 17\d\.\d and 1[67]\d\.\d mm"):
        own_garment(with_front(darts=(bad, *typed(client().garment).front.darts[1:])), Ease())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda edges: edges[:-1], "must come in this order, counter-clockwise: centre front, waist"),
        (lambda edges: edges[::-1], "must come in this order"),
        (lambda edges: [OwnEdge("hem", edges[0].points), *edges[1:]], "must come in this order"),
        (lambda edges: [OwnEdge(edges[0].name, edges[0].points[:1]), *edges[1:]], "at least two points"),
        (lambda edges: [moved(edges[0], 0, float("nan"), 0.0), *edges[1:]], "no number"),
        (lambda edges: [moved(edges[0], 0, 0.4, 0.0), *edges[1:]], "must lie on x = 0"),
    ],
)  # fmt: skip
def test_what_is_no_outline_is_refused(change: object, words: str) -> None:
    """Edges missing, backwards, unknown, of one point, without numbers, or off the centre."""
    assert callable(change)
    with pytest.raises(Refusal, match=words):
        own_garment(with_front(edges=tuple(change(front_edges()))), Ease())


def test_a_level_that_misses_the_piece_is_refused() -> None:
    """An upper bust line above the neck meets no centre."""
    with pytest.raises(Refusal, match="does not meet its centre"):
        own_garment(with_front(levels=(900.0, 170.0, 90.0)), Ease())
