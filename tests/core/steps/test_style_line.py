"""Style line: a fair curve on a piece, drawn over folded darts, refused where it would go wrong in cloth."""

from __future__ import annotations

import numpy as np
import pytest

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import as_point
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.paper_block import BUST_POINT, front, garment

MARKS = landmarks_of(front())


def line(*points: LinePoint, folded: tuple[str, ...] = (), intended: bool = False) -> StyleLine:
    """A sheer line on the front."""
    return StyleLine("l", "front", "front.sheer", points, MARKS, folded=folded, intended=intended)


CROSSING = line(LinePoint(0, 260), LinePoint(70, 250), LinePoint(150.5, 311), folded=("front.shoulder_dart",))


def test_the_outline_is_unchanged() -> None:
    """Drawing adds a line and moves nothing."""
    start = garment()
    after = CROSSING.apply(start).garment
    assert after.piece("front").edges is start.piece("front").edges
    assert start.piece("front").lines == front().lines or len(start.piece("front").lines) == 1


def test_it_meets_both_legs_of_a_crossed_dart_at_equal_distance() -> None:
    """Within 0.01 mm of the same distance from the pivot (design law; cutting.md 1)."""
    drawn = CROSSING.apply(garment()).garment.piece("front").line("front.sheer")
    assert len(drawn.stretches) == 2
    radii = [gap(BUST_POINT, as_point(end)) for end in (drawn.stretches[0][-1], drawn.stretches[1][0])]
    assert radii[0] == pytest.approx(radii[1], abs=0.01)


def test_straight_across_an_open_dart_is_refused() -> None:
    """Drawn without folding, the line meets the legs unequally and would show a step when sewn (cutting.md 1)."""
    with pytest.raises(Refusal, match="folded"):
        line(LinePoint(0, 260), LinePoint(70, 250), LinePoint(187, 340)).apply(garment())


def test_it_leaves_the_fold_squarely() -> None:
    """Both halves meet smoothly at the centre front when unfolded; a point there has to be meant."""
    drawn = CROSSING.apply(garment()).garment.piece("front").line("front.sheer").stretches[0]
    step = drawn[1] - drawn[0]
    assert abs(step[1]) < 0.02 * abs(step[0])
    meant = line(LinePoint(0, 260), LinePoint(90, 180, landmark="bust_point"), LinePoint(190, 250), intended=True)
    first = meant.apply(garment()).garment.piece("front").line("front.sheer").stretches[0]
    assert abs(first[1][1] - first[0][1]) > 0.1 * abs(first[1][0] - first[0][0])


def test_ends_near_an_edge_are_laid_on_it() -> None:
    """An end within 3 mm of the outline lies on it exactly, so that it can be cut along."""
    drawn = line(LinePoint(0.4, 230), LinePoint(90, 180, landmark="bust_point"), LinePoint(190.8, 250))
    ends = drawn.apply(garment()).garment.piece("front").line("front.sheer").path[[0, -1]]
    assert ends[0][0] == 0.0
    armhole = front().edge("armhole").points
    (ax, ay), (bx, by) = armhole[0], armhole[1]
    assert (bx - ax) * (ends[1][1] - ay) == pytest.approx((by - ay) * (ends[1][0] - ax), abs=1e-6)


def test_a_point_snapped_to_a_landmark_follows_it() -> None:
    """The stored landmark wins over the coordinates."""
    drawn = line(LinePoint(0, 230), LinePoint(5, 5, landmark="bust_point"), LinePoint(190, 250))
    path = drawn.apply(garment()).garment.piece("front").line("front.sheer").path
    assert (np.hypot(*(path - BUST_POINT).T) == 0.0).any()


def test_near_the_pivot_it_says_to_snap() -> None:
    """A line 2 mm from the bust point leaves a dart nobody can sew: drawn either way, it is told (cutting.md 2)."""
    points = (LinePoint(0, 230), LinePoint(90, 182), LinePoint(190, 250))
    with pytest.raises(Refusal, match="snap"):
        line(*points).apply(garment())
    folded = (LinePoint(0, 230), LinePoint(90, 182), LinePoint(125, 235), LinePoint(150.5, 311))
    outcome = line(*folded, folded=("front.shoulder_dart",)).apply(garment())
    assert "snap" in outcome.notes[0].sentence


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (line(LinePoint(0, 230)), "two points"),
        (line(LinePoint(0, 230), LinePoint(0, 230)), "one spot"),
        (line(LinePoint(0, 230), LinePoint(60, 120), LinePoint(60, 230), LinePoint(0, 120)), "crosses itself"),
        (line(LinePoint(0, 230), LinePoint(60, 200)), "misses piece front"),
        (line(LinePoint(0, 100), LinePoint(-60, 60), LinePoint(0, 20), intended=True), "leaves piece front"),
        (line(LinePoint(500, 500), LinePoint(700, 500)), "misses piece front"),
        (line(LinePoint(0, 230), LinePoint(9, 9, landmark="elbow"), LinePoint(190, 250)), "no landmark elbow"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_a_sentence(step: StyleLine, words: str) -> None:
    """Each refusal names the line and the piece and says what to do."""
    with pytest.raises(Refusal, match=words):
        step.apply(garment())
