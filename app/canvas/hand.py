"""The hand on the mouse: tells clicks from drags and pans, and passes them to the tool at most once a frame.

A drag begins once the pointer has gone farther than a click may, and ends where the button is let go, whether or not a
move was seen there. What the pointer does is only noted when it moves; the work is done when the frame comes.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot
from typing import Final

from msgspec.structs import replace
from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtGui import QInputDevice, QMouseEvent
from PySide6.QtWidgets import QApplication

from app.canvas.tool import Pointer, Tool
from core.geometry.polyline import Point

HELD_FAR: Final = 4.0
"""Pixels after which something held is dragged. The desktop's own distance (10) is some 15 mm of cloth when the whole
block is in view, and a line is mostly moved by less; a click of a steady hand strays under 2."""

FINGER: Final = 20.0 / 12.0
"""How much farther a finger reaches than a mouse: its targets are 40 pixels wide, a mouse's 24."""

ToPointer = Callable[[Point, Qt.KeyboardModifier], Pointer]


class Hand(QObject):
    """What the mouse is doing over a table. `to_pointer` lays a pixel on the table, `pan` moves it by pixels."""

    def __init__(self, parent: QObject, to_pointer: ToPointer, pan: Callable[[float, float], None]) -> None:
        super().__init__(parent)
        self.tool: Tool | None = None
        self.pointer: Pointer | None = None
        self._to_pointer = to_pointer
        self._pan = pan
        self._pressed: Pointer | None = None
        self._holds = self._drags = False
        self._pan_from: Point | None = None
        self._is_stale = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self.frame)

    @property
    def is_dragging(self) -> bool:
        """Whether the tool is being dragged."""
        return self._drags

    @property
    def is_down(self) -> bool:
        """Whether a button is held down: what lies under the pointer must stay under it."""
        return self._pressed is not None or self._pan_from is not None

    def press(self, event: QMouseEvent, *, pans: bool) -> None:
        """A button went down; `pans` when it moves the table and not the tool."""
        self.pointer = self._at(event)
        if pans:
            self._pan_from = self.pointer.pixel
        elif event.button() == Qt.MouseButton.LeftButton and self.tool is not None:
            self._pressed, self._drags = self.pointer, False
            self._holds = self.tool.press(self.pointer)

    def move(self, event: QMouseEvent) -> None:
        """The pointer moved; the tool hears of it when the frame comes."""
        self.pointer = self._at(event)
        if self._pan_from is not None:
            here, there = self.pointer.pixel, self._pan_from
            self._pan_from = here
            self._pan(here[0] - there[0], here[1] - there[1])
            return
        self._is_stale = True
        self._timer.start()

    def frame(self) -> None:
        """Pass the pointer's last place to the tool."""
        if not self._is_stale or self.tool is None or self.pointer is None:
            return
        self._is_stale = False
        if self._pressed is None:
            self.tool.hover(self.pointer)
        elif self._goes_far(self._pressed, self.pointer):
            self._drags = True
            if self._holds:
                self.tool.drag(self.pointer)

    def _goes_far(self, start: Pointer, now: Pointer) -> bool:
        gone = hypot(now.pixel[0] - start.pixel[0], now.pixel[1] - start.pixel[1])
        return self._drags or gone >= (HELD_FAR if self._holds else QApplication.startDragDistance())

    def release(self, event: QMouseEvent) -> None:
        """The button went up: a click, or the end of a drag or a pan."""
        self.pointer, start = self._at(event), self._pressed
        far = start is not None and self._goes_far(start, self.pointer)
        holds, self._holds, self._pressed, self._is_stale = self._holds, False, None, False
        self._drags = False
        if self._pan_from is not None:
            self._pan_from = None
        elif start is not None and self.tool is not None:
            if not far:
                self.tool.click(start)
            elif holds:
                self.tool.drop(self.pointer)

    def double_click(self, event: QMouseEvent) -> None:
        """The second of two quick clicks; the release that follows it is no click."""
        self.pointer, self._pressed, self._holds = self._at(event), None, False
        if self.tool is not None and event.button() == Qt.MouseButton.LeftButton:
            self.tool.double_click(self.pointer)

    def let_go(self) -> None:
        """Forget a press: Esc was pressed or the window lost the focus in the middle of it."""
        self._pressed, self._holds, self._drags, self._pan_from = None, False, False, None

    def _at(self, event: QMouseEvent) -> Pointer:
        at = event.position()
        pointer = self._to_pointer((at.x(), at.y()), event.modifiers())
        is_finger = event.pointingDevice().type() == QInputDevice.DeviceType.TouchScreen
        return replace(pointer, reach=FINGER * pointer.reach) if is_finger else pointer
