"""A piece with a dart folded shut lies as the cloth would, and everything on it goes with it."""

from __future__ import annotations

from itertools import pairwise
from math import cos, degrees, radians, sin

import pytest
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import as_point, length
from core.pieces.folded_piece import folded_piece, with_folded
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Piece
from core.pieces.turning import turn
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.paper_block import BUST_POINT, front, garment

MID_ARMHOLE = Place("front.armhole", "side", share=0.5)


def with_one_dart() -> Piece:
    """The front with all of its shoulder dart turned into the waist."""
    piece = front()
    return turn(piece, piece.dart("front.shoulder_dart"), "waist_dart").piece


def test_the_folded_darts_angle_goes_into_the_other_at_the_same_pivot() -> None:
    """Paper cannot lose fullness: what is folded at the shoulder opens at the waist (15 + 12 degrees)."""
    shown = folded_piece(front(), "front.shoulder_dart")
    (dart,) = shown.darts
    assert degrees(dart.angle) == pytest.approx(27.0, abs=1e-6)


@pytest.mark.parametrize("name", ["front.shoulder_dart", "front.waist_dart"])
def test_cloth_is_kept_and_the_fold_lies_still(name: str) -> None:
    """Folding moves cloth and neither adds nor takes any; the centre front stays where it is."""
    shown = folded_piece(front(), name)
    assert cloth_area(shown) == pytest.approx(cloth_area(front()), abs=1e-6)
    assert (shown.edge("centre_front").points == front().edge("centre_front").points).all()


def test_without_a_second_dart_a_slit_lets_the_angle_out() -> None:
    """A lone waist dart folds shut too; the slit opens by its angle and the cloth area stays."""
    piece = with_one_dart()
    shown = folded_piece(piece, "front.waist_dart")
    (slit,) = shown.darts
    assert degrees(slit.angle) == pytest.approx(27.0, abs=1e-6)
    assert cloth_area(shown) == pytest.approx(cloth_area(front()), abs=1e-6)
    assert (shown.edge("centre_front").points == piece.edge("centre_front").points).all()


def test_two_darts_can_be_shut_together() -> None:
    """With both darts of the front folded, only a slit of their summed angle is open."""
    shown = with_folded(front(), ("front.shoulder_dart", "front.waist_dart"))
    assert [degrees(dart.angle) for dart in shown.darts] == pytest.approx([27.0], abs=1e-6)


BOTH = ("front.shoulder_dart", "front.waist_dart")


@pytest.mark.parametrize("folded", [BOTH, BOTH[::-1]])
def test_the_slit_beside_the_centre_leaves_a_way_over_both_darts(folded: tuple[str, str]) -> None:
    """Whichever is shut first: the centre lies still, and the gap is at the waist beside it."""
    shown = with_folded(front(), folded)
    assert (shown.edge("centre_front").points == front().edge("centre_front").points).all()
    assert [edge.name for edge in shown.edges][:3] == ["centre_front", "waist.1", "slit"]
    assert shown.edge("waist.1").length == pytest.approx(4.0)


@pytest.mark.parametrize("folded", [BOTH, BOTH[::-1]])
@pytest.mark.parametrize("way", [1, -1])
def test_a_line_over_both_folded_darts_keeps_its_distance_from_the_bust_point(
    folded: tuple[str, str], way: int
) -> None:
    """Folding and letting out turn cloth about the bust point: 60 mm from it stays 60 mm, and no length is lost."""
    x, y = BUST_POINT
    turned = [radians(150.0 - 30.0 * n) for n in range(9)]
    end = with_folded(front(), folded).edge("waist.2").points.mean(axis=0).tolist()
    round_it = [(x + 60.0 * cos(angle), y + 60.0 * sin(angle)) for angle in turned]
    points = tuple(LinePoint(*at) for at in [(0.0, 300.0), *round_it[1:-1], end][::way])
    step = StyleLine("l", "front", "front.sheer", points, landmarks_of(front()), folded=folded)
    stretches = step.apply(garment()).garment.piece("front").line("front.sheer").stretches
    assert len(stretches) == 3
    curve = step.curve(garment(), front())
    assert sum(map(length, stretches)) == pytest.approx(length(curve), abs=0.01)
    flat = [gap(BUST_POINT, point) for stretch in stretches for point in stretch]
    assert min(flat) == pytest.approx(min(gap(BUST_POINT, point) for point in curve), abs=0.01)
    for before, after in pairwise(stretches):
        assert gap(BUST_POINT, before[-1]) == pytest.approx(gap(BUST_POINT, after[0]), abs=0.01)


def test_a_line_over_the_gap_is_refused() -> None:
    """The gap is thought open only for the while; the sentence says so."""
    points = (LinePoint(0, 60), LinePoint(60, 60), LinePoint(150, 60))
    step = StyleLine("l", "front", "front.sheer", points, landmarks_of(front()), folded=BOTH)
    with pytest.raises(Refusal, match="only while the shoulder dart and the waist dart are folded"):
        step.apply(garment())


def test_a_shut_dart_cannot_be_named_again() -> None:
    """A dart that the piece does not have is refused by name."""
    with pytest.raises(Refusal, match="no open side dart"):
        folded_piece(front(), "front.side_dart")


def test_a_line_over_a_folded_dart_ends_on_the_named_place_of_the_flat_piece() -> None:
    """A point snapped to mid armhole ends there on the flat piece, although drawn turned."""
    shown = folded_piece(front(), "front.shoulder_dart")
    drawn = LinePoint(0.0, 0.0, place=MID_ARMHOLE)
    points = (LinePoint(0, 260), LinePoint(70, 250), drawn)
    step = StyleLine("l", "front", "front.sheer", points, landmarks_of(front()), folded=("front.shoulder_dart",))
    line = step.apply(garment()).garment.piece("front").line("front.sheer")
    armhole = front().edge("armhole")
    corner, middle = as_point(armhole.points[1]), armhole.length / 2
    share = (middle - gap(armhole.points[0], corner)) / gap(corner, armhole.points[2])
    wanted = (corner[0] + share * (190 - corner[0]), corner[1] + share * (380 - corner[1]))
    assert gap(line.stretches[-1][-1], wanted) == pytest.approx(0.0, abs=1e-6)
    assert gap(shown.edge("armhole").points[1], corner) > 10.0
    radii = [gap(BUST_POINT, end) for end in (line.stretches[0][-1], line.stretches[1][0])]
    assert radii[0] == pytest.approx(radii[1], abs=0.01)


def test_the_same_piece_is_folded_once() -> None:
    """Asking again gives the same object, so that its picture can be kept."""
    piece = front()
    assert folded_piece(piece, "front.waist_dart") is folded_piece(piece, "front.waist_dart")
    other = replace(piece, number=3)
    assert folded_piece(other, "front.waist_dart") is not folded_piece(piece, "front.waist_dart")
