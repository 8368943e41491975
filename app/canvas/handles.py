"""Handles as small child widgets without a frame: seen by assistive technology, reached by Tab, moved by arrow keys.

The table draws them and takes the mouse for them, so a press is judged by one hit test. Widgets are used again from one
moment to the next, so that the one with the focus keeps it while it moves.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QWidget

from app.canvas.tool import ENTER, Handle
from app.messages import guard
from core.geometry.polyline import Point

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable

SIDE: Final = 24
"""Logical pixels: the least target that a hand with a tremor can be asked to hit (WCAG 2.2, 2.5.8)."""

STEP: Final = 1.0
LONG_STEP: Final = 10.0
SHORT_STEP: Final = 0.1
"""mm an arrow key moves a handle; with Shift; with Alt."""

ARROWS: Final = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


def arrow(event: QKeyEvent) -> Point | None:
    """How far an arrow key moves something, in mm, y up; None for another key."""
    way = ARROWS.get(Qt.Key(event.key()))
    if way is None:
        return None
    held = event.modifiers()
    step = LONG_STEP if held & Qt.KeyboardModifier.ShiftModifier else STEP
    step = SHORT_STEP if held & Qt.KeyboardModifier.AltModifier else step
    return (way[0] * step, way[1] * step)


class HandleWidget(QWidget):
    """One handle. It draws nothing and lets the mouse through."""

    nudged = Signal(str, float, float)
    activated = Signal(str)
    removed = Signal(str)
    focused = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.key = ""
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_NoSystemBackground)
        self.resize(SIDE, SIDE)

    def show_as(self, handle: Handle, pixel: QPoint) -> None:
        """Stand for a handle at a pixel of the table."""
        self.key = handle.key
        self.move(pixel - QPoint(SIDE // 2, SIDE // 2))
        if self.accessibleName() != handle.accessible_name:
            self.setAccessibleName(handle.accessible_name)
        self.setVisible(True)

    @guard(default=None)
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows move, Enter and Space choose, Delete removes; other keys are the table's."""
        key, way = Qt.Key(event.key()), arrow(event)
        if way is not None:
            self.nudged.emit(self.key, *way)
        elif key in {*ENTER, Qt.Key.Key_Space}:
            self.activated.emit(self.key)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.removed.emit(self.key)
        else:
            event.ignore()

    @guard(default=None)
    def focusInEvent(self, event: QFocusEvent) -> None:
        """The table draws the ring round the handle that has the focus."""
        self.focused.emit()

    @guard(default=None)
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """As `focusInEvent`."""
        self.focused.emit()


class HandleRow:
    """The handle widgets of a table, as many as the tool has handles; spare ones are hidden.

    What is done at one of them is the tool's that is in hand then.
    """

    def __init__(self, table: CuttingTable) -> None:
        self._table = table
        self._widgets: list[HandleWidget] = []
        self._shown: Sequence[Handle] = ()

    @property
    def focused(self) -> str:
        """The key of the handle that has the focus, or ""."""
        for widget in self._widgets:
            if widget.hasFocus():
                return widget.key
        return ""

    def widget(self, key: str) -> HandleWidget | None:
        """The widget that stands for a handle now."""
        return next((w for w in self._widgets if w.key == key and not w.isHidden()), None)

    def lay(self, handles: Sequence[Handle], pixels: Sequence[QPoint]) -> None:
        """Put the widgets where the handles are, making as many as are wanting."""
        self._widgets += [self._new() for _ in range(len(handles) - len(self._widgets))]
        for widget, handle, pixel in zip(self._widgets, handles, pixels, strict=False):
            widget.show_as(handle, pixel)
        for widget in self._widgets[len(handles) :]:
            if not widget.isHidden():
                widget.hide()

    def _new(self) -> HandleWidget:
        made = HandleWidget(self._table)
        made.nudged.connect(self._nudge)
        made.activated.connect(self._activate)
        made.removed.connect(self._remove)
        made.focused.connect(self._table.update)
        return made

    def _nudge(self, key: str, dx: float, dy: float) -> None:
        self._table.tool.nudge(key, dx, dy)

    def _activate(self, key: str) -> None:
        self._table.tool.activate(key)

    def _remove(self, key: str) -> None:
        self._table.tool.remove(key)
