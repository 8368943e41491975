"""Unfold: both halves drawn out, left and right named apart, every seam standing twice."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.planar import area
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment
from core.pieces.seams import chain_points, match, matches
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.trim import Trim
from core.steps.true import DartBase, Truing
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import done, drafted, panels, sheer
from tests.paper_block import garment

OPEN = Unfold("u", "front")


def whole() -> Garment:
    """The paper block, unfolded."""
    return OPEN.apply(garment()).garment


def test_the_fold_is_gone_and_the_halves_are_mirror_images() -> None:
    """Every vertex of the unfolded front has one at -x; the loop has twice the half's area."""
    before, after = garment().piece("front"), whole().piece("front")
    assert not any(edge.kind == "fold" for edge in after.edges)
    assert area(after.loop) == pytest.approx(2 * area(before.loop))
    places = {(round(x, 6), round(y, 6)) for x, y in after.loop.tolist()}
    assert {(-x + 0.0, y) for x, y in places} == places
    assert after.cut == "single"


def test_the_right_half_has_names_of_its_own() -> None:
    """The left keeps its edges' names; the right's stand after "right."."""
    before, after = garment().piece("front"), whole().piece("front")
    left = [edge.name for edge in before.edges if edge.kind != "fold"]
    names = [edge.name for edge in after.edges]
    assert set(left) <= set(names)
    assert {name for name in names if name.startswith("right.")} == {f"right.{name}" for name in left}
    assert [dart.name for dart in after.darts] == [
        "front.waist_dart", "front.shoulder_dart", "right.front.waist_dart", "right.front.shoulder_dart"
    ]  # fmt: skip
    assert after.landmarks["right.bust_point"] == (-90.0, 180.0)
    assert after.landmarks["bust_point"] == (90.0, 180.0)
    assert "right.neck_pit" not in after.landmarks


def test_a_pair_becomes_two_pieces() -> None:
    """The back has no fold: its left stays, its right stands beside it, x the other way, both cut once."""
    after = whole()
    left, right = after.piece("back"), after.piece("right back")
    assert (left.cut, right.cut) == ("single", "single")
    assert cloth_area(left) == pytest.approx(cloth_area(right))
    assert right.landmarks["underarm"] == (230.0, 210.0)
    assert list(after.pieces) == ["front", "back", "right back"]


def test_every_seam_stands_twice_and_is_found_by_its_edges() -> None:
    """Lengths of the right seams are those of the left; their chains run from the same end, x the other way."""
    before, after = garment(), whole()
    assert set(after.seams) == {"shoulder", "side", "right.shoulder", "right.side"}
    for name in before.seams:
        old, left, right = (
            match(before, before.seam(name)), match(after, after.seam(name)), match(after, after.seam(f"right.{name}"))
        )  # fmt: skip
        assert (left.length_a, left.length_b) == pytest.approx((old.length_a, old.length_b))
        assert (right.length_a, right.length_b) == pytest.approx((old.length_a, old.length_b))
        assert chain_points(right.a) == pytest.approx(chain_points(old.a) * np.array((-1.0, 1.0)))
    assert after.open_edges["right.front.waist"] == after.open_edges["front.waist"]


def test_what_is_not_sewn_to_it_is_left_alone() -> None:
    """A piece that no seam leads to is the very same piece."""
    start = garment()
    lone = replace(start.piece("back"), name="lone", edges=start.piece("back").edges)
    apart = replace(start, pieces={"front": start.piece("front"), "lone": lone}, seams={})
    after = OPEN.apply(apart).garment
    assert after.piece("lone") is lone
    assert "right lone" not in after.pieces


def test_panels_get_numbers_that_are_free() -> None:
    """Cut first, then unfolded: yoke and centre front are whole, the side front is two pieces, numbers are unique."""
    start = drafted("middling")
    after = done(start, (sheer(start), panels(start), Unfold("u", "yoke"))).pieces
    assert {"yoke", "centre front", "side front", "right side front"} <= set(after)
    numbers = [piece.number for piece in after.values() if piece.number]
    assert len(numbers) == len(set(numbers))


def test_left_and_right_can_then_differ() -> None:
    """A dart pivoted on the left leaves the right as it is; a seam trimmed on the right leaves the left."""
    start = whole()
    place = Place("right.front.armhole", "side", share=0.4)
    after = Pivot("p", "front", "right.front.shoulder_dart", place=place).apply(start).garment.piece("front")
    assert {dart.name for dart in after.darts} >= {"front.shoulder_dart", "front.waist_dart"}
    assert "right.front.shoulder_dart" not in {dart.name for dart in after.darts}
    drawn = OPEN.apply(drafted("middling")).garment
    trimmed = Trim("t", "right.side").apply(drawn).garment
    assert match(trimmed, trimmed.seam("right.side")).difference == pytest.approx(0.0, abs=0.01)
    assert match(trimmed, trimmed.seam("side")).difference == match(drawn, drawn.seam("side")).difference


def test_a_line_from_side_to_side_cuts_the_whole_front() -> None:
    """An asymmetric line, higher on the left: one seam, its ends named apart, equal on both sides."""
    start = done(
        whole(),
        (
            Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart"),
            Pivot("q", "front", "right.front.shoulder_dart", into="right.front.waist_dart"),
        ),
    )
    piece = start.piece("front")
    points = (
        LinePoint(-215, 240, place=Place("right.front.armhole", "side", share=0.2)),
        LinePoint(-90, 220),
        LinePoint(90, 260),
        LinePoint(200, 250, place=Place("front.armhole", "side", share=0.5)),
    )
    line = StyleLine("l", "front", "front.sheer", points, landmarks_of(piece))
    tags = (Tag(0, 300, "yoke", 1, "sheer"), Tag(0, 100, "lower front", 2))
    after = done(start, (line, Cut("c", "front", ("front.sheer",), tags, line.drawn_on)))
    seam = after.seam("front.sheer")
    assert set(seam.ends) == {"armhole", "right_armhole"}
    assert match(after, seam).difference == pytest.approx(0.0, abs=1e-6)
    assert after.piece("yoke").cut == "single"


def test_a_line_drawn_before_runs_on_over_the_fold() -> None:
    """Drawn on the half, cut on the whole: the sheer line is one line from armhole to armhole."""
    start = drafted("middling")
    line = sheer(start)
    after = done(start, (line, OPEN))
    drawn = after.piece("front").line("front.sheer_line")
    half = done(start, (line,)).origins["front.sheer_line"].length
    assert drawn.length == pytest.approx(2 * half)
    assert after.origins["front.sheer_line"].length == pytest.approx(2 * half)
    assert set(after.origins["front.sheer_line"].ends) == {"armhole", "right_armhole"}
    assert (drawn.path[0] * np.array((-1.0, 1.0))).tolist() == pytest.approx(drawn.path[-1].tolist())


def test_darts_of_both_halves_are_pressed_to_the_centre() -> None:
    """The trued bases of the two waist darts are mirror images."""
    after = whole()
    for name in ("front.waist_dart", "right.front.waist_dart"):
        after = Truing("t", "front", DartBase(name)).apply(after).garment
    piece = after.piece("front")
    left, right = piece.edge("waist_dart").points, piece.edge("right.waist_dart").points
    assert right[::-1] * np.array((-1.0, 1.0)) == pytest.approx(left, abs=1e-9)


def test_what_was_unfolded_is_not_unfolded_again() -> None:
    """It is cut once already."""
    with pytest.raises(Refusal, match="cut once already"):
        OPEN.apply(whole())


def test_a_taken_name_is_refused() -> None:
    """The right back would stand in the place of another piece."""
    start = garment()
    other = replace(start.piece("back"), name="right back")
    taken = replace(start, pieces={**start.pieces, "right back": other})
    with pytest.raises(Refusal, match="right back already"):
        OPEN.apply(taken)


def test_it_says_what_became_of_each_piece() -> None:
    """One note a piece and one for the seams."""
    sentences = [note.sentence for note in OPEN.apply(garment()).notes]
    assert any("back and right back" in sentence for sentence in sentences)
    assert any("right side" in sentence for sentence in sentences)
    assert len(matches(whole())) == 4
