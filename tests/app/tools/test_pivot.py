"""Pivoting a dart: picked, pinned, sent somewhere, turned."""

from __future__ import annotations

from math import cos, degrees, sin

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton

from app.tools.pivot_slip import PivotSlip
from core.geometry.polyline import Point, point_at
from core.pieces.outline import cloth_area
from core.steps.pivot import Pivot
from tests.app.at_table import AtTable, first_steps, inside


def picked() -> AtTable:
    """The block, its front shoulder dart picked by a click."""
    at = AtTable(first_steps(0), tool="pivot")
    at.click(at.on("front", inside(at.piece("front").dart("front.shoulder_dart"))))
    return at


def last(at: AtTable) -> Pivot:
    """The step that was added last."""
    step = at.session.design.steps[-1]
    assert isinstance(step, Pivot)
    return step


def turned(at: Point, pivot: Point, angle: float) -> Point:
    """A place turned about a pivot."""
    dx, dy = at[0] - pivot[0], at[1] - pivot[1]
    return (pivot[0] + cos(angle) * dx - sin(angle) * dy, pivot[1] + sin(angle) * dx + cos(angle) * dy)


def test_three_clicks_pivot_a_dart_into_another() -> None:
    """Pick it, pick the waist dart, keep it: all of the angle is then at the waist."""
    at = picked()
    angles = {dart.name: dart.angle for dart in at.piece("front").darts}
    waist = at.on("front", inside(at.piece("front").dart("front.waist_dart")))
    at.click(waist)
    assert at.session.shown.garment.piece("front") is not at.piece("front")
    assert at.acts() == 0
    at.click(waist)
    assert at.session.history.undo_label == "Pivot the shoulder dart"
    (dart,) = at.piece("front").darts
    assert dart.angle == pytest.approx(sum(angles.values()), abs=1e-9)


def test_a_drag_turns_a_share_and_the_piece_is_seen_to_turn() -> None:
    """Half of the angle swept about the pin is half of the dart turned, live and then kept."""
    at = picked()
    piece = at.piece("front")
    dart = piece.dart("front.shoulder_dart")
    start = at.on("front", inside(piece.dart("front.waist_dart")))
    at.press(start)
    for share in (0.15, 0.3, 0.5):
        QTest.mouseMove(at.table, at.pixel(turned(start, dart.pivot, share * dart.angle)))
        at.settle()
    shown = at.session.shown.garment.piece("front")
    assert shown.dart("front.shoulder_dart").angle == pytest.approx(dart.angle / 2, rel=0.03)
    assert cloth_area(shown) == pytest.approx(cloth_area(piece), abs=1e-6)
    at.release(turned(start, dart.pivot, 0.5 * dart.angle))
    assert last(at).share == pytest.approx(0.5, rel=0.03)
    assert at.acts() == 1


def test_a_drag_past_nearly_all_means_all() -> None:
    """Nobody wants to leave half a degree behind."""
    at = picked()
    dart = at.piece("front").dart("front.shoulder_dart")
    start = at.on("front", inside(at.piece("front").dart("front.waist_dart")))
    at.drag(start, turned(start, dart.pivot, 0.5 * dart.angle), turned(start, dart.pivot, 0.96 * dart.angle))
    assert last(at).share == 1.0


def test_a_place_on_an_edge_receives_it() -> None:
    """To the middle of the armhole: stored as a share of that edge."""
    at = picked()
    edge = at.piece("front").edge("armhole")
    at.click(at.on("front", point_at(edge.points, 0.5 * edge.length)))
    at.press_key(Qt.Key.Key_Return)
    place = last(at).place
    assert place is not None
    assert (place.edge, place.share) == ("front.armhole", 0.5)


def test_the_pin_snaps_to_the_bust_point_and_elsewhere_it_warns() -> None:
    """10 mm up the dart she is told where the fullness will sit; near the bust point it is the bust point again."""
    at = picked()
    pin = at.handle("Pivot of the shoulder dart").at
    dart = at.piece("front").dart("front.shoulder_dart")
    away = turned((pin[0], pin[1] + 12.0), pin, -0.5 * dart.angle)
    at.drag(pin, (pin[0], pin[1] + 6.0), away)
    assert at.said[-1].startswith("Mind: the pin lies")
    assert "from the bust point" in at.said[-1]
    moved = at.handle("Pivot of the shoulder dart").at
    assert moved != pin
    at.drag(moved, (pin[0] + 8.0, pin[1] + 12.0), (pin[0] + 2.0, pin[1] + 1.0))
    assert at.handle("Pivot of the shoulder dart").at == pytest.approx(pin)
    assert at.said[-1] == "The pin is on the bust point."


def test_esc_goes_back_a_moment_and_keeps_nothing() -> None:
    """From the turn to the choice of a goal, from there to the choice of a dart."""
    at = picked()
    before = at.session.design
    at.click(at.on("front", inside(at.piece("front").dart("front.waist_dart"))))
    at.press_key(Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    assert at.handle("Pivot of the shoulder dart").kind == "pivot"
    at.press_key(Qt.Key.Key_Escape)
    assert at.handle("Shoulder dart of front").kind == "choice"
    assert at.session.design is before


def test_by_keys_alone() -> None:
    """Enter picks the dart and the goal; arrows turn less; Enter keeps."""
    at = AtTable(first_steps(0), tool="pivot")
    at.table.focus_handle(at.handle("Shoulder dart of front").key)
    at.press_key(Qt.Key.Key_Return)
    at.table.focus_handle(at.handle("To the waist dart").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).share == pytest.approx(0.5)
    angle = at.piece("front").dart("front.shoulder_dart").angle
    block = first_angle()
    assert degrees(angle) == pytest.approx(degrees(block / 2), abs=1e-9)


def first_angle() -> float:
    """The shoulder dart's angle on the block."""
    return AtTable(first_steps(0)).piece("front").dart("front.shoulder_dart").angle


def button(at: AtTable, words: str) -> QAbstractButton:
    """A button or box on the slip by its words."""
    (slip,) = [slip for slip in at.table.findChildren(PivotSlip) if slip.isVisible()]
    return next(found for found in slip.findChildren(QAbstractButton) if found.text() == words)


def test_gathers_are_ticked_on_the_slip_and_their_spread_is_typed() -> None:
    """The shoulder dart goes into the side as gathers over 2 in on each side; the sentence says so, and it is kept."""
    at = picked()
    piece = at.piece("front")
    at.click(at.on("front", point_at(piece.edge("side").points, piece.edge("side").length / 2)))
    QTest.mouseClick(button(at, "As gathers"), Qt.MouseButton.LeftButton)
    at.settle()
    (slip,) = at.table.findChildren(PivotSlip)
    slip.reach.setText("2 in")
    QTest.keyClick(slip.reach, Qt.Key.Key_Return)
    at.settle()
    assert "as gathers over 4 in" in slip.accessibleName()
    QTest.mouseClick(button(at, "Pivot"), Qt.MouseButton.LeftButton)
    assert last(at).becomes == "gathers"
    assert last(at).reach == pytest.approx(50.8)
    (held,) = at.piece("front").eased
    assert held.kind == "gathers"
    assert at.acts() == 1


def test_too_much_ease_is_refused_on_the_slip() -> None:
    """The button is dead, and the sentence tells the ways out; gathers are one of them."""
    at = picked()
    edge = at.piece("front").edge("side")
    at.click(at.on("front", point_at(edge.points, edge.length / 2)))
    at.press_key(Qt.Key.Key_E)
    (slip,) = at.table.findChildren(PivotSlip)
    assert "without a pucker" in slip.accessibleName()
    assert not button(at, "Pivot").isEnabled()
    at.press_key(Qt.Key.Key_G)
    assert button(at, "Pivot").isEnabled()


def test_a_share_here_and_the_rest_there_is_one_act() -> None:
    """Half to the armhole, the rest to the side: one step with two receivers, no shoulder dart left."""
    at = picked()
    piece = at.piece("front")
    at.click(at.on("front", point_at(piece.edge("armhole").points, piece.edge("armhole").length / 2)))
    QTest.mouseClick(button(at, "Another share elsewhere"), Qt.MouseButton.LeftButton)
    at.settle()
    assert "50% of the shoulder dart is left" in at.said[-1]
    at.click(at.on("front", point_at(piece.edge("side").points, piece.edge("side").length / 2)))
    QTest.mouseClick(button(at, "Pivot"), Qt.MouseButton.LeftButton)
    assert [receiver.share for receiver in last(at).receivers] == [0.5, 0.5]
    names = {dart.name for dart in at.piece("front").darts}
    assert names == {"front.waist_dart", "front.armhole_dart", "front.side_dart"}
    assert at.acts() == 1


def test_a_second_click_on_the_dart_gathers_it_where_it_lies() -> None:
    """The waist dart is left as gathers in the waist."""
    at = AtTable(first_steps(0), tool="pivot")
    waist = at.on("front", inside(at.piece("front").dart("front.waist_dart")))
    at.click(waist)
    at.click(waist)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).into == "front.waist_dart"
    assert at.piece("front").eased[0].edge == "front.waist"
