"""Joining two pieces at a seam, and walking one edge along its mate."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.tools.join import joined_name
from core.geometry.polyline import point_at
from core.pieces.outline import cloth_area
from core.pieces.seams import match
from core.steps.join import Join
from tests.app.at_table import AtTable
from tests.demo_designs import concert

SHIFT = Qt.KeyboardModifier.ShiftModifier


def name_field(at: AtTable) -> QLineEdit:
    """Where the joined piece is named."""
    return next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == "Name of the joined piece")


def side_picked() -> AtTable:
    """The demo with its side seam to be joined, shown laid together at the waist."""
    at = AtTable(concert(), tool="join")
    at.click(at.handle("Seam side").at)
    at.click(at.handle("Join the side at the waist").at)
    return at


def test_two_clicks_show_the_joined_piece_and_the_slip_keeps_it() -> None:
    """Side front and side back share a straight seam of one length: one piece of both areas, called side."""
    at = side_picked()
    before = sum(cloth_area(at.piece(name)) for name in ("side front", "side back"))
    assert cloth_area(at.session.shown.garment.piece("side")) == pytest.approx(before, rel=1e-3)
    assert at.acts() == 0
    at.push("Join")
    assert at.session.design.steps[-1] == Join("join-1", "side", "waist", "side")
    assert {"side front", "side back"}.isdisjoint(at.session.replay.garment.pieces)
    assert at.session.history.undo_label == "Join at the side"


def test_the_joint_is_trued_by_a_tick() -> None:
    """The waist then runs over the side in one curve; the sentence and the kept step say so."""
    at = side_picked()
    at.push("True the joint")
    assert at.session.shown.stages[-1].step == Join("join-1", "side", "waist", "side", trued=True)
    at.push("Join")
    step = at.session.design.steps[-1]
    assert isinstance(step, Join)
    assert step.trued


def test_the_name_is_typed_where_it_is_asked_for() -> None:
    """The field has the keyboard; Enter in it joins."""
    at = side_picked()
    field = name_field(at)
    assert field.hasFocus()
    QTest.keyClicks(field, "side panel")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert "side panel" in at.session.replay.garment.pieces
    assert at.acts() == 1


def test_a_name_that_is_taken_or_empty_cannot_be_given() -> None:
    """It is said, and nothing is joined."""
    at = side_picked()
    field = name_field(at)
    field.selectAll()
    QTest.keyClicks(field, "front yoke")
    assert "There is a piece front yoke already" in at.said[-1]
    QTest.keyClick(field, Qt.Key.Key_Return)
    field.selectAll()
    QTest.keyClick(field, Qt.Key.Key_Delete)
    assert at.said[-1] == "Give the joined piece a name."
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert at.acts() == 0


def test_edges_that_part_are_refused_and_the_other_end_can_be_tried() -> None:
    """The princess seam is shaped over the bust: its sides do not lie together from end to end."""
    at = AtTable(concert(), tool="join")
    at.click(at.handle("Seam front princess").at)
    at.click(at.handle("Join the front princess at the waist").at)
    assert "when laid together, over the 0.5 mm" in at.said[-1]
    assert at.session.shown is at.session.replay
    assert at.handle("Join the front princess at the sheer line").kind == "choice"


def test_joining_by_keys_and_leaving_by_esc() -> None:
    """Enter picks the seam and the end; Esc goes back to the ends, to the seams, and leaves the tool."""
    at = AtTable(concert(), tool="join")
    at.table.focus_handle(at.handle("Seam side").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Return)
    QTest.keyClick(name_field(at), Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    assert at.handle("Join the side at the waist").kind == "choice"
    at.press_key(Qt.Key.Key_Escape)
    assert at.handle("Seam side").kind == "choice"
    at.press_key(Qt.Key.Key_Escape)
    assert at.finished == 1
    assert at.acts() == 0


def test_a_seam_of_three_pieces_is_refused_by_name() -> None:
    """The shoulder joins the yoke to two back panels."""
    at = AtTable(concert(), tool="join")
    edge = at.piece("front yoke").edge("shoulder")
    at.click(at.on("front yoke", point_at(edge.points, edge.length / 2)))
    assert at.said[-1] == "The seam shoulder joins 3 pieces; only a seam between two is laid shut."


def test_joined_pieces_are_called_by_the_words_they_share() -> None:
    """Two yokes make a yoke; two pieces without a shared word keep both names; a name that is taken gets a number."""
    garment = AtTable(concert()).session.replay.garment
    assert joined_name(garment, ("side front", "side back")) == "side"
    assert joined_name(garment, ("front yoke", "side back")) == "front yoke and side back"


def princess_walked() -> AtTable:
    """The front princess seam, its sides laid together at the sheer line."""
    at = AtTable(concert(), tool="walk")
    at.click(at.handle("Seam front princess").at)
    return at


def test_the_princess_seam_parts_just_past_the_bust_point() -> None:
    """Cut as one curve down to the bust point, its sides lie together so far; the dart's legs turn away there."""
    at = princess_walked()
    garment = at.session.replay.garment
    bust = garment.piece("side front").edge("princess").length
    assert at.said[-1].startswith("0 in from the sheer line. The edges part ")
    assert "2 21/32 in farther on" in at.said[-1]
    assert bust / 25.4 == pytest.approx(2 + 21 / 32, abs=0.05)


def test_the_arrows_roll_it_on_and_past_the_bust_point_it_lies_flat() -> None:
    """Dart legs are straight: from there on the two sides lie together to the waist."""
    at = princess_walked()
    for _ in range(10):
        at.press_key(Qt.Key.Key_Right, SHIFT)
    assert "lie together to the end" in at.said[-1]
    at.press_key(Qt.Key.Key_Home)
    assert at.said[-1].startswith("0 in from the sheer line")
    at.press_key(Qt.Key.Key_End)
    total = match(at.session.replay.garment, at.session.replay.garment.seam("front.princess")).length_a
    assert at.table.tool.handles()[0].words.endswith("9 3/8 in along")
    assert total / 25.4 == pytest.approx(9.375, abs=1 / 64)


def test_a_drag_rolls_it_along_and_esc_brings_it_back() -> None:
    """The contact follows the pointer along the first side; nothing is ever altered."""
    at = princess_walked()
    start = at.handle("Where the centre front touches").at
    leg = at.piece("side front").edge("waist_dart")
    there = at.on("side front", point_at(leg.points, leg.length / 2))
    at.press(start)
    QTest.mouseMove(at.table, at.pixel(there))
    at.settle()
    now = at.handle("Where the centre front touches").at
    assert now == pytest.approx(there, abs=2.0)
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.handle("Where the centre front touches").at == pytest.approx(start)
    at.release(there)
    at.click(there)
    assert at.handle("Where the centre front touches").at == pytest.approx(there, abs=2.0)
    at.table.grab()
    assert at.session.shown is at.session.replay
    assert at.acts() == 0


def test_an_eased_shoulder_goes_on_beyond_its_mate() -> None:
    """The back shoulder is longer by the ease that was drafted: 6 mm is 1/4 in to the nearest 32nd, less 1/64."""
    at = AtTable(concert(), tool="walk")
    at.click(at.handle("Seam shoulder").at)
    at.press_key(Qt.Key.Key_End)
    seam = match(at.session.replay.garment, at.session.replay.garment.seam("shoulder"))
    assert seam.length_a - seam.length_b == pytest.approx(6.0, abs=0.01)
    assert at.said[-1].endswith("At the neck the centre back goes on for 1/4 in.")
