"""A piece with a dart folded shut lies as the cloth would, and everything on it goes with it."""

from __future__ import annotations

from dataclasses import replace
from math import degrees

import pytest

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import as_point
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
