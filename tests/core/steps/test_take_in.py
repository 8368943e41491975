"""Take in: amounts off a seam between levels, square to it inside, along the neighbour edge at an end."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, degrees, hypot

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace
from shapely.geometry import Polygon

from core.design.design import Design
from core.design.replay import replay
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import area, distance_between
from core.geometry.polyline import as_point, as_points, length, nearest, point_at
from core.pieces.folded_piece import folded_piece
from core.pieces.levels import seam_levels
from core.pieces.places import Place
from core.pieces.records import Garment, Piece
from core.pieces.seams import match
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import done, drafted
from tests.demo_designs import concert, stage
from tests.paper_block import BUST_POINT, front, garment

MARKS = landmarks_of(front())
HALF_INCH = 12.7


def through() -> Garment:
    """The sheer line through the bust point; the waist dart is the princess seam."""
    line = StyleLine(
        "l",
        "front",
        "front.sheer",
        (LinePoint(0, 230), LinePoint(90, 180, landmark="bust_point"), LinePoint(190, 250)),
        MARKS,
    )
    tags = (Tag(40, 300, "yoke", 1, "sheer"), Tag(30, 100, "centre", 2), Tag(180, 100, "side", 3))
    return done(garment(), (line, Cut("c", "front", ("front.sheer",), tags, MARKS, darts=("front.waist_dart",))))


TIGHTEN = TakeIn("t", "front.waist_dart", (Level("bust_point", 0.0, 0.0), Level("waist", HALF_INCH / 2, HALF_INCH / 2)))


def test_tightening_takes_the_amount_off_the_waist() -> None:
    """From nothing at the bust point to 1/2 in at the waist: each waist edge loses 1/4 in, measured along it."""
    before, after = through(), TIGHTEN.apply(through()).garment
    for name in ("centre", "side"):
        lost = before.piece(name).edge("waist").length - after.piece(name).edge("waist").length
        assert lost == pytest.approx(HALF_INCH / 2, abs=0.05)


def test_a_wedge_takes_off_a_triangle() -> None:
    """A straight seam of length L and amount w at its end loses w L / 2, the neighbour being square to it or nearly."""
    before, after = through().piece("centre"), TIGHTEN.apply(through()).garment.piece("centre")
    seam = before.edge("waist_dart").length
    corner = degrees(atan2(24.0, 180.0))
    assert abs(corner) < 15.0
    lost = area(before.loop) - area(after.loop)
    assert lost == pytest.approx(seam * HALF_INCH / 4, rel=0.03)


def test_straight_legs_stay_straight() -> None:
    """The side's new leg runs from (90, 180) to 6.35 mm along the waist from (114, 0): hypot(30.35, 180) long."""
    after = TIGHTEN.apply(through()).garment
    assert after.piece("side").edge("waist_dart").length == pytest.approx(hypot(24.0 + 6.35, 180.0), abs=0.05)


def test_the_bust_point_stays() -> None:
    """Where the amount is nothing the seam is where it was."""
    after = TIGHTEN.apply(through()).garment.piece("centre").edge("waist_dart")
    assert nearest(after.points, BUST_POINT)[1] == pytest.approx(0.0, abs=1e-9)


def test_the_wedge_says_its_angle_and_a_fade_has_none() -> None:
    """Each side turns by atan(w / L): 2 x atan(6.35 / 181.59) = 4.0 degrees (plane geometry)."""
    notes = TIGHTEN.apply(through()).notes
    assert any("4.0 degrees" in note.sentence for note in notes)
    fade = TakeIn("t", "front.waist_dart", TIGHTEN.levels, taper="fade")
    assert not any("degrees" in note.sentence for note in fade.apply(through()).notes)
    edge = fade.apply(through()).garment.piece("centre").edge("waist_dart").points
    old = through().piece("centre").edge("waist_dart").points
    near = point_at(as_points(edge[::-1]), 5.0) if gap(edge[-1], BUST_POINT) < 1e-6 else point_at(edge, 5.0)
    assert nearest(old, near)[1] < 0.02


def test_inside_the_amount_is_square_to_the_seam() -> None:
    """6 mm at a level in the middle, nothing at both ends: the new edge lies 6 mm from the old one there."""
    levels = (Level("bust_point", 0.0, 0.0), Level("bust_point", 6.0, 6.0, offset=90.0), Level("waist", 0.0, 0.0))
    before = through().piece("side").edge("waist_dart").points
    after = TakeIn("t", "front.waist_dart", levels).apply(through()).garment.piece("side").edge("waist_dart").points
    farthest = max(nearest(before, place)[1] for place in after)
    assert farthest == pytest.approx(6.0, abs=0.05)
    assert distance_between(before, after) == 0.0


def test_seams_across_the_end_are_named_or_eased() -> None:
    """Taking in at the sheer line shortens the main panels there: the seam is named, or allowed it as ease."""
    levels = (Level("sheer", 3.0, 3.0), Level("waist", 0.0, 0.0))
    left = TakeIn("t", "front.waist_dart", levels).apply(through())
    changed = match(left.garment, left.garment.seam("front.sheer")).difference
    assert abs(changed) == pytest.approx(6.0, abs=0.1)
    assert any("front sheer" in note.sentence for note in left.notes)
    eased = TakeIn("t", "front.waist_dart", levels, across="ease").apply(through()).garment
    assert match(eased, eased.seam("front.sheer")).difference == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize(
    ("levels", "words"),
    [
        ((Level("waist", 3.0, 3.0),), "two levels"),
        ((Level("bust_point", 0.0, 0.0), Level("waist", -300.0, 3.0)), "over 150 mm"),
        ((Level("bust_point", 0.0, 0.0), Level("elbow", 3.0, 3.0)), "does not pass"),
        ((Level("bust_point", 0.0, 0.0), Level("waist", 3.0, 3.0, offset=-40.0)), "step"),
        ((Level("waist", 0.0, 0.0), Level("waist", 3.0, 3.0)), "one place"),
        ((Level("bust_point", 0.0, 0.0), Level("waist", 106.0, 3.0)), "cannot give"),
    ],
)
def test_what_cannot_be_taken_in_is_refused(levels: tuple[Level, ...], words: str) -> None:
    """Each refusal names the seam or piece and the way out."""
    with pytest.raises(Refusal, match=words):
        TakeIn("t", "front.waist_dart", levels).apply(through())


def test_nothing_taken_in_changes_no_length() -> None:
    """Amounts of nothing leave every edge as long as it was."""
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", 0.0, 0.0))
    after = TakeIn("t", "front.waist_dart", levels).apply(through()).garment
    for name in ("centre", "side"):
        lengths = [{e.name: length(e.points) for e in g.piece(name).edges} for g in (through(), after)]
        assert lengths[0] == pytest.approx(lengths[1])


def test_amounts_below_nothing_let_the_seam_out() -> None:
    """1/2 in let out at the waist: each waist edge is 1/4 in longer, and the wedge takes its angle away."""
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", -HALF_INCH / 2, -HALF_INCH / 2))
    step = TakeIn("t", "front.waist_dart", levels)
    before, outcome = through(), step.apply(through())
    for name in ("centre", "side"):
        gained = outcome.garment.piece(name).edge("waist").length - before.piece(name).edge("waist").length
        assert gained == pytest.approx(HALF_INCH / 2, abs=0.05)
    assert any("takes away 4.0 degrees" in note.sentence for note in outcome.notes)
    assert (
        step.sentence(through(), "in") == "Let out the front waist dart: 0 in at the bust point, 1/2 in at the waist."
    )


def test_taken_in_and_let_out_again_the_seam_lies_where_it_lay() -> None:
    """Straight legs and a straight waist: in by 1/2 in and out by 1/2 in is as before."""
    back = TakeIn("u", "front.waist_dart", (TIGHTEN.levels[0], Level("waist", -HALF_INCH / 2, -HALF_INCH / 2)))
    before, after = through(), back.apply(TIGHTEN.apply(through()).garment).garment
    for name in ("centre", "side"):
        assert after.piece(name).edge("waist").length == pytest.approx(
            before.piece(name).edge("waist").length, abs=0.05
        )
        assert area(after.piece(name).loop) == pytest.approx(area(before.piece(name).loop), rel=1e-3)


def test_no_new_corner_but_the_wedge() -> None:
    """Three levels: the seam turns by more than 2 degrees nowhere but where the wedge comes to nothing."""
    levels = (Level("bust_point", 0.0, 0.0), Level("bust_point", 5.0, 5.0, offset=90.0), Level("waist", 3.0, 3.0))
    after = TakeIn("t", "front.waist_dart", levels).apply(through()).garment.piece("side").edge("waist_dart").points
    ways = np.unwrap(np.arctan2(*np.diff(after, axis=0).T[::-1]))
    assert np.abs(np.diff(ways)).max() < np.radians(2.0)


def test_a_contour_begun_near_the_bust_point_is_to_be_run_on() -> None:
    """30 mm is nearer than the 40 mm over which a contour comes to nothing, and 1/2 in there is over 15 degrees."""
    start = bodice()
    top = match(start, start.seam("front.princess"))
    away = seam_levels(top)[1].a.along
    levels = (Level("sheer_line", 6.35, 6.35), Level("bust_point", 0.0, 0.0))
    notes = [note.sentence for note in TakeIn("t", "front.princess", levels).apply(start).notes]
    assert any("too near" in note for note in notes) == (away < 40.0)
    near = (Level("sheer_line", 2.0, 2.0), Level("sheer_line", 2.0, 2.0, offset=away - 30.0), levels[1])
    notes = [note.sentence for note in TakeIn("t", "front.princess", near).apply(start).notes]
    assert any("It is 30 mm from there to the bust point" in note for note in notes)


NECK = Place("front.neck", "shoulder", share=0.5)


def test_as_much_is_folded_out_of_the_sheer_across() -> None:
    """1/2 in off the main panels at the sheer line, and off the yoke: the seam agrees as before (cutting.md 13)."""
    levels = (Level("sheer_line", 6.35, 6.35), Level("bust_point", 0.0, 0.0))
    start = bodice()
    step = TakeIn("t", "front.princess", levels, across="fold", across_at=NECK)
    after = step.apply(start).garment
    before, now = (match(g, g.seam("front.sheer_line")) for g in (start, after))
    assert before.length_a - now.length_a == pytest.approx(12.7, abs=0.3)
    assert now.difference == pytest.approx(before.difference, abs=0.05)
    held = [sum(e.length for e in g.piece("front yoke").edges if "neck" in e.name) for g in (start, after)]
    assert held[0] == pytest.approx(held[1], abs=1e-6)
    assert step.sentence(start, "in").endswith(
        "and as much folded out of the piece across, to nothing 50% along the neck from the shoulder."
    )


def test_as_much_is_taken_off_the_sheer_at_its_end() -> None:
    """5 mm in all, off the yoke where its sheer line meets the armhole."""
    levels = (Level("sheer_line", 2.5, 2.5), Level("bust_point", 0.0, 0.0))
    start = bodice()
    after = TakeIn("t", "front.princess", levels, across="trim", across_end="armhole").apply(start).garment
    before, now = (match(g, g.seam("front.sheer_line")) for g in (start, after))
    assert before.length_a - now.length_a == pytest.approx(5.0, abs=0.1)
    assert now.difference == pytest.approx(before.difference, abs=0.05)


@pytest.mark.parametrize(
    ("amount", "step", "words"),
    [
        (6.35, TakeIn("t", "front.princess", (), across="trim", across_end="armhole"), "than the 6 mm"),
        (2.0, TakeIn("t", "front.princess", (), across="trim", across_end="elbow"), "elbow is no end"),
        (
            6.35,
            TakeIn("t", "front.princess", (), across="fold", across_at=Place("back.neck", "shoulder", share=0.5)),
            "no",
        ),
    ],
)
def test_what_cannot_be_taken_off_across_is_refused(amount: float, step: TakeIn, words: str) -> None:
    """The way out is another place, or ease."""
    levels = (Level("sheer_line", amount, amount), Level("bust_point", 0.0, 0.0))
    with pytest.raises(Refusal, match=words):
        msgspec.structs.replace(step, levels=levels).apply(bodice())


def test_levels_still_lie_on_the_seam_after_it_was_taken_in() -> None:
    """The under-bust line ends on the moved seam, so that the seam can be taken in there again."""
    levels = (Level("bust_point", 0.0, 0.0), Level("under_bust_line", 4.0, 4.0), Level("waist", 6.0, 6.0))
    start = bodice()
    step = TakeIn("t", "front.princess", levels)
    again = step.apply(step.apply(start).garment).garment
    lost = start.piece("side front").edge("waist").length - again.piece("side front").edge("waist").length
    assert lost == pytest.approx(12.0, abs=0.1)


def test_the_right_half_is_taken_in_by_itself_once_it_is_unfolded() -> None:
    """The same levels on the right seam, as much out of the right half of the yoke; the left half stays (unfolded)."""
    start = Unfold("u", "side front").apply(bodice()).garment
    levels = (Level("sheer_line", 6.35, 6.35), Level("bust_point", 0.0, 0.0))
    hinge = Place("right.front.neck", "shoulder", share=0.5)
    after = TakeIn("t", "right.front.princess", levels, across="fold", across_at=hinge).apply(start).garment
    now, before = (match(g, g.seam("right.front.sheer_line")) for g in (after, start))
    assert before.length_b - now.length_b == pytest.approx(12.7, abs=0.3)
    assert now.difference == pytest.approx(before.difference, abs=0.05)
    assert after.piece("side front") is start.piece("side front")
    left, was = (match(g, g.seam("front.sheer_line")) for g in (after, start))
    assert left.length_a == pytest.approx(was.length_a)
    assert left.length_b == pytest.approx(was.length_b)


def bodice() -> Garment:
    """The demo's bodice: its princess seam runs from the sheer line to the waist."""
    return replay(concert()).garment


def test_it_says_where_every_level_lies() -> None:
    """A level with an offset is told from where it is counted."""
    levels = (Level("sheer", 6.35, 6.35), Level("sheer", 0.0, 0.0, offset=88.9))
    assert TakeIn("t", "front.waist_dart", levels).sentence(through(), "in") == (
        "Take in the front waist dart: 1/2 in at the sheer, 0 in at 3 1/2 in on from the sheer."
    )


@pytest.mark.parametrize(("make", "amount"), [(concert, 12.0), (stage, 4.0), (stage, -12.0)])
def test_a_princess_seam_is_moved_all_along(make: Callable[[], Design], amount: float) -> None:
    """Curve and dart leg meet in a corner at the bust point; each lies by the amount beside where it was, to the joint.

    The usual alteration at a fitting was refused as if the panels were too narrow. Parallels meet on the bisector.
    """
    before = replay(make()).garment
    seam = match(before, before.seam("front.princess"))
    levels = tuple(Level(level.name, amount, amount) for level in seam_levels(seam))
    after = TakeIn("t", "front.princess", levels).apply(before).garment
    for name in ("centre front", "side front"):
        leg, moved = (garment.piece(name).edge("waist_dart").points for garment in (before, after))
        run = (leg[-1] - leg[0]) / hypot(*(leg[-1] - leg[0]))
        off = abs((moved - leg[0]) @ np.array((-run[1], run[0])))
        bust_point = before.piece(name).landmarks["bust_point"]
        half = len(off) // 2
        # Below, near the waist, the end slides along the waist and is not square to the leg.
        upper = off[:half] if gap(bust_point, leg[0]) < gap(bust_point, leg[-1]) else off[half:]
        assert upper == pytest.approx(abs(amount), abs=0.05)


SHOULDER = TakeIn("t", "shoulder", (Level("armhole", 6.0, 4.0), Level("neck", 0.0, 0.0)))


@pytest.mark.parametrize("amount", [6.0, -9.0, 0.0])
def test_a_seam_over_an_open_dart_is_moved_with_the_dart_folded(amount: float) -> None:
    """The back's shoulder dart stands open in its shoulder: folded, the shoulder is moved in one run, and opened again.

    So both legs end at one distance from the pivot, each on its old line, and the dart keeps its angle and its point.
    """
    start = drafted("middling")
    step = TakeIn("t", "shoulder", (Level("armhole", amount, 0.0), Level("neck", 0.0, 0.0)))
    old, piece = (g.piece("back") for g in (start, step.apply(start).garment))
    before, after = old.dart("back.shoulder_dart"), piece.dart("back.shoulder_dart")
    legs = [gap(after.pivot, leg) for leg in after.legs]
    assert legs[0] == pytest.approx(legs[1], abs=1e-9)
    assert (legs[0] < before.leg_length) == (amount > 0.0) or amount == 0.0
    for was, now in zip(before.legs, after.legs, strict=True):
        assert atan2(now[1] - after.pivot[1], now[0] - after.pivot[0]) == pytest.approx(
            atan2(was[1] - before.pivot[1], was[0] - before.pivot[0]), abs=1e-9
        )
    assert after.angle == pytest.approx(before.angle, abs=1e-9)
    assert (after.pivot, after.point) == (before.pivot, before.point)
    base = piece.edge(after.base)
    assert gap(as_point(base.points[0]), after.legs[0]) == gap(as_point(base.points[-1]), after.legs[1]) == 0.0
    assert length(base.points) == pytest.approx(after.width)


def test_it_loses_the_cloth_that_the_folded_piece_loses() -> None:
    """By shapely: the dart really folded and the shoulder taken in there, or left open, the same cloth comes off.

    So do the seam and the armhole lose the same, and the back with its dart folded afterwards has one outline.
    """
    start = drafted("middling")
    shut = folded_piece(start.piece("back"), "back.shoulder_dart")
    closed = replace(start, pieces={**start.pieces, "back": shut})
    opened, folded = (SHOULDER.apply(g).garment for g in (start, closed))
    lost = [cloth(g.piece("back")) - cloth(h.piece("back")) for g, h in ((start, opened), (closed, folded))]
    assert lost[0] == pytest.approx(lost[1], abs=0.05)
    assert lost[0] > 300.0
    assert match(opened, opened.seam("shoulder")).length_a == pytest.approx(
        match(folded, folded.seam("shoulder")).length_a, abs=1e-6
    )
    again = folded_piece(opened.piece("back"), "back.shoulder_dart")
    assert Polygon(again.loop).symmetric_difference(Polygon(folded.piece("back").loop)).area < 0.05


@pytest.mark.parametrize("amount", [15.081249999999999, 6.35, 3.175, 0.1, 12.7 / 3])
def test_the_other_end_of_a_seam_over_darts_stays_to_the_bit(amount: float) -> None:
    """Nothing at the neck is nothing, though amounts between levels are worked out with roundings."""
    start = drafted("middling")
    levels = (Level("armhole", amount, amount), Level("neck", 0.0, 0.0))
    after = TakeIn("t", "shoulder", levels).apply(start).garment
    for name in ("front", "back"):
        old, now = (g.piece(name).landmarks["side_neck"] for g in (start, after))
        assert gap(old, now) < 1e-9
        assert nearest(after.piece(name).loop, old)[1] < 1e-9
        assert after.piece(name).edge("neck").length == start.piece(name).edge("neck").length
    difference = match(after, after.seam("shoulder")).difference
    assert difference == pytest.approx(match(start, start.seam("shoulder")).difference, abs=0.5)


def cloth(piece: Piece) -> float:
    """Area of a piece in mm² by shapely, its open darts' wedges taken out."""
    wedges = (Polygon((dart.pivot, *dart.legs)).area for dart in piece.darts)
    return float(Polygon(piece.loop).area - sum(wedges))


def test_a_dart_is_not_taken_away_with_the_seam() -> None:
    """So much off the shoulder that the dart would be sewn over nothing is refused, with the way out."""
    start = drafted("middling")
    levels = (Level("armhole", 0.0, 0.0), Level("armhole", 100.0, 0.0, offset=60.0), Level("neck", 0.0, 0.0))
    with pytest.raises(Refusal, match=r"cut the shoulder dart of piece back away; take in less, or pivot"):
        TakeIn("t", "shoulder", levels).apply(start)
