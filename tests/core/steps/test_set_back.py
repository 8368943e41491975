"""Set back: the sewn point of a dart short of its pivot; legs and pattern angle stay."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin

import pytest

from core.errors import Refusal
from core.geometry.placement import gap
from core.pieces.records import Dart, Garment
from core.steps.pivot import Pivot
from core.steps.set_back import SetBack
from core.steps.true import DartBase, Truing
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import drafted
from tests.paper_block import BUST_POINT, garment

LEG = hypot(24.0, 180.0)
"""The paper waist dart's legs: from (90, 180) to (114, 0), 12 degrees apart."""


def set_back(distance: float | None, start: Garment | None = None) -> Dart:
    """The paper's waist dart, set back."""
    step = SetBack("s", "front", "front.waist_dart", distance)
    return step.apply(start or garment()).garment.piece("front").dart("front.waist_dart")


def test_the_point_lies_on_the_centre_line_at_the_distance() -> None:
    """It is as far from one leg as from the other; pivot, legs and pattern angle stay."""
    before, after = garment().piece("front").dart("front.waist_dart"), set_back(12.7)
    assert gap(after.point, BUST_POINT) == pytest.approx(12.7)
    assert gap(after.point, after.legs[0]) == pytest.approx(gap(after.point, after.legs[1]))
    assert (after.pivot, after.legs, after.angle) == (before.pivot, before.legs, before.angle)


def test_it_says_the_angle_that_is_sewn() -> None:
    """Half of it is atan(L sin 6 / (L cos 6 - 12.7)): 12.9 degrees instead of 12 (plane geometry)."""
    half = atan2(LEG * sin(radians(6.0)), LEG * cos(radians(6.0)) - 12.7)
    assert 2 * degrees(half) == pytest.approx(12.9, abs=0.05)
    (note,) = SetBack("s", "front", "front.waist_dart", 12.7).apply(garment()).notes
    assert "12.9 degrees" in note.sentence
    assert "stays 12.0" in note.sentence


def test_two_darts_at_a_pivot_take_an_inch_each_and_one_alone_half() -> None:
    """1 in for two that share the intake, 1/2 in for one (trade.md C2)."""
    assert gap(set_back(None).point, BUST_POINT) == pytest.approx(25.4)
    alone = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(garment()).garment
    assert gap(set_back(None, alone).point, BUST_POINT) == pytest.approx(12.7)


def test_nothing_set_back_is_the_very_same_piece() -> None:
    """The point lies at the pivot already."""
    start = garment()
    assert SetBack("s", "front", "front.waist_dart", 0.0).apply(start).garment.piece("front") is start.piece("front")


def test_it_can_be_set_back_anew() -> None:
    """The last distance counts, from the pivot."""
    first = SetBack("s", "front", "front.waist_dart", 30.0).apply(garment()).garment
    assert gap(set_back(10.0, first).point, BUST_POINT) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("distance", "words"), [(-1.0, "give a distance between"), (200.0, "base lies at 181"), (71.0, "circle of 70 mm")]
)
def test_what_lies_beyond_base_or_bust_circle_is_refused(distance: float, words: str) -> None:
    """The paper's bust circle has a radius of 70 mm all round (trade.md C2: never beyond it)."""
    with pytest.raises(Refusal, match=words):
        set_back(distance)
    assert gap(set_back(69.0).point, BUST_POINT) == pytest.approx(69.0)


def test_a_dart_off_the_bust_knows_no_bust_circle() -> None:
    """A back dart is held by its own base alone."""
    start = drafted("middling")
    dart = start.piece("back").darts[0]
    after = SetBack("s", "back", dart.name, 20.0).apply(start).garment.piece("back").dart(dart.name)
    assert gap(after.point, dart.pivot) == pytest.approx(20.0)


def test_the_right_half_has_its_own_circle() -> None:
    """Unfolded, the right dart is held by the right bust circle."""
    start = Unfold("u", "front").apply(garment()).garment
    step = SetBack("s", "front", "right.front.waist_dart", 50.0)
    dart = step.apply(start).garment.piece("front").dart("right.front.waist_dart")
    assert gap(dart.point, (-90.0, 180.0)) == pytest.approx(50.0)
    with pytest.raises(Refusal, match="bust circle"):
        SetBack("s", "front", "right.front.waist_dart", 71.0).apply(start)


def test_it_comes_before_truing() -> None:
    """A base that was trued was cut for the point as it was (cutting.md 7)."""
    start = Truing("t", "front", DartBase("front.waist_dart")).apply(garment()).garment
    with pytest.raises(Refusal, match="true it after"):
        set_back(10.0, start)
