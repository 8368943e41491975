"""What is proposed for a cut can be cut as it stands."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.pieces.records import Garment, LinePurpose
from core.steps.cut import Cut
from core.steps.cut_tags import proposed_darts, proposed_tags
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.paper_block import front, garment

MARKS = landmarks_of(front())
THROUGH = (LinePoint(0, 230), LinePoint(90, 180, landmark="bust_point"), LinePoint(190, 250))
TO_BUST_POINT = (LinePoint(190, 250), LinePoint(90, 180, landmark="bust_point"))


def drawn(name: str, points: tuple[LinePoint, ...], purpose: LinePurpose = "sheer") -> Garment:
    """The paper block with one line on its front."""
    return StyleLine("line", "front", name, points, MARKS, purpose=purpose).apply(garment()).garment


def test_a_sheer_line_through_the_bust_point_gives_a_yoke_and_two_panels_below() -> None:
    """The waist dart goes into the seam below, and only what lies above the sheer line is sheer."""
    on = drawn("front.sheer", THROUGH)
    darts = proposed_darts(on.piece("front"), ("front.sheer",))
    tags = proposed_tags(on, on.piece("front"), ("front.sheer",), darts)
    assert darts == ("front.waist_dart",)
    assert [(tag.number, tag.name, tag.fabric) for tag in tags] == [
        (1, "front yoke", "sheer"),
        (2, "centre front", "main"),
        (3, "side front", "main"),
    ]


def test_the_proposal_can_be_cut_and_every_tag_keeps_its_panel() -> None:
    """No panel is left for the cut to name by itself."""
    on = drawn("front.sheer", THROUGH)
    piece = on.piece("front")
    tags = proposed_tags(on, piece, ("front.sheer",), ("front.waist_dart",))
    outcome = Cut("cut", "front", ("front.sheer",), tags, MARKS, darts=("front.waist_dart",)).apply(on)
    assert set(outcome.names["front"]) == {"front yoke", "centre front", "side front"}
    assert not outcome.notes


def test_a_line_that_ends_at_the_bust_point_takes_the_dart_that_runs_on_from_it() -> None:
    """From the armhole down to the bust point the straightest way on is the waist dart, not the shoulder dart."""
    on = drawn("front.panel", TO_BUST_POINT, "panel")
    assert proposed_darts(on.piece("front"), ("front.panel",)) == ("front.waist_dart",)


def test_numbers_and_names_that_are_taken_are_passed_over() -> None:
    """A second cut goes on counting, and never gives a name twice."""
    on = drawn("front.panel", TO_BUST_POINT, "panel")
    piece = on.piece("front")
    tags = proposed_tags(on, piece, ("front.panel",), ("front.waist_dart",))
    after = Cut("cut", "front", ("front.panel",), tags, MARKS, darts=("front.waist_dart",)).apply(on).garment
    back = after.piece("back")
    line = StyleLine("b", "back", "back.sheer", (LinePoint(0, 200), LinePoint(-228.6, 180)), landmarks_of(back))
    again = line.apply(after).garment
    more = proposed_tags(again, again.piece("back"), ("back.sheer",))
    assert [tag.number for tag in more] == [3, 4]
    assert {tag.name for tag in more} == {"back yoke", "lower back"}


def test_a_cut_without_lines_is_refused() -> None:
    """As by the cut itself."""
    with pytest.raises(Refusal, match="Choose a line"):
        proposed_tags(garment(), front(), ())
