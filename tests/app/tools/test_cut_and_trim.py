"""Cutting into panels, and trimming what does not match."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.canvas.slip import Slip
from core.design.design import Design
from core.pieces.seams import Match, match
from core.steps.cut import Cut
from core.steps.take_in import Level, TakeIn
from core.steps.trim import Trim
from tests.app.at_table import AtTable, first_steps, inside
from tests.demo_designs import concert


def lines_drawn() -> AtTable:
    """The demo up to both lines on the front, ready to be cut."""
    return AtTable(first_steps(4), tool="cut")


def test_the_slip_says_what_the_cut_makes_and_its_button_cuts() -> None:
    """Three numbered panels; the yoke is sheer, the waist dart goes into the princess seam."""
    at = lines_drawn()
    at.push("Cut")
    garment = at.session.replay.garment
    panels = {piece.name: (piece.number, piece.fabric) for piece in garment.pieces.values() if piece.block == "front"}
    assert panels == {"front yoke": (1, "sheer"), "centre front": (2, "main"), "side front": (3, "main")}
    assert at.session.history.undo_label == "Cut the front into panels"
    step = at.session.design.steps[-1]
    assert isinstance(step, Cut)
    assert step.darts == ("front.waist_dart",)


def test_lines_and_darts_can_be_left_out_by_a_click() -> None:
    """Without the princess line only the sheer line is cut; the front below keeps its dart."""
    at = lines_drawn()
    line = at.piece("front").line("front.princess").stretches[0]
    at.click(at.on("front", tuple(line[len(line) // 2])))
    at.press_key(Qt.Key.Key_Return)
    names = [piece.name for piece in at.session.replay.garment.pieces.values() if piece.block == "front"]
    assert names == ["front yoke", "lower front"]
    assert at.piece("lower front").darts


def test_what_cannot_be_cut_is_said_and_the_button_is_dead() -> None:
    """Without the sheer line, the princess line that begins on it would begin in the cloth."""
    at = lines_drawn()
    sheer = at.piece("front").line("front.sheer_line").stretches[0]
    at.click(at.on("front", tuple(sheer[len(sheer) // 4])))
    assert "princess" in at.said[-1]
    assert "inside" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    at.push("Cut")
    assert at.acts() == 0


def test_esc_leaves_the_piece_whole() -> None:
    """Nothing is cut until it is said."""
    at = lines_drawn()
    at.press_key(Qt.Key.Key_Escape)
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 0
    assert "front" in at.session.replay.garment.pieces


def test_without_a_line_it_says_what_to_do_first() -> None:
    """There is nothing to cut along on a new block."""
    at = AtTable(first_steps(0), tool="cut")
    assert "draw a sheer line" in at.said[-1]


def out_of_match() -> Design:
    """The demo's panels with the princess seam taken in by 3 mm at the waist on one side only."""
    design = first_steps(5)
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", 14.0, 0.0))
    return design.with_step(TakeIn("take-in-1", "front.princess", levels))


def test_a_click_on_the_seam_and_one_on_its_end_make_the_pair_equal() -> None:
    """The seam that is out carries a handle; so does each of its ends."""
    at = AtTable(out_of_match(), tool="trim")
    garment = at.session.replay.garment
    out = match(garment, garment.seam("front.princess")).difference
    assert abs(out) > 0.2
    at.click(at.handle("Seam princess").at)
    at.click(at.handle("Trim princess at the waist").at)
    garment = at.session.replay.garment
    assert match(garment, garment.seam("front.princess")).difference == pytest.approx(0.0, abs=0.01)
    assert at.session.history.undo_label == "Trim the seam princess"


def test_trimming_by_keys() -> None:
    """Enter chooses the seam, then the end."""
    at = AtTable(out_of_match(), tool="trim")
    at.table.focus_handle(at.handle("Seam princess").key)
    at.press_key(Qt.Key.Key_Return)
    at.table.focus_handle(at.handle("Trim princess at the waist").key)
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 1


@pytest.mark.parametrize(("times", "side"), [(1, "shared"), (2, "b"), (3, "longer")])
def test_s_chooses_which_side_changes(times: int, side: str) -> None:
    """Shared first, then the shorter side, then the longer again; that button of the slip is held down."""
    at = AtTable(out_of_match(), tool="trim")
    shorter = "b" if match_of(at).difference > 0 else "a"
    at.click(at.handle("Seam princess").at)
    for _ in range(times):
        QTest.keyClick(at.table, Qt.Key.Key_S)
        at.settle()
    ways = ("Cut the longer back", "Share it", "Add to the shorter")
    assert [way for way in ways if held(at, way)] == [ways[times % 3]]
    at.click(at.handle("Trim princess at the waist").at)
    step = at.session.design.steps[-1]
    assert isinstance(step, Trim)
    assert step.side == (shorter if side == "b" else side)
    assert match_of(at).difference == pytest.approx(0.0, abs=0.01)


def held(at: AtTable, words: str) -> bool:
    """Whether a button of the slip is held down."""
    return next(b for b in at.table.findChildren(QPushButton) if b.accessibleName() == words).isChecked()


def test_s_is_the_tool_s_own_letter() -> None:
    """Else the window would take up the sheer line's tool, whose letter it is otherwise."""
    at = AtTable(out_of_match(), tool="trim")
    at.click(at.handle("Seam princess").at)
    assert Qt.Key.Key_S in at.table.tool.keys


def far_out() -> Design:
    """The princess seam taken in so much on one side that no single side may be trimmed, only both."""
    levels = (Level("bust_point", 0.0, 0.0), Level("waist", 40.0, 0.0))
    return first_steps(5).with_step(TakeIn("take-in-1", "front.princess", levels))


def test_too_much_for_one_side_is_refused_on_the_slip_and_shared_by_its_button() -> None:
    """The sentence names sharing as a way out; its button and the slip's own then trim."""
    at = AtTable(far_out(), tool="trim")
    at.click(at.handle("Seam princess").at)
    at.push("Trim at the waist")
    assert at.acts() == 0
    slip = next(slip for slip in at.table.findChildren(Slip) if slip.isVisible())
    assert "share it between the two sides" in slip.accessibleName()
    at.push("Share it")
    at.push("Trim at the waist")
    assert at.acts() == 1
    assert match_of(at).difference == pytest.approx(0.0, abs=0.01)


def match_of(at: AtTable) -> Match:
    """The princess seam as it is committed."""
    garment = at.session.replay.garment
    return match(garment, garment.seam("front.princess"))


def test_a_seam_that_matches_is_left_alone() -> None:
    """There is nothing to trim on the demo, and it is said."""
    at = AtTable(concert(), tool="trim")
    assert at.said[-1] == "Every seam matches: there is nothing to trim."
    edge = at.piece("side front").edge("side").points
    at.click(at.on("side front", tuple(edge.mean(axis=0))))
    assert "matches" in at.said[-1]
    assert at.acts() == 0


def test_a_dart_is_taken_into_the_seam_or_left_out_by_a_click() -> None:
    """The waist dart that was proposed is left out, and taken in again."""
    at = lines_drawn()
    waist = at.on("front", inside(at.piece("front").dart("front.waist_dart")))
    assert at.handle("Waist dart of front, chosen").moves is False
    QTest.mouseClick(at.table, Qt.MouseButton.LeftButton, pos=at.pixel(waist))
    at.settle()
    assert at.handle("Waist dart of front, not chosen").moves is False
