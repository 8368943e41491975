"""Whatever a hand does, in whatever order, the table shows a garment and says no more than sentences."""

from __future__ import annotations

import random

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from app.tools.catalogue import TOOLS
from core.geometry.planar import is_simple_loop
from tests.app.at_table import LEFT, NONE, AtTable, first_steps
from tests.demo_designs import concert

KEYS = (
    *(Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Backspace, Qt.Key.Key_Delete, Qt.Key.Key_F, Qt.Key.Key_C),
    *(Qt.Key.Key_Insert, Qt.Key.Key_Space, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down),
)


class Wanderer:
    """A hand that takes tools, clicks, drags, types, undoes, at places drawn by chance; handles more often than not."""

    def __init__(self, at: AtTable, seed: int) -> None:
        self.at = at
        self.chance = random.Random(seed)  # noqa: S311 # a repeatable walk, no secret
        self.acts = (
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


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_wandering_hand_breaks_nothing(seed: int) -> None:
    """After every act all outlines are simple and no step is refused; laid down, no trial stays in view."""
    at = AtTable(concert() if seed % 2 else first_steps(2))
    hand = Wanderer(at, seed)
    for _ in range(120):
        hand.chance.choice(hand.acts)()
        at.settle()
        assert at.session.shown.refused is None
        assert all(is_simple_loop(piece.loop) for piece in at.session.shown.garment.pieces.values())
    at.take("choose")
    assert at.session.shown is at.session.replay
    at.table.grab()
