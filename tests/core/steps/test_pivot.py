"""Pivot: a dart is turned shut about its pivot and its angle opens elsewhere."""

from __future__ import annotations

from math import asin, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import Refusal
from core.geometry.placement import gap
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Piece
from core.steps.pivot import Pivot
from tests.paper_block import BUST_POINT, front, garment, legs

INTO_WAIST = Pivot("turn", "front", "front.shoulder_dart", into="front.waist_dart")


def to_place(edge: str, end: str, share: float, turned: float = 1.0) -> Pivot:
    """The shoulder dart turned to a share of an edge."""
    return Pivot("turn", "front", "front.shoulder_dart", place=Place(edge, end, share=share), share=turned)


def angles_at_bust_point(piece: Piece) -> float:
    """Sum of the dart angles about the bust point, degrees."""
    return degrees(sum(dart.angle for dart in piece.darts if gap(dart.pivot, BUST_POINT) < 1e-6))


def test_into_another_dart_adds_the_angles() -> None:
    """15 degrees into 12 make 27 (angles about one pivot add: trade.md C1, Gauss-Bonnet)."""
    piece = INTO_WAIST.apply(garment()).garment.piece("front")
    assert [dart.name for dart in piece.darts] == ["front.waist_dart"]
    assert degrees(piece.darts[0].angle) == pytest.approx(27.0, abs=1e-9)


def test_width_is_the_angle_seen_at_the_new_radius() -> None:
    """Opened at radius r the turned dart shows 2 r sin(angle / 2) (trade.md C1)."""
    piece = to_place("front.armhole", "side", 0.5).apply(garment()).garment.piece("front")
    dart = piece.dart("front.armhole_dart")
    assert dart.width == pytest.approx(2 * dart.leg_length * sin(radians(15.0) / 2), abs=1e-9)


def test_three_inches_at_eight_show_four_and_a_half_at_twelve() -> None:
    """A dart 3 in wide at 8 in has 2 asin(1.5/8) = 21.614 degrees and shows 4.50 in at 12 in (plane geometry)."""
    angle = 2 * asin(1.5 / 8)
    first, second = legs((0.0, 0.0), (12.0, 0.0), angle, 1)
    assert degrees(angle) == pytest.approx(21.614, abs=5e-4)
    assert gap(first, second) == pytest.approx(4.50, abs=1e-9)


@given(share=st.floats(0.05, 0.95), turned=st.floats(0.001, 1.0), edge=st.sampled_from(["armhole", "side", "neck"]))
def test_area_angles_and_edge_lengths_stay(share: float, turned: float, edge: str) -> None:
    """Wherever and however far it turns: same cloth area, same edge lengths, same sum of angles at the pivot."""
    before = front()
    end = {"armhole": "side", "side": "waist", "neck": "shoulder"}[edge]
    after = to_place(f"front.{edge}", end, share, turned).apply(garment()).garment.piece("front")
    assert cloth_area(after) == pytest.approx(cloth_area(before), abs=1e-6)
    assert angles_at_bust_point(after) == pytest.approx(27.0, abs=1e-4)
    for name in ("armhole", "side", "neck", "shoulder", "waist", "centre_front"):
        assert held(after, name) == pytest.approx(held(before, name), abs=1e-9)


def held(piece: Piece, name: str) -> float:
    """Length of all that a piece holds of one of the front's edges."""
    return sum(edge.length for edge in piece.edges if edge.origin.edge == f"front.{name}")


def test_the_side_with_the_fold_lies_still() -> None:
    """The centre front stays on x = 0 while the other side turns like paper about a pin."""
    piece = INTO_WAIST.apply(garment()).garment.piece("front")
    assert (piece.edge("centre_front").points[:, 0] == 0.0).all()


def test_marks_turn_with_the_cloth() -> None:
    """The bust circle, cut by the closed dart, is whole there again and opened in the waist dart (cutting.md 4)."""
    piece = INTO_WAIST.apply(garment()).garment.piece("front")
    assert len(piece.line("front.bust_circle").stretches) == 1


def test_a_pivot_placed_by_hand_is_laid_on_the_centre_line_and_warned_of() -> None:
    """Off the bust point the legs are redrawn, stay equal, and a note says how far off the fullness will sit."""
    step = Pivot(
        "turn", "front", "front.shoulder_dart", place=Place("front.side", "waist", share=0.5), at=(98.0, 196.0)
    )
    outcome = step.apply(garment())
    dart = outcome.garment.piece("front").dart("front.side_dart")
    assert gap(dart.pivot, dart.legs[0]) == pytest.approx(gap(dart.pivot, dart.legs[1]), abs=1e-9)
    assert "from the bust point" in outcome.notes[0].sentence


def test_near_the_bust_point_the_pivot_snaps_to_it() -> None:
    """A pivot placed within 3 mm of the bust point is the bust point (cutting.md 2)."""
    step = Pivot("turn", "front", "front.shoulder_dart", into="front.waist_dart", at=(91.0, 181.0))
    assert step.apply(garment()).garment.piece("front").darts[0].pivot == BUST_POINT


OUTER_SHARE = front().edge("shoulder.1").length / garment().origins["front.shoulder"].length
"""Where the shoulder dart's own leg meets the shoulder."""


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (to_place("front.centre_front", "neck", 0.5), "fold"),
        (to_place("front.armhole", "neck", 0.5), "not at neck"),
        (
            Pivot("p", "front", "front.shoulder_dart", place=Place("front.side", "waist", share=0.5), share=1.5),
            "0 to 1",
        ),
        (Pivot("p", "front", "front.shoulder_dart"), "where"),
        (to_place("front.shoulder", "armhole", OUTER_SHARE), "at its own leg"),
        (Pivot("p", "front", "front.french_dart", into="front.waist_dart"), "no open french dart"),
        (Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart", at=(90.0, 300.0)), "within 25 mm"),
        (Pivot("p", "front", "front.shoulder_dart", place=Place("front.side", "waist", distance=900.0)), "only"),
    ],
)
def test_what_cannot_turn_is_refused_in_a_sentence(step: Pivot, words: str) -> None:
    """Each refusal says what is wrong, and the garment is what it was."""
    start = garment()
    with pytest.raises(Refusal, match=words):
        step.apply(start)
    assert degrees(start.piece("front").dart("front.shoulder_dart").angle) == pytest.approx(15.0)


def test_it_says_itself() -> None:
    """The sentence gives angle and opening: 27 degrees at the waist leg's length of 181.59 mm show 84.8 mm."""
    assert INTO_WAIST.sentence(garment(), "in") == (
        "Pivot the shoulder dart into the waist dart: 15.0 degrees, 3 11/32 in wide there."
    )


def test_no_share_at_all_changes_nothing() -> None:
    """Even with the pivot placed elsewhere: nothing is turned, so no leg is redrawn."""
    start = garment()
    step = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart", share=0.0, at=(98.0, 196.0))
    assert step.apply(start).garment.piece("front") is start.piece("front")
