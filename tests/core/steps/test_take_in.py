"""Take in: amounts off a seam between levels, square to it inside, along the neighbour edge at an end."""

from __future__ import annotations

from math import atan2, degrees, hypot

import pytest

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import area, distance_between
from core.geometry.polyline import as_points, length, nearest, point_at
from core.pieces.records import Garment
from core.pieces.seams import match
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from tests.core.laws.sample_steps import done
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
        ((Level("bust_point", 0.0, 0.0), Level("waist", -3.0, 3.0)), "negative"),
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


def test_it_says_where_every_level_lies() -> None:
    """A level with an offset is told from where it is counted."""
    levels = (Level("sheer", 6.35, 6.35), Level("sheer", 0.0, 0.0, offset=88.9))
    assert TakeIn("t", "front.waist_dart", levels).sentence(through(), "in") == (
        "Take in the front waist dart: 1/2 in at the sheer, 0 in 3 1/2 in on from the sheer."
    )
