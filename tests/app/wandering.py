"""A hand that does anything at the table, drawn by chance, and what must be true however it went."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app.session import Session
from app.tools.catalogue import TOOLS
from app.tools.choose import tool_for
from app.tools.editing import take_up
from app.tools.step_tool import StepTool
from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.geometry.planar import is_simple_loop
from tests.app.at_table import LEFT, NONE, AtTable

KEYS = (
    *(Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Backspace, Qt.Key.Key_Delete, Qt.Key.Key_F, Qt.Key.Key_C),
    *(Qt.Key.Key_Insert, Qt.Key.Key_Space, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down),
)


class Wanderer:
    """A hand that takes tools, clicks, drags, types, undoes, at places drawn by chance; handles more often than not."""

    def __init__(self, at: AtTable, seed: int) -> None:
        self.at = at
        self.chance = random.Random(seed)  # noqa: S311 # a repeatable walk, no secret
        self.acts: tuple[Callable[[], None], ...] = (
            self.take,
            self.click,
            self.click,
            self.drag,
            self.drag,
            self.double,
            self.key,
            self.key,
            self.undo,
        )

    def pixel(self) -> QPoint:
        """A place on the table."""
        handles = self.at.table.shown_handles
        if handles and self.chance.random() < 0.5:
            return self.at.pixel(self.chance.choice(handles).at)
        return QPoint(self.chance.randint(30, 970), self.chance.randint(30, 730))

    def take(self) -> None:
        """Take up a tool."""
        self.at.take(self.chance.choice(TOOLS).id)

    def click(self) -> None:
        """Click."""
        here = self.pixel()
        QTest.mouseMove(self.at.table, here)
        self.at.settle()
        QTest.mouseClick(self.at.table, LEFT, NONE, here)

    def drag(self) -> None:
        """Drag, and now and then drop it by Esc."""
        here = self.pixel()
        QTest.mousePress(self.at.table, LEFT, NONE, here)
        for _ in range(self.chance.randint(1, 4)):
            here += QPoint(self.chance.randint(-25, 25), self.chance.randint(-25, 25))
            QTest.mouseMove(self.at.table, here)
            self.at.settle()
        if self.chance.random() < 0.2:
            QTest.keyClick(self.at.table, Qt.Key.Key_Escape)
        QTest.mouseRelease(self.at.table, LEFT, NONE, here)

    def double(self) -> None:
        """Click twice."""
        here = self.pixel()
        QTest.mouseClick(self.at.table, LEFT, NONE, here)
        QTest.mouseDClick(self.at.table, LEFT, NONE, here)

    def key(self) -> None:
        """Type at a handle or at the table."""
        handles = self.at.table.shown_handles
        if handles and self.chance.random() < 0.6:
            self.at.table.focus_handle(self.chance.choice(handles).key)
        self.at.press_key(self.chance.choice(KEYS))

    def undo(self) -> None:
        """Take back, or do again."""
        (self.at.session.undo if self.chance.random() < 0.7 else self.at.session.redo)()


ARROWS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)


class Worker(Wanderer):
    """A wanderer who as often as not alters what is there: takes up a step's line and moves one of its points."""

    def __init__(self, at: AtTable, seed: int) -> None:
        super().__init__(at, seed)
        self.acts = (*self.acts, *(self.alter,) * len(self.acts))

    def alter(self) -> None:
        """Take up the tool of a step, of a line mostly, move a handle by an arrow or by a drag, and keep what asks."""
        steps = self.at.session.design.steps
        lines = [step for step in steps if tool_for(self.at.table, step) is not None]
        if steps and self.chance.random() < 0.5:
            try:
                take_up(self.at.table, self.chance.choice(lines if lines and self.chance.random() < 0.7 else steps))
            except Refusal:
                self.at.take("choose")
            self.at.settle()
        self.move()
        tool = self.at.table.tool
        if isinstance(tool, StepTool) and tool.altered:
            self.at.table.accept_tool()
            self.at.settle()

    def move(self) -> None:
        """Move a handle of the tool in hand."""
        handles = self.at.table.shown_handles
        if not handles:
            return
        handle = self.chance.choice(handles)
        if self.chance.random() < 0.5:
            self.at.table.focus_handle(handle.key)
            held = self.chance.choice((NONE, Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.AltModifier))
            self.at.press_key(self.chance.choice(ARROWS), held)
        else:
            here = self.at.pixel(handle.at)
            there = here + QPoint(self.chance.randint(-20, 20), self.chance.randint(-20, 20))
            self.at.drag(
                self.at.table.view.to_mm((here.x(), here.y())), self.at.table.view.to_mm((there.x(), there.y()))
            )


@dataclass(frozen=True, slots=True)
class Walk:
    """How many gestures were done, how many of them changed the design, and whether undo and redo came out equal.

    `fault` is what a gesture left behind that none may, with its number, or "".
    """

    gestures: int
    changes: int
    is_equal: bool
    fault: str = ""


def walked(design: Design, seed: int, gestures: int) -> Walk:
    """Let a hand work on a design; then undo all of it, and redo all of it."""
    at = AtTable(design)
    hand = Worker(at, seed)
    first, changes, fault = outlines(at.session.replay), 0, ""
    for number in range(gestures):
        before = at.session.design
        hand.chance.choice(hand.acts)()
        at.settle()
        changes += at.session.design is not before
        if not fault and (broken := broken_by(at.session.shown)):
            fault = f"gesture {number} of seed {seed}: {broken}"
    at.take("choose")
    session = at.session
    _redo_all(session)
    last, done = session.design, outlines(session.replay)
    _undo_all(session)
    is_equal = session.design is design and same(outlines(session.replay), first)
    _redo_all(session)
    is_equal &= session.design is last and same(outlines(session.replay), done)
    is_equal &= same(outlines(replay(last)), done)
    at.table.close()
    at.table.deleteLater()
    return Walk(gestures, changes, is_equal, fault)


def broken_by(shown: Replay) -> str:
    """What no gesture may leave in view: a refused step, or an outline that crosses itself; or ""."""
    if shown.refused is not None:
        return shown.refused.sentence
    crossed = [name for name, piece in shown.garment.pieces.items() if not is_simple_loop(piece.loop)]
    return f"the outline of {crossed[0]} crosses itself" if crossed else ""


def _undo_all(session: Session) -> None:
    while session.history.undo_label:
        session.undo()


def _redo_all(session: Session) -> None:
    while session.history.redo_label:
        session.redo()


def outlines(done: Replay) -> dict[str, NDArray[np.float64]]:
    """The outline (N, 2) of every piece in mm."""
    return {name: np.array(piece.loop) for name, piece in done.garment.pieces.items()}


def same(one: dict[str, NDArray[np.float64]], other: dict[str, NDArray[np.float64]]) -> bool:
    """Whether two garments have the same outlines, to the last bit."""
    return one.keys() == other.keys() and all(np.array_equal(one[name], other[name]) for name in one)
