"""Finished pieces: cutting lines by the law of allowances, numbers, grain, counts."""

from __future__ import annotations

from itertools import pairwise

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import LinearRing, LineString, MultiLineString, Polygon
from shapely.geometry import Point as PlanePoint

from core.design.finishes import Doubled
from core.errors import Refusal
from core.fabrics.shelf import default_fabrics
from core.finishing.finish import Finished, finish, numbered
from core.pieces.outline import cloth_area
from tests.samples import EVERY_NAME, NAMES, design, replayed

SLACK = 0.05


def finished(name: str) -> tuple[Finished, ...]:
    """The pieces of a sample design."""
    return finish(design(name), replayed(name).garment)


@pytest.mark.parametrize("name", EVERY_NAME)
def test_the_cutting_line_keeps_every_allowance(name: str) -> None:
    """It closes, is simple, holds the piece, and lies at least its allowance from every edge, but for its corners.

    Within 16 mm of a corner the line of the neighbour may be nearer.
    """
    for piece in finished(name):
        line = piece.cutting_line
        assert (line[0] == line[-1]).all()
        ring = LinearRing(line)
        assert ring.is_simple
        assert ring.is_ccw
        assert Polygon(line).buffer(1e-6).contains(Polygon(piece.piece.loop))
        for edge in piece.piece.edges:
            whole = LineString(edge.points)
            inner = [whole.interpolate(along) for along in np.arange(16.0, edge.length - 16.0, 1.0)]
            cut = off_the_fold(piece) if edge.kind != "fold" else ring
            nearest = min((cut.distance(place) for place in inner), default=piece.allowances[edge.name])
            assert nearest >= piece.allowances[edge.name] - SLACK


def off_the_fold(piece: Finished) -> MultiLineString:
    """The cutting line but for what lies on the front's fold, which is not cut."""
    folded = piece.piece.cut == "fold"
    sides = pairwise(piece.cutting_line.tolist())
    return MultiLineString([side for side in sides if not (folded and max(side[0][0], side[1][0]) < 1e-6)])


@pytest.mark.parametrize("name", EVERY_NAME)
def test_the_allowance_is_exact_in_the_middle_of_edges(name: str) -> None:
    """Away from corners, hollows and dart caps nothing more is cut than was asked for."""
    for piece in finished(name):
        ring = LinearRing(piece.cutting_line)
        for edge in piece.piece.edges:
            if edge.kind != "dart base" and edge.length > 60.0:
                middle = LineString(edge.points).interpolate(0.5, normalized=True)
                assert ring.distance(middle) == pytest.approx(piece.allowances[edge.name], abs=SLACK)


@pytest.mark.parametrize("name", EVERY_NAME)
def test_nothing_is_cut_beyond_the_fold(name: str) -> None:
    """The cutting line runs along the fold and ends on it: x = 0 is its leftmost place on the front."""
    for piece in finished(name):
        if piece.piece.cut == "fold":
            assert piece.cutting_line[:, 0].min() == pytest.approx(0.0, abs=1e-6)
            assert piece.allowances["centre_front"] == 0.0


def test_pieces_without_a_number_get_the_smallest_free_ones() -> None:
    """Beside a piece 1 and a piece 3, the others become 2 and 4, in order."""
    garment = replayed("concert").garment
    given = {"front yoke": 1, "side front": 0, "centre front": 3, "centre back": 0}
    pieces = {name: replace(garment.pieces[name], number=number) for name, number in given.items()}
    assert numbered(replace(garment, pieces=pieces)) == {
        "front yoke": 1, "side front": 2, "centre front": 3, "centre back": 4,
    }  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_numbers_are_unique(name: str) -> None:
    """In every design, blocks that are not cut yet included."""
    numbers = [piece.number for piece in finished(name)]
    assert len(set(numbers)) == len(numbers)
    assert min(numbers) == 1


@pytest.mark.parametrize("name", NAMES)
def test_the_grain_line_lies_inside_its_piece(name: str) -> None:
    """Both ends, along the piece's grain, clear of open darts."""
    for piece in finished(name):
        wedges = [Polygon([dart.pivot, *dart.legs]) for dart in piece.piece.darts]
        line = LineString(piece.grain)
        assert Polygon(piece.piece.loop).contains(line)
        assert not any(wedge.buffer(-1e-6).intersects(line) for wedge in wedges)
        (ax, ay), (bx, by) = piece.grain
        assert np.arctan2(by - ay, bx - ax) == pytest.approx(piece.piece.grain, abs=1e-9)
        assert line.length > 40.0


def test_counts_are_told_as_they_are_cut() -> None:
    """On the fold or in pairs, once for each layer of the fabric; mesh is cut double."""
    words = {piece.name: piece.count for piece in finished("concert")}
    assert words["front yoke"] == "cut 2 on fold"
    assert words["centre front"] == "cut 1 on fold"
    assert words["side front"] == "cut 1 pair"
    garment = replayed("concert").garment
    double = [msgspec.structs.replace(fabric, layers=2) for fabric in default_fabrics()]
    doubled = finish(msgspec.structs.replace(design("concert"), fabrics=tuple(double)), garment)
    assert {piece.name: piece.count for piece in doubled}["side front"] == "cut 2 pairs"


def test_a_piece_that_fits_one_half_is_cut_face_up() -> None:
    """Cut face down, a left side front is a right one (trade.md H6). Sewn double and turned, one layer is face down."""
    piece = next(piece for piece in finished("concert") if piece.name == "side front")
    single = replace(piece, piece=replace(piece.piece, is_single=True))
    assert single.count == "cut 1 face up"
    turned = replace(single, doubled=Doubled("side front", "front.side"))
    assert turned.count == "cut 1 face up and 1 face down, turned"


def test_the_area_is_that_of_the_cloth() -> None:
    """The loop without the wedges of open darts, as shapely measures them."""
    for piece in finished("block"):
        wedges = sum(Polygon([dart.pivot, *dart.legs]).area for dart in piece.piece.darts)
        assert piece.area == pytest.approx(Polygon(piece.piece.loop).area - wedges, rel=1e-9)
        assert piece.area == cloth_area(piece.piece)


def test_a_fabric_that_is_not_there_is_refused() -> None:
    """By its name, with those there are."""
    bare = msgspec.structs.replace(design("concert"), fabrics=default_fabrics()[:1])
    with pytest.raises(Refusal, match="no fabric “sheer”"):
        finish(bare, replayed("concert").garment)


def test_a_mesh_piece_is_cut_on_its_stitching_line() -> None:
    """With no allowance the two lines are one."""
    yoke = next(piece for piece in finished("concert") if piece.name == "front yoke")
    assert Polygon(yoke.cutting_line).symmetric_difference(Polygon(yoke.piece.loop)).area < 1e-3
    assert LinearRing(yoke.cutting_line).distance(PlanePoint(yoke.piece.loop[0])) < 1e-9
