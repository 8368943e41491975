"""Pivot: a dart is turned shut about its pivot and its angle opens elsewhere."""

from __future__ import annotations

from math import asin, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from core.errors import Refusal
from core.geometry.placement import about, gap
from core.pieces.easing import eased_on, limits_on
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Piece
from core.pieces.seams import match
from core.steps.pivot import Pivot, Receiver, on_centre_line_nearest
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


SIDE = Place("front.side", "waist", share=0.5)


def test_in_shares_to_several_places_the_angles_add_up() -> None:
    """A third to the side, a third to the armhole, a third to the waist: 15 degrees and 12 are still there (C1)."""
    also = (
        Receiver(1 / 3, place=Place("front.armhole", "side", share=0.4)),
        Receiver(1 / 3, into="front.waist_dart"),
    )
    step = Pivot("p", "front", "front.shoulder_dart", place=SIDE, share=1 / 3, also=also)
    piece = step.apply(garment()).garment.piece("front")
    assert {dart.name: degrees(dart.angle) for dart in piece.darts} == {
        "front.waist_dart": pytest.approx(17.0),
        "front.side_dart": pytest.approx(5.0),
        "front.armhole_dart": pytest.approx(5.0),
    }
    assert cloth_area(piece) == pytest.approx(cloth_area(front()), abs=1e-6)
    assert step.sentence(garment(), "cm").count("5.0 degrees") == 3


def test_shares_beyond_the_whole_are_refused() -> None:
    """Two thirds twice are more than there is."""
    step = Pivot(
        "p", "front", "front.shoulder_dart", place=SIDE, share=0.67, also=(Receiver(0.67, "front.waist_dart"),)
    )
    with pytest.raises(Refusal, match="0 to 1"):
        step.apply(garment())


def test_into_gathers_the_edge_grows_and_its_seam_wants_the_amount() -> None:
    """The side is longer by up to 2 r sin(7.5 deg), no dart is left there, and the seam's difference stays (C1)."""
    start = garment()
    step = Pivot("p", "front", "front.shoulder_dart", place=SIDE, becomes="gathers", reach=50.0)
    outcome = step.apply(start)
    piece = outcome.garment.piece("front")
    (held,) = piece.eased
    least, most = drawn_fair(50.0, 15.0)
    assert least < held.amount < most
    assert degrees(angles_eased(piece)) + angles_at_bust_point(piece) == pytest.approx(27.0, abs=1e-6)
    assert piece.edge("side").length == pytest.approx(start.piece("front").edge("side").length + held.amount)
    before, after = (match(g, g.seam("side")).difference for g in (start, outcome.garment))
    assert after == pytest.approx(before, abs=1e-9)
    assert outcome.notes[0].kind == "paper"
    assert "gather" in outcome.notes[0].sentence


def drawn_fair(reach: float, angle: float) -> tuple[float, float]:
    """Between what an edge drawn fair grows that opens by an angle (degrees) at the middle of the straight side.

    It is longer than the straight way from limit to limit, and shorter than the bent one over the base (geometry).
    """
    (x0, y0), (x1, y1) = front().edge("side").points.tolist()
    half = gap((x0, y0), (x1, y1)) / 2
    below, above = ((0.5 + sign * reach / half / 2) for sign in (-1, 1))
    low, high = ((x0 + share * (x1 - x0), y0 + share * (y1 - y0)) for share in (below, above))
    turned = about(BUST_POINT, radians(angle)).point(high)
    return gap(low, turned) - 2 * reach, 2 * gap(BUST_POINT, (225.0, 105.0)) * sin(radians(angle) / 2)


def angles_eased(piece: Piece) -> float:
    """Sum of the angles that the piece's edges hold as ease or gathers, radians."""
    return sum(held.angle for held in piece.eased)


def test_the_limits_lie_reach_and_amount_apart() -> None:
    """From 50 mm before the place to 50 mm after it, the amount between, on the edge as it lies."""
    step = Pivot("p", "front", "front.shoulder_dart", place=SIDE, becomes="gathers", reach=50.0)
    piece = step.apply(garment()).garment.piece("front")
    edge = piece.edge("side")
    (held,) = eased_on(piece, edge)
    first, last = limits_on(edge, held)
    half = front().edge("side").length / 2
    assert first == pytest.approx(half - 50.0, abs=1e-6)
    assert last == pytest.approx(half + 50.0 + held.amount, abs=1e-6)


def test_a_dart_is_gathered_where_it_lies() -> None:
    """The waist dart is not sewn: the waist keeps its width as gathers, nothing turns."""
    step = Pivot("p", "front", "front.waist_dart", into="front.waist_dart", becomes="gathers", reach=60.0)
    outcome = step.apply(garment())
    piece = outcome.garment.piece("front")
    assert [dart.name for dart in piece.darts] == ["front.shoulder_dart"]
    assert piece.edge("side").points.tolist() == front().edge("side").points.tolist()
    assert degrees(angles_eased(piece)) == pytest.approx(12.0)
    assert "where it lies as gathers" in step.sentence(garment(), "cm")


def test_two_stretches_of_one_edge_keep_their_limits() -> None:
    """What was gathered first stays where it was when the edge grows again farther on."""
    first = Pivot("p", "front", "front.shoulder_dart", place=Place("front.side", "waist", share=0.2), share=0.5)
    gathered = replaced(first, becomes="gathers", reach=30.0)
    again = replaced(gathered, place=Place("front.side", "waist", share=0.8), share=1.0)
    one = gathered.apply(garment()).garment
    two = again.apply(one).garment
    before, after = one.piece("front"), two.piece("front")
    old = limits_on(before.edge("side"), before.eased[0])
    assert limits_on(after.edge("side"), after.eased[0]) == pytest.approx(old, abs=1e-6)
    assert match(two, two.seam("side")).difference == pytest.approx(
        match(garment(), garment().seam("side")).difference, abs=1e-9
    )


def replaced(step: Pivot, **fields: object) -> Pivot:
    """The step with other fields."""
    return structs.replace(step, **fields)


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (Pivot("p", "front", "front.shoulder_dart", place=SIDE, becomes="ease"), "without a pucker"),
        (Pivot("p", "front", "front.shoulder_dart", place=SIDE, becomes="gathers", reach=300.0), "reach between"),
        (
            Pivot(
                "p", "front", "front.shoulder_dart", place=Place("front.side", "waist", distance=4.0), becomes="ease"
            ),
            "too near",
        ),
        (
            Pivot("p", "front", "front.waist_dart", into="front.waist_dart", becomes="gathers", share=0.5),
            "all that is left",
        ),
    ],
)
def test_what_cannot_be_eased_is_refused_in_a_sentence(step: Pivot, words: str) -> None:
    """Too much ease, a stretch beyond the edge, a place at its end, and a part of a dart in its own place."""
    with pytest.raises(Refusal, match=words):
        step.apply(garment())


def test_a_little_is_eased() -> None:
    """A degree and a half at 154 mm is under 4.1 mm of ease on 80 mm: less than the tenth that cloth takes."""
    step = Pivot("p", "front", "front.shoulder_dart", place=SIDE, share=0.1, becomes="ease")
    (held,) = step.apply(garment()).garment.piece("front").eased
    least, most = drawn_fair(40.0, 1.5)
    assert least < held.amount < most


def test_a_dart_that_opens_in_a_seam_leaves_its_length_and_is_told_of() -> None:
    """The side seam is now sewn over a dart: same difference, and a note that names dart and seam."""
    start = garment()
    outcome = Pivot("p", "front", "front.shoulder_dart", place=SIDE).apply(start)
    before, after = (match(g, g.seam("side")).difference for g in (start, outcome.garment))
    assert after == pytest.approx(before, abs=1e-9)
    assert "side dart opens in the seam side" in outcome.notes[0].sentence


def test_a_pivot_placed_by_hand_says_how_much_cloth_it_gives() -> None:
    """The cloth given is the difference of the two wedges: half the base times the shift of the pivot (plane geometry).

    10 mm down the centre line of a dart whose base is 56.7 mm wide: 2.8 square centimetres.
    """
    dart = front().dart("front.shoulder_dart")
    step = Pivot("p", "front", dart.name, place=SIDE, at=(91.0, 190.0))
    outcome = step.apply(garment())
    moved = gap(on_centre_line_nearest(dart, (91.0, 190.0)), dart.pivot)
    assert f"gives {dart.width * moved / 200:.1f} square" in outcome.notes[0].sentence


@given(st.lists(st.sampled_from(["side", "armhole", "neck", "front.waist_dart"]), min_size=1, max_size=3))
def test_whichever_way_darts_are_moved_the_angles_stay(goals: list[str]) -> None:
    """Half of the shoulder dart again and again, here and there: 27 degrees about the bust point (Gauss-Bonnet, C1)."""
    now = garment()
    for number, goal in enumerate(goals):
        into = goal if "." in goal else ""
        end = {"armhole": "side", "side": "waist", "neck": "shoulder"}.get(goal, "")
        place = None if into else Place(f"front.{goal}", end, share=0.3 + 0.1 * number)
        now = Pivot(f"p{number}", "front", "front.shoulder_dart", into, place, 0.5).apply(now).garment
    assert angles_at_bust_point(now.piece("front")) == pytest.approx(27.0, abs=1e-6)
    assert cloth_area(now.piece("front")) == pytest.approx(cloth_area(front()), abs=1e-5)
