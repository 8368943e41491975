"""A step altered under the hand: what it does is seen at once, what follows it is tried in the frames after that."""

from __future__ import annotations

import msgspec
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.tools.editing import take_up
from app.tools.step_tool import StepTool
from core.design.design import Design
from core.design.replay import replay, replay_until
from core.steps.pivot import Pivot
from core.steps.take_in import Level, TakeIn
from core.steps.trim import Trim
from tests.app.at_table import LEFT, AtTable
from tests.demo_designs import concert


def followed() -> Design:
    """The demo with a princess seam taken in, trimmed to match after it, and its cup."""
    levels = (Level("under_bust_line", 0.0, 0.0), Level("waist", 6.0, 0.0))
    *before, cup = concert().steps
    extra = (TakeIn("take-in-1", "front.princess", levels), Trim("trim-1", "front.princess"), cup)
    return msgspec.structs.replace(concert(), steps=(*before, *extra))


def held(design: Design, step_id: str, words: str) -> tuple[AtTable, QPoint]:
    """The table with the hand on the pin of a step that is altered, no step being worked out in passing."""
    at = AtTable(design)
    assert take_up(at.table, next(step for step in design.steps if step.id == step_id))
    at.settle()
    at.session._trial.share = 0.0
    start = at.pixel(at.handle(words).at)
    QTest.mousePress(at.table, LEFT, pos=start)
    return at, start


def tool(at: AtTable) -> StepTool:
    """The tool in hand."""
    assert isinstance(at.table.tool, StepTool)
    return at.table.tool


def test_what_the_step_does_is_shown_in_the_frame_of_the_move() -> None:
    """The panels are as just after the step, as a fresh replay gives them, while what follows is still to be tried."""
    at, start = held(followed(), "take-in-1", "side front at the waist")
    QTest.mouseMove(at.table, start + QPoint(6, 0))
    QApplication.processEvents()
    shown, trial = at.session.shown, tool(at).trial
    assert at.session.is_trying
    assert shown.stages[-1].step is trial
    fresh = replay_until(at.session.design.with_step(trial), "take-in-1")
    for name, piece in fresh.garment.pieces.items():
        assert (shown.garment.piece(name).loop == piece.loop).all()
    QTest.mouseRelease(at.table, LEFT, pos=start)


def test_let_go_and_kept_the_whole_design_is_a_fresh_replay() -> None:
    """However far the trial had come, what is kept comes to the same bit for bit."""
    at, start = held(followed(), "take-in-1", "side front at the waist")
    for far in (3, 6, 9):
        QTest.mouseMove(at.table, start + QPoint(far, 0))
        QApplication.processEvents()
    QTest.mouseRelease(at.table, LEFT, pos=start + QPoint(9, 0))
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 1
    whole = replay(at.session.design)
    assert whole.refused is None
    for name, piece in whole.garment.pieces.items():
        assert (at.session.replay.garment.piece(name).loop == piece.loop).all()


@pytest.mark.parametrize("lets_go", [True, False])
def test_a_later_step_that_could_not_be_done_is_named_while_the_hand_drags(lets_go: bool) -> None:
    """Turned so little that the cut after it meets an open dart otherwise, the refusing step is named by its number."""
    design = concert()
    pivot = next(step for step in design.steps if isinstance(step, Pivot))
    assert isinstance(pivot, Pivot)
    at, start = held(design, pivot.id, "Share of")
    before = at.session.design
    for far in range(2, 40, 4):
        QTest.mouseMove(at.table, start - QPoint(far, 0))
        at.settle()
    assert "could not be done then" in tool(at).refusal
    if lets_go:
        QTest.mouseRelease(at.table, LEFT, pos=start - QPoint(38, 0))
        assert "could not be done then" in tool(at).refusal
        at.press_key(Qt.Key.Key_Return)
    else:
        at.press_key(Qt.Key.Key_Escape)
        assert tool(at).refusal == ""
    assert at.session.design is before
    assert at.acts() == 0
