"""A cutting table with real mouse and keys, its places given in millimetres."""

from __future__ import annotations

import msgspec
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QCursor, QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication

from app.canvas.table import CuttingTable
from app.canvas.tool import Handle
from app.session import Session
from app.theme import theme_for
from app.tools.catalogue import tool_named
from core.design.design import Design
from core.geometry.polyline import Point
from core.pieces.records import Dart, Piece
from tests.demo_designs import concert

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier


def first_steps(count: int) -> Design:
    """The demo with only its first steps: 0 the block, 2 pivoted and with a neckline, 4 with both lines drawn."""
    whole = concert()
    return msgspec.structs.replace(whole, steps=whole.steps[:count])


class AtTable:
    """What a dressmaker sees and does at the table."""

    def __init__(self, design: Design, *, tool: str = "choose", size: tuple[int, int] = (1000, 760)) -> None:
        self.session = Session(design)
        self.table = CuttingTable(self.session, theme_for("light"))
        self.session.setParent(self.table)
        self.said: list[str] = []
        self.finished = 0
        self.table.status.connect(self._hear)
        self.table.tool_finished.connect(self._finish)
        self.table.resize(*size)
        self.table.show()
        self.take(tool)

    def _hear(self, words: str) -> None:
        if words:
            self.said.append(words)

    def _finish(self) -> None:
        self.finished += 1
        self.take("choose")

    def take(self, tool: str) -> None:
        """Take up a tool."""
        self.table.set_tool(tool_named(tool).make(self.table))
        self.settle()

    def settle(self) -> None:
        """Let the frame come, and what it tried be worked out."""
        QApplication.processEvents()
        while self.session.is_trying:
            QTest.qWait(1)

    # --- where things are

    def pixel(self, at: Point) -> QPoint:
        """The pixel nearest to a place on the table."""
        x, y = self.table.view.to_pixels(at)
        return QPoint(round(x), round(y))

    def on(self, piece: str, at: Point) -> Point:
        """A place of a shown piece, on the table."""
        item = self.table.scene.piece(piece)
        assert item is not None, f"no piece {piece} on the table"
        return item.to_table(at)

    def piece(self, name: str) -> Piece:
        """A piece of the committed garment."""
        return self.session.replay.garment.piece(name)

    def acts(self) -> int:
        """How many acts undo could take back."""
        return len(self.session.history.entries) - 1

    def label_of(self, piece: str) -> Point:
        """Where a piece's label stands on the table."""
        item = self.table.scene.piece(piece)
        assert item is not None, f"no piece {piece} on the table"
        return item.to_table(self.table.pictures.label(item, fast=False))

    def handle(self, words: str) -> Handle:
        """The handle whose accessible name begins so."""
        return next(handle for handle in self.table.shown_handles if handle.accessible_name.startswith(words))

    # --- what the hand does

    def hover(self, at: Point) -> None:
        """Move the pointer, no button down."""
        if QCursor.pos() == self.table.mapToGlobal(self.pixel(at)):  # left there by another table: it would not move
            QTest.mouseMove(self.table, self.pixel(at) + QPoint(1, 0))
        QTest.mouseMove(self.table, self.pixel(at))
        self.settle()

    def click(self, at: Point, held: Qt.KeyboardModifier = NONE) -> None:
        """Press and let go on one spot."""
        self.hover(at)
        QTest.mouseClick(self.table, LEFT, held, self.pixel(at))
        self.settle()

    def press(self, at: Point) -> None:
        """Put the button down."""
        QTest.mousePress(self.table, LEFT, NONE, self.pixel(at))

    def release(self, at: Point) -> None:
        """Let the button go."""
        QTest.mouseRelease(self.table, LEFT, NONE, self.pixel(at))
        self.settle()

    def drag(self, start: Point, *places: Point) -> None:
        """Press, move from place to place, let go at the last."""
        self.press(start)
        for place in places:
            QTest.mouseMove(self.table, self.pixel(place))
            self.settle()
        self.release(places[-1])

    def press_key(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        """Type a key at whatever has the keyboard on the table."""
        focused = self.table.focused_handle
        target = self.table if focused is None else self.table.handle_widget(focused.key)
        QTest.keyClick(target or self.table, key, held)
        self.settle()

    def push(self, words: str) -> None:
        """Push a button or tick a box on the table's slip."""
        buttons = [button for button in self.table.findChildren(QAbstractButton) if button.accessibleName() == words]
        QTest.mouseClick(buttons[-1], LEFT)
        self.settle()

    def wheel(self, at: Point, turn: int, held: Qt.KeyboardModifier = NONE) -> None:
        """Turn the wheel by so many eighths of a degree."""
        here = QPointF(self.pixel(at))
        none, phase = Qt.MouseButton.NoButton, Qt.ScrollPhase.NoScrollPhase
        event = QWheelEvent(here, here, QPoint(), QPoint(0, turn), none, held, phase, False)
        QApplication.sendEvent(self.table, event)
        self.settle()

    def middle_drag(self, start: QPoint, end: QPoint) -> None:
        """Pan with the middle button."""
        middle = Qt.MouseButton.MiddleButton
        QTest.mousePress(self.table, middle, NONE, start)
        kind = QMouseEvent.Type.MouseMove
        at = QPointF(end)
        QApplication.sendEvent(self.table, QMouseEvent(kind, at, at, Qt.MouseButton.NoButton, middle, NONE))
        QTest.mouseRelease(self.table, middle, NONE, end)
        self.settle()


def inside(dart: Dart) -> Point:
    """A place in a dart's wedge."""
    (ax, ay), (bx, by), (px, py) = *dart.legs, dart.pivot
    return ((ax + bx + px) / 3, (ay + by + py) / 3)
