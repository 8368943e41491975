"""Altering a drawn line through everything that was done after it, by mouse and by keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.tools.choose import tool_for
from core.geometry.polyline import Point
from core.steps.style_line import StyleLine
from tests.app.at_table import LEFT, AtTable, first_steps
from tests.demo_designs import concert


def at_sheer_line() -> AtTable:
    """The demo, its sheer line taken up by a click on the edge that was cut along it."""
    at = AtTable(concert())
    at.click(at.on("front yoke", tuple(at.piece("front yoke").edge("sheer_line").points[20])))
    return at


def line(at: AtTable) -> StyleLine:
    """The sheer line as it is committed."""
    return next(s for s in at.session.design.steps if isinstance(s, StyleLine) and s.purpose == "sheer")


def shifted(at: Point, dx: float, dy: float) -> Point:
    """A place moved by so many mm."""
    return (at[0] + dx, at[1] + dy)


def test_dragging_a_point_moves_panels_live_and_commits_once() -> None:
    """The yoke and the panel below follow while the button is down; one act is added when it is let go."""
    at = at_sheer_line()
    start = at.handle("Point 2 of sheer line").at
    yoke = at.session.shown.garment.piece("front yoke")
    at.press(start)
    for step in range(1, 13):
        QTest.mouseMove(at.table, at.pixel(shifted(start, 0.0, -float(step))))
        at.settle()
    moving = at.session.shown.garment
    assert moving.piece("front yoke") is not yoke
    assert moving.piece("front yoke").number == yoke.number
    assert moving.piece("centre back") is at.session.replay.garment.piece("centre back")
    assert at.acts() == 0
    at.release(shifted(start, 0.0, -12.0))
    assert at.acts() == 1
    assert at.session.history.undo_label == "Move a point of the sheer line"


def test_the_release_counts_even_without_a_move_there() -> None:
    """Where the button is let go is where the point lies, to half a pixel."""
    at = at_sheer_line()
    start = at.handle("Point 2 of sheer line").at
    at.press(start)
    QTest.mouseMove(at.table, at.pixel(shifted(start, 0.0, -8.0)))
    at.settle()
    end = shifted(start, -4.0, -15.0)
    at.release(end)
    point = line(at).points[1]
    assert abs(point.x - end[0]) < 1.0 / at.table.view.scale
    assert abs(point.y - end[1]) < 1.0 / at.table.view.scale


def test_esc_in_the_middle_of_a_drag_restores_exactly() -> None:
    """The design is the same object as before, no act is added, and the view shows it."""
    at = at_sheer_line()
    before, start = at.session.design, at.handle("Point 2 of sheer line").at
    at.press(start)
    QTest.mouseMove(at.table, at.pixel(shifted(start, 6.0, -14.0)))
    at.settle()
    assert at.session.shown is not at.session.replay
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    at.release(shifted(start, 6.0, -14.0))
    assert at.session.design is before
    assert at.session.shown is at.session.replay
    assert at.acts() == 0


def test_a_click_never_nudges() -> None:
    """Less than a drag's distance is a click: it picks the point up, and Esc leaves it where it was."""
    at = at_sheer_line()
    start, before = at.handle("Point 3 of sheer line").at, at.session.design
    at.press(start)
    here = at.pixel(start)
    QTest.mouseMove(at.table, here + here.__class__(2, 2))
    at.settle()
    QTest.mouseRelease(at.table, LEFT, pos=here + here.__class__(2, 2))
    at.press_key(Qt.Key.Key_Escape)
    assert at.session.design is before


def test_a_point_can_be_moved_by_two_clicks() -> None:
    """Click it, click where it goes: no dragging is needed (WCAG 2.5.7)."""
    at = at_sheer_line()
    start = at.handle("Point 2 of sheer line").at
    at.click(start)
    at.hover(shifted(start, 3.0, -5.0))
    at.click(shifted(start, 5.0, -10.0))
    assert at.acts() == 1
    assert abs(line(at).points[1].y - (start[1] - 10.0)) < 1.0 / at.table.view.scale


def test_arrow_keys_move_a_point_by_exact_steps_and_taps_join() -> None:
    """1 mm, 10 mm with Shift, 0.1 mm with Alt; taps within a second are one act."""
    at = at_sheer_line()
    before = line(at).points[1]
    at.table.focus_handle("1")
    at.press_key(Qt.Key.Key_Down)
    at.press_key(Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    at.press_key(Qt.Key.Key_Right)
    point = line(at).points[1]
    assert (round(point.x - before.x, 9), round(point.y - before.y, 9)) == (1.0, -1.1)
    at.press_key(Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert round(line(at).points[1].y - before.y, 9) == -11.1
    assert at.acts() == 1
    assert at.table.focused_handle is not None
    assert at.table.focused_handle.key == "1"


def test_an_end_runs_along_the_outline() -> None:
    """Dragged anywhere, the end at the fold stays on an edge."""
    at = at_sheer_line()
    start = at.handle("Point 1 of sheer line").at
    at.drag(start, shifted(start, 14.0, -4.0), shifted(start, 12.0, -9.0))
    assert at.acts() == 1
    point = line(at).points[0]
    assert point.x == 0.0
    assert point.place is not None
    assert point.place.edge == "front.centre_front"


def test_what_cannot_be_is_said_and_not_kept() -> None:
    """A point dragged far outside the piece: the last good view stays, a sentence says why, nothing is kept."""
    at = at_sheer_line()
    before, start = at.session.design, at.handle("Point 3 of sheer line").at
    at.drag(start, shifted(start, 60.0, 20.0), shifted(start, 250.0, 60.0))
    assert at.session.design is before
    assert at.session.shown is at.session.replay
    assert "front" in at.said[-1]
    assert at.said[-1].endswith("Nothing was changed.")


def test_a_double_click_on_the_line_adds_a_point_and_on_a_point_makes_a_corner() -> None:
    """Delete takes the new point out again."""
    at = at_sheer_line()
    first, second = at.handle("Point 2 of sheer line").at, at.handle("Point 3 of sheer line").at
    piece = at.session.replay.before(line(at).id).piece("front")
    path = line(at).curve(at.session.replay.before(line(at).id), piece)
    between = min(path.tolist(), key=lambda place: abs(place[0] - (first[0] + second[0]) / 2))
    QTest.mouseDClick(at.table, LEFT, pos=at.pixel((between[0], between[1])))
    at.settle()
    assert len(line(at).points) == 5
    QTest.mouseDClick(at.table, LEFT, pos=at.pixel(at.handle("Point 3 of sheer line").at))
    at.settle()
    assert line(at).points[2].corner
    at.table.focus_handle("2")
    at.press_key(Qt.Key.Key_Delete)
    assert len(line(at).points) == 4
    assert not any(point.corner for point in line(at).points)


def test_the_princess_line_follows_the_sheer_line() -> None:
    """The line that begins on it goes along, and every seam still matches."""
    at = at_sheer_line()
    start = at.handle("Point 3 of sheer line").at
    before = at.session.replay.garment.origins["front.princess"].length
    at.drag(start, shifted(start, 0.0, -9.0), shifted(start, 0.0, -18.0))
    after = at.session.replay
    assert after.refused is None
    assert after.garment.origins["front.princess"].length < before - 5.0
    assert all(mark.verdict in ("exact", "good") for mark in at.table.scene.marks)


def test_undo_while_a_line_is_in_hand_shows_its_points_where_they_were() -> None:
    """The handles follow the design, whoever changed it."""
    at = at_sheer_line()
    start = at.handle("Point 2 of sheer line").at
    at.drag(start, shifted(start, 0.0, -14.0))
    assert at.handle("Point 2 of sheer line").at != start
    at.session.undo()
    assert at.handle("Point 2 of sheer line").at == start


def test_a_point_is_typed_to_an_exact_place() -> None:
    """Enter on a point's handle makes the slip speak of it; the words move it there in one act."""
    at = AtTable(first_steps(4))
    step = next(step for step in at.session.design.steps if isinstance(step, StyleLine))
    at.table.set_tool(tool_for(at.table, step))
    at.settle()
    at.table.focus_handle("1")
    at.press_key(Qt.Key.Key_Return)
    field = next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == "It lies")
    field.setText("1 1/2 in above the bust point")
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.settle()
    moved = next(now for now in at.session.design.steps if now.id == step.id)
    assert isinstance(moved, StyleLine)
    x, y = at.session.replay.before(step.id).piece("front").landmarks["bust_point"]
    assert (moved.points[1].x, moved.points[1].y) == pytest.approx((x, y + 38.1))
    assert at.acts() == 1
