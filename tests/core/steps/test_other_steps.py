"""Neckline, trim to match and join."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees, radians, remainder, sin, tau

import pytest
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.polyline import as_points, end_direction
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment, Piece
from core.pieces.seams import match
from core.steps.cut import Cut, Tag
from core.steps.join import Join
from core.steps.mapping import landmarks_of
from core.steps.neckline import Neckline
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.trim import SideChoice, Trim
from tests.paper_block import garment


def test_a_neckline_takes_as_much_shoulder_off_front_and_back() -> None:
    """What is left of both shoulders differs as before, and keeps its line."""
    start = garment()
    after = Neckline("n", 75.0, 60.0, 20.0).apply(start).garment
    before, now = (match(g, g.seam("shoulder")) for g in (start, after))
    assert now.difference == pytest.approx(before.difference, abs=1e-9)
    outer = after.piece("back").edge("shoulder").points
    assert (outer[-1] == start.piece("back").edge("shoulder").points[-1]).all()


def test_a_neckline_is_square_to_shoulder_and_fold() -> None:
    """So that front and back run on over the shoulder, and both halves over the centre (trade.md D5)."""
    piece = Neckline("n", 75.0, 60.0, 20.0).apply(garment()).garment.piece("front")
    neck = piece.edge("neck").points
    shoulder = piece.edge("shoulder.2").points
    turn = end_direction(neck, at_end=False, chord=1.0) - end_direction(shoulder, at_end=True, chord=1.0)
    assert degrees(turn) % 360 == pytest.approx(90.0, abs=0.5)
    assert abs(neck[-1][1] - neck[-2][1]) < 0.02 * abs(neck[-1][0] - neck[-2][0])
    assert neck[-1][1] == pytest.approx(330.0 - 60.0)


def test_a_neckline_by_the_dressmakers_own_figures() -> None:
    """An opening 3 1/2 in wide by 4 in deep (common practice, no source), measured from side neck level."""
    roomy = garment()
    turned = roomy.piece("front")
    step = Neckline("n", 88.9, 101.6, depth_from="side neck")
    with pytest.raises(Refusal, match="shoulder dart"):
        step.apply(roomy)
    assert turned is roomy.piece("front")


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (Neckline("n", 40.0, 60.0), "narrower"),
        (Neckline("n", 75.0, -30.0), "above the pit"),
        (Neckline("n", 75.0, 400.0), "no centre edge"),
        (Neckline("n", 200.0, 60.0, width_from="neck"), "shoulder"),
    ],
)
def test_a_neckline_that_cannot_be_is_refused(step: Neckline, words: str) -> None:
    """Each refusal gives the figure that would do."""
    with pytest.raises(Refusal, match=words):
        step.apply(garment())


def longer_side(amount: float) -> Garment:
    """The garment with the front's side seam lengthened at the waist."""
    start = garment()
    piece = start.piece("front")
    side = piece.edge("side")
    low = side.points[0] - amount * (side.points[1] - side.points[0]) / side.length
    moved = replace(side, points=as_points([low, side.points[1]]))
    waist = piece.edge("waist.2")
    edges = tuple(
        moved if e.name == "side" else replace(waist, points=as_points([waist.points[0], low])) if e is waist else e
        for e in piece.edges
    )
    return replace(start, pieces={**start.pieces, "front": replace(piece, edges=edges)})


@pytest.mark.parametrize("amount", [0.3, 2.0, 4.0, -3.0])
def test_trim_makes_both_sides_equal(amount: float) -> None:
    """Within 0.01 mm, at the waist by default, whichever side was longer (design law)."""
    after = Trim("t", "side").apply(longer_side(amount)).garment
    assert match(after, after.seam("side")).difference == pytest.approx(0.0, abs=0.01)


def test_trim_fades_into_the_waist_without_a_new_corner() -> None:
    """The neighbour keeps its direction at the corner, and its far end stays (cutting.md 14)."""
    start = longer_side(4.0)
    after = Trim("t", "side").apply(start).garment.piece("front").edge("waist.2").points
    before = start.piece("front").edge("waist.2").points
    assert (after[0] == before[0]).all()
    corner = [end_direction(points, at_end=True, chord=5.0) for points in (before, after)]
    assert degrees(corner[0] - corner[1]) == pytest.approx(0.0, abs=0.1)


def test_trim_refuses_what_is_too_much() -> None:
    """Over 2 % of the seam (4.2 mm of 210) is no trimming any more (cutting.md 14)."""
    with pytest.raises(Refusal, match="more than the 4"):
        Trim("t", "side").apply(longer_side(5.0))


def test_trim_shared_between_the_sides() -> None:
    """5 mm are too much for one side (2 % of 210 mm); half off the front and half added to the back are not."""
    start = longer_side(5.0)
    step = Trim("t", "side", side="shared")
    outcome = step.apply(start)
    found = match(outcome.garment, outcome.garment.seam("side"))
    before = match(start, start.seam("side"))
    assert found.difference == pytest.approx(0.0, abs=0.01)
    assert found.length_a == pytest.approx(before.length_a - before.difference / 2, abs=0.01)
    assert found.length_b == pytest.approx(before.length_b + before.difference / 2, abs=0.01)
    assert "off the front and" in step.sentence(start, "cm")
    assert "added to the back" in step.sentence(start, "cm")


@pytest.mark.parametrize("end", ["waist", "armhole"])
@pytest.mark.parametrize("side", ["a", "b", "shared"])
def test_trim_from_either_end_on_either_side(end: str, side: SideChoice) -> None:
    """Whichever is chosen, the sides agree, and the far end of the seam lies where it did (design law)."""
    start = longer_side(2.0)
    after = Trim("t", "side", end, side).apply(start).garment
    assert match(after, after.seam("side")).difference == pytest.approx(0.0, abs=0.01)
    kept = 1 if end == "waist" else 0
    rows = [g.piece("front").edge("side").points[-kept] for g in (start, after)]
    assert rows[0].tolist() == rows[1].tolist()


def test_trim_offers_every_way_out_beyond_its_limit() -> None:
    """Over 6 mm or 2 %: half on each side, ease, a new curve, or a wedge folded out (cutting.md 14)."""
    with pytest.raises(Refusal) as refused:
        Trim("t", "side").apply(longer_side(5.0))
    for way in ("share it between", "ease", "anew between its ends", "fold a wedge out"):
        assert way in refused.value.sentence


def test_trim_of_a_matching_seam_changes_nothing() -> None:
    """A seam that agrees already is left alone."""
    start = garment()
    assert Trim("t", "side").apply(start).garment.pieces == start.pieces


def test_trim_refuses_an_end_that_the_seam_does_not_have() -> None:
    """The sentence names both ends that it has."""
    with pytest.raises(Refusal, match="waist and the armhole"):
        Trim("t", "side", end="hem").apply(longer_side(2.0))


def test_join_after_cut_gives_the_piece_back() -> None:
    """Where no dart entered the seam, cut and join is the piece that was (within 0.01 mm; by area and edges)."""
    line = StyleLine(
        "l", "back", "back.yoke", (LinePoint(0, 250), LinePoint(-190, 250)), landmarks_of(garment().piece("back"))
    )
    cut = Cut("c", "back", ("back.yoke",), (Tag(-60, 320, "top", 1), Tag(-60, 100, "low", 2)), {})
    apart = cut.apply(line.apply(garment()).garment).garment
    whole = Join("j", "back.yoke", "centre_back", "back again").apply(apart).garment.piece("back again")
    before = garment().piece("back")
    assert cloth_area(whole) == pytest.approx(cloth_area(before), abs=1e-6)
    assert {edge.name: edge.length for edge in whole.edges} == pytest.approx({e.name: e.length for e in before.edges})


def test_a_joint_is_trued_on_request() -> None:
    """The back cut where its armhole has a corner: joined it has the corner again, trued it runs on (cutting.md 15).

    A turn of 48 degrees spread over 80 mm is 3 degrees from one 5 mm chord to the next.
    """
    marks = landmarks_of(garment().piece("back"))
    line = StyleLine("l", "back", "back.yoke", (LinePoint(0, 280), LinePoint(-165, 280)), marks)
    cut = Cut("c", "back", ("back.yoke",), (Tag(-60, 370, "top", 1), Tag(-60, 100, "low", 2)), {})
    apart = cut.apply(line.apply(garment()).garment).garment
    rough = Join("j", "back.yoke", "centre_back", "whole").apply(apart)
    step = Join("j", "back.yoke", "centre_back", "whole", trued=True)
    trued = step.apply(apart)
    corner = degrees(atan2(10.0, 115.0) + atan2(65.0, 70.0))
    assert sharpest(rough.garment.piece("whole")) == pytest.approx(corner, abs=1e-6)
    assert sharpest(trued.garment.piece("whole")) < 1.5 * corner * 5.0 / 80.0
    assert trued.garment.piece("whole").edge("centre_back").length == pytest.approx(400.0)
    assert trued.notes[0].kind == "paper"
    assert "the joint trued" in step.sentence(apart, "cm")


def sharpest(piece: Piece) -> float:
    """The largest turn (degrees) where two stretches of the armhole meet."""
    held = [edge for edge in piece.edges if edge.origin.edge == "back.armhole"]
    turns = [
        end_direction(b.points, at_end=False, chord=5.0) - end_direction(a.points, at_end=True, chord=5.0)
        for a, b in pairwise(held)
    ]
    return max((abs(degrees(remainder(turn, tau))) for turn in turns), default=0.0)


def test_join_front_to_back_at_the_shoulder_is_refused_when_they_part() -> None:
    """The paper block's shoulders differ by 42 mm: laid together they part, and the sentence says by how much."""
    with pytest.raises(Refusal, match="part by"):
        Join("j", "shoulder", "neck", "whole").apply(garment())


def test_widths_at_a_radius() -> None:
    """2 r sin(angle/2): 15 degrees at 12 cm show 3.13 cm (trade.md C1 table)."""
    assert 2 * 12 * sin(radians(15) / 2) == pytest.approx(3.13, abs=0.005)


def test_a_neckline_wants_one_neck_edge_and_a_side_neck_point() -> None:
    """A neck that a dart has divided, or a piece without the landmark, is refused by name."""
    start = garment()
    divided = Pivot("p", "front", "front.shoulder_dart", place=Place("front.neck", "shoulder", share=0.5))
    with pytest.raises(Refusal, match="no edge neck"):
        Neckline("n", 75.0, 60.0).apply(divided.apply(start).garment)
    front_piece = start.piece("front")
    marks = {name: place for name, place in front_piece.landmarks.items() if name != "side_neck"}
    bare = replace(start, pieces={**start.pieces, "front": replace(front_piece, landmarks=marks)})
    with pytest.raises(Refusal, match="no side neck point"):
        Neckline("n", 75.0, 60.0).apply(bare)
