"""The pointer: drags that end oddly, fingers, snapping, cursors, and double clicks that keys stand in for."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QFocusEvent, QInputDevice, QMouseEvent, QNativeGestureEvent, QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from core.geometry.polyline import Point
from core.steps.style_line import StyleLine
from tests.app.at_table import LEFT, NONE, AtTable, first_steps
from tests.app.at_window import opened
from tests.demo_designs import concert


def at_sheer_line() -> tuple[AtTable, Point]:
    """The demo with its sheer line in hand, and where its second point lies."""
    at = AtTable(concert())
    at.click(at.on("front yoke", tuple(at.piece("front yoke").edge("sheer_line").points[20])))
    return at, at.handle("Point 2 of sheer line").at


def sheer_line(at: AtTable) -> StyleLine:
    """The sheer line as it is committed."""
    return next(s for s in at.session.design.steps if isinstance(s, StyleLine) and s.purpose == "sheer")


def dragged(at: AtTable, start: Point, dy: float) -> None:
    """Press on a place and draw it up by so many mm, the button still down."""
    at.press(start)
    for step in range(1, 6):
        QTest.mouseMove(at.table, at.pixel((start[0], start[1] + dy * step / 5)))
        at.settle()


def test_letting_go_outside_the_window_ends_the_drag() -> None:
    """Let go left of the table, the hand holds nothing more: a move afterwards changes nothing (WCAG 2.2, 2.5.2)."""
    at, start = at_sheer_line()
    dragged(at, start, -8.0)
    outside = QPointF(-60.0, at.pixel(start).y())
    kind = QMouseEvent.Type.MouseButtonRelease
    QApplication.sendEvent(at.table, QMouseEvent(kind, outside, outside, LEFT, Qt.MouseButton.NoButton, NONE))
    at.settle()
    assert not at.table.hand.is_dragging
    design = at.session.design
    at.hover((start[0] + 20.0, start[1] + 20.0))
    assert at.session.design is design
    assert at.session.shown is at.session.replay


def test_a_drag_that_loses_the_window_is_dropped() -> None:
    """Another window takes the keyboard in the middle: the design is the same object, nothing is there to undo."""
    at, start = at_sheer_line()
    before = at.session.design
    dragged(at, start, -8.0)
    assert at.session.shown is not at.session.replay
    lost = QFocusEvent(QFocusEvent.Type.FocusOut, Qt.FocusReason.ActiveWindowFocusReason)
    QApplication.sendEvent(at.table, lost)
    QTest.mouseRelease(at.table, LEFT, NONE, at.pixel(start))
    at.settle()
    assert at.session.design is before
    assert at.session.shown is at.session.replay
    assert at.acts() == 0


def finger() -> QPointingDevice:
    """A touch screen."""
    capability = QInputDevice.Capability.Position
    return QPointingDevice(
        "screen", 7, QInputDevice.DeviceType.TouchScreen, QPointingDevice.PointerType.Finger, capability, 5, 1
    )


def clicked(at: AtTable, pixel: QPointF, device: QPointingDevice | None) -> None:
    """Press and let go at a pixel, by a device or by the mouse."""
    for kind, buttons in (
        (QMouseEvent.Type.MouseButtonPress, LEFT),
        (QMouseEvent.Type.MouseButtonRelease, Qt.MouseButton.NoButton),
    ):
        if device is None:
            event = QMouseEvent(kind, pixel, pixel, LEFT, buttons, NONE)
        else:
            event = QMouseEvent(kind, pixel, pixel, LEFT, buttons, NONE, device)
        QApplication.sendEvent(at.table, event)
    at.settle()


@pytest.mark.parametrize(("off", "by_mouse"), [(9.0, True), (17.0, False)])
def test_a_finger_reaches_farther_than_a_mouse(off: float, by_mouse: bool) -> None:
    """9 pixels beside a point both take it, 17 only the finger: targets of 24 and of 40 pixels (WCAG 2.2, 2.5.8)."""
    for device, takes in ((None, by_mouse), (finger(), True)):
        at, start = at_sheer_line()
        pixel = QPointF(at.pixel(start)) + QPointF(0.0, -off)
        before = sheer_line(at)
        clicked(at, pixel, device)
        # What is in hand goes where the next click is.
        clicked(at, QPointF(at.pixel(start)) + QPointF(0.0, 30.0), None)
        assert (sheer_line(at) != before) == takes, (off, device)


def test_a_pinch_zooms_about_the_fingers() -> None:
    """The place between them stays to half a pixel."""
    at = AtTable(first_steps(0))
    pixel = QPointF(430.0, 310.0)
    under, zoom = at.table.view.to_mm((430.0, 310.0)), at.table.view.zoom
    pinch = QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture, finger(), 2, pixel, pixel, pixel, 0.25, QPointF(), 1
    )
    QApplication.sendEvent(at.table, pinch)
    assert at.table.view.zoom > zoom
    assert at.table.view.to_pixels(under) == pytest.approx((430.0, 310.0), abs=0.5)


@pytest.mark.parametrize("zoomed", [1.0, 3.0])
@pytest.mark.parametrize(("off", "landmark"), [(8.0, "bust_point"), (16.0, "")])
def test_snapping_reaches_as_many_pixels_at_any_zoom(zoomed: float, off: float, landmark: str) -> None:
    """8 pixels from the bust point it is meant, 16 away it is not, near by as from afar."""
    at = AtTable(first_steps(0), tool="mark")
    bust = at.on("front", at.piece("front").landmarks["bust_point"])
    at.table.zoom_by(zoomed, at.table.view.to_pixels(bust))
    x, y = at.table.view.to_pixels(bust)
    at.click(at.table.view.to_mm((x + off, y)))
    at.click(at.table.view.to_mm((x + 60.0, y + 60.0)))
    at.press_key(Qt.Key.Key_Return)
    mark = at.session.design.steps[-1]
    assert isinstance(mark, StyleLine)
    assert mark.points[0].landmark == landmark


def test_the_cursor_says_what_the_hand_is_at() -> None:
    """An arrow for choosing, a pointing hand over a line, an open hand with Space, a closed one while it pans."""
    at = AtTable(concert())
    cursor = at.table.cursor
    assert cursor().shape() == Qt.CursorShape.ArrowCursor
    line = at.on("front yoke", tuple(at.piece("front yoke").edge("sheer_line").points[20]))
    at.hover((line[0] + 40.0, line[1] + 40.0))
    at.hover(line)
    assert cursor().shape() == Qt.CursorShape.PointingHandCursor
    QTest.keyPress(at.table, Qt.Key.Key_Space)
    assert cursor().shape() == Qt.CursorShape.OpenHandCursor
    at.press(at.table.view.to_mm((300.0, 300.0)))
    assert cursor().shape() == Qt.CursorShape.ClosedHandCursor
    at.release(at.table.view.to_mm((310.0, 300.0)))
    QTest.keyRelease(at.table, Qt.Key.Key_Space)


def test_what_a_double_click_does_a_key_does_too() -> None:
    """Insert adds a point after the one in hand, C makes it a corner, as double clicks do (KDE's guidelines)."""
    at, _ = at_sheer_line()
    count = len(sheer_line(at).points)
    at.table.focus_handle(at.handle("Point 2 of sheer line").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Insert)
    assert len(sheer_line(at).points) == count + 1
    corners = sum(point.corner for point in sheer_line(at).points)
    at.press_key(Qt.Key.Key_C)
    assert sum(point.corner for point in sheer_line(at).points) != corners


def test_there_is_no_menu_that_only_a_right_click_opens(qtbot: QtBot) -> None:
    """Of the window's own parts none has a menu at the pointer; Qt's text fields have their usual one."""
    window = opened(qtbot, demo=True)
    own = [w for w in [window, *window.findChildren(QWidget)] if type(w).__module__.startswith("app.")]
    policies = (Qt.ContextMenuPolicy.CustomContextMenu, Qt.ContextMenuPolicy.ActionsContextMenu)
    assert [w for w in own if w.contextMenuPolicy() in policies] == []
    assert [type(w) for w in own if "contextMenuEvent" in vars(type(w))] == []
