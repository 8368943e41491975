"""Taking in, with the mouse and with keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLineEdit

from app.canvas.slip import Slip
from core.pieces.seams import match
from core.steps.take_in import Level, TakeIn
from tests.app.at_table import LEFT, AtTable
from tests.demo_designs import concert

SHIFT = Qt.KeyboardModifier.ShiftModifier
TOP = "side front at the sheer line"


def princess() -> AtTable:
    """The finished demo, its front princess seam in hand, near enough for small amounts."""
    at = AtTable(concert(), tool="take-in")
    at.click(at.handle("Seam front princess").at)
    at.table.zoom_by(4.0, at.table.view.to_pixels(at.handle(TOP).at))
    at.settle()
    return at


def last(at: AtTable) -> TakeIn:
    """The step that was made."""
    step = at.session.design.steps[-1]
    assert isinstance(step, TakeIn)
    return step


def field_of(at: AtTable) -> QLineEdit:
    """The slip's field."""
    return next(field for field in at.table.findChildren(QLineEdit) if field.isVisible())


def slip_words(at: AtTable) -> str:
    """What the slip says."""
    return slip_of(at).accessibleName()


def slip_of(at: AtTable) -> Slip:
    """The slip that asks how much."""
    return next(slip for slip in at.table.findChildren(Slip) if slip.isAncestorOf(field_of(at)))


def sheer_edges(at: AtTable) -> float:
    """How long the two main panels are under the sheer line, as they are shown."""
    garment = at.session.shown.garment
    return match(garment, garment.seam("front.sheer_line")).length_b


def test_where_no_piece_lies_across_nothing_is_asked_of_one() -> None:
    """The side seam ends at the armhole and the waist: there is no button for a piece across it."""
    at = AtTable(concert(), tool="take-in")
    at.click(at.handle("Seam side").at)
    words = [button.accessibleName() for button in at.table.findChildren(QAbstractButton) if button.isVisible()]
    assert "Both sides alike" in words
    assert not any("yoke" in word for word in words)


def test_a_pin_dragged_into_the_cloth_takes_both_sides_in_alike() -> None:
    """6 mm into the side front: the two panels lose 12 mm of their sheer line while it is dragged; kept by the slip."""
    at = princess()
    before = sheer_edges(at)
    x, y = at.handle(TOP).at
    at.press((x, y))
    QTest.mouseMove(at.table, at.pixel((x + 6.0, y)))
    at.settle()
    assert before - sheer_edges(at) == pytest.approx(12.0, abs=1.0)
    assert "in all at the sheer line" in at.said[-1]
    assert at.acts() == 0
    at.release((x + 6.0, y))
    at.push("Take in")
    assert at.acts() == 1
    assert at.session.history.undo_label == "Take in the front princess"
    first, second = last(at).levels
    assert (first.at, second) == ("sheer_line", Level("bust_point", 0.0, 0.0))
    assert first.a == first.b == pytest.approx(6.0, abs=0.8)
    assert first.a / (25.4 / 32) == pytest.approx(round(first.a / (25.4 / 32)))


def test_shift_takes_in_one_side_only() -> None:
    """The centre front stays as it is."""
    at = princess()
    x, y = at.handle(TOP).at
    pixel = at.pixel((x + 6.0, y))
    at.press((x, y))
    QTest.mouseMove(at.table, pixel)
    QTest.mouseRelease(at.table, LEFT, SHIFT, pixel)
    at.settle()
    at.press_key(Qt.Key.Key_Return)
    assert last(at).levels[0].a > 5.0
    assert last(at).levels[0].b == 0.0


def test_the_gape_is_spread_evenly() -> None:
    """1/2 in at the sheer line as 1/4 in a side, to nothing at the bust point (common practice, no source)."""
    at = princess()
    at.push("Spread the gape evenly")
    at.press_key(Qt.Key.Key_Return)
    assert last(at).levels == (Level("sheer_line", 6.35, 6.35), Level("bust_point", 0.0, 0.0))
    assert last(at).taper == "wedge"


def test_the_angle_at_the_bust_point_is_shown_and_a_fade_adds_none() -> None:
    """The slip says what the wedge adds; ticked, the box fades it, and so does its key."""
    at = princess()
    at.push("Spread the gape evenly")
    assert "degrees at the bust point" in slip_words(at)
    at.push("Fade")
    assert "degrees" not in slip_words(at)
    at.press_key(Qt.Key.Key_D)
    assert "degrees" in slip_words(at)
    at.press_key(Qt.Key.Key_D)
    at.press_key(Qt.Key.Key_E)
    at.press_key(Qt.Key.Key_Return)
    assert (last(at).taper, last(at).across) == ("fade", "ease")


def test_the_measured_gape_is_typed() -> None:
    """3/8 in measured: typed once the gape is spread, half of it comes off each side."""
    at = princess()
    at.push("Spread the gape evenly")
    at.press_key(Qt.Key.Key_3)
    field = field_of(at)
    QTest.keyClicks(field, "/8")
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).levels == (Level("sheer_line", 4.7625, 4.7625), Level("bust_point", 0.0, 0.0))


def test_usual_amounts_come_with_their_source() -> None:
    """Tightening 1/2 in under the bust first, common practice; then the course's low neckline (trade.md C4)."""
    at = princess()
    at.push("Usual amounts")
    assert "common practice, no source" in slip_words(at)
    assert "round, " in slip_words(at)
    at.press_key(Qt.Key.Key_U)
    assert "pattern-making course" in slip_words(at)
    at.press_key(Qt.Key.Key_U)
    at.press_key(Qt.Key.Key_U)
    at.press_key(Qt.Key.Key_Return)
    half = 12.7 / 2
    assert last(at).levels == (
        Level("bust_point", 0.0, 0.0),
        Level("under_bust_line", half, half),
        Level("waist", 0.0, 0.0),
    )


def test_as_much_is_folded_out_of_the_sheer() -> None:
    """Twice E: the yoke loses as much as the panels, in a fold square to its edge, and the seam agrees as before."""
    at = princess()
    garment = at.session.replay.garment
    before = match(garment, garment.seam("front.sheer_line")).difference
    at.push("Spread the gape evenly")
    at.push("Leave the front yoke as it is")
    at.push("Ease the front yoke on")
    assert "folded out of the piece across" in slip_words(at)
    at.press_key(Qt.Key.Key_Return)
    garment = at.session.replay.garment
    assert match(garment, garment.seam("front.sheer_line")).difference == pytest.approx(before, abs=0.05)
    assert last(at).across == "fold"


def test_less_than_nothing_lets_the_seam_out() -> None:
    """-1/2 in at the waist lets both sides out by 1/4 in."""
    at = princess()
    at.table.focus_handle(at.handle("side front at the waist").key)
    at.press_key(Qt.Key.Key_Minus)
    field = field_of(at)
    QTest.keyClicks(field, "1/2")
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).levels[-1] == Level("waist", -6.35, -6.35)


def test_by_keys_alone_with_arrows() -> None:
    """Enter picks the seam; the waist's pin moves 1 mm a tap and 10 mm with Shift; Enter keeps."""
    at = AtTable(concert(), tool="take-in")
    at.table.focus_handle(at.handle("Seam front princess").key)
    at.press_key(Qt.Key.Key_Return)
    at.table.focus_handle(at.handle("centre front at the waist").key)
    at.press_key(Qt.Key.Key_Left)
    at.press_key(Qt.Key.Key_Left)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).levels == (Level("under_bust_line", 0.0, 0.0), Level("waist", 2.0, 2.0))


def test_an_amount_is_typed_at_a_pin() -> None:
    """1/2 typed at the waist is 1/2 in in all; the field says where it will be taken in."""
    at = princess()
    at.table.focus_handle(at.handle("side front at the waist").key)
    at.press_key(Qt.Key.Key_1)
    field = field_of(at)
    assert field.accessibleName() == "In all at the waist"
    QTest.keyClicks(field, "/2")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert at.acts() == 0
    at.press_key(Qt.Key.Key_Return)
    assert last(at).levels[-1] == Level("waist", 6.35, 6.35)


def test_what_is_no_length_is_said_and_changes_nothing() -> None:
    """The field keeps the text to be mended."""
    at = princess()
    field = field_of(at)
    field.setText("wide")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert "is not a length" in at.said[-1]
    assert at.session.shown is at.session.replay


def test_too_much_is_refused_on_the_slip_and_cannot_be_kept() -> None:
    """300 mm are more than the sheer line's edge beside the seam has."""
    at = princess()
    field = field_of(at)
    field.setText("300 mm")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert "take in less" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    at.push("Take in")
    assert at.acts() == 0


def test_esc_drops_the_drag_then_the_amounts_then_the_seam() -> None:
    """Each time a little less, and at last the tool is left."""
    at = princess()
    at.push("Spread the gape evenly")
    kept = sheer_edges(at)
    x, y = at.handle(TOP).at
    at.press((x, y))
    QTest.mouseMove(at.table, at.pixel((x + 9.0, y)))
    at.settle()
    assert sheer_edges(at) < kept - 5.0
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert sheer_edges(at) == kept
    at.release((x + 9.0, y))
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.handle("Seam front princess").kind == "choice"
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.finished == 1
    assert at.acts() == 0


def test_the_slip_is_dragged_off_what_it_covers_and_stays_on_the_table() -> None:
    """Taken by its paper it goes where the hand goes, and no farther than the table; the seam stays in hand."""
    at = princess()
    slip = slip_of(at)
    before = slip.pos()
    paper = slip.childAt(QPoint(5, 5))
    assert paper is not None
    QTest.mousePress(paper, LEFT, pos=QPoint(3, 3))
    QTest.mouseMove(paper, QPoint(103, -197))
    assert slip.pos() == before + QPoint(100, -200)
    QTest.mouseMove(paper, QPoint(5000, -5000))
    QTest.mouseRelease(paper, LEFT, pos=QPoint(3, 3))
    assert at.table.rect().contains(slip.geometry())
    at.push("Spread the gape evenly")
    assert at.table.rect().contains(slip.geometry())
    assert slip.pos().y() < before.y()
    assert at.handle(TOP).kind == "point"


def test_a_seam_of_more_than_two_panels_is_refused_by_name() -> None:
    """The sheer line joins the yoke to two panels."""
    at = AtTable(concert(), tool="take-in")
    edge = at.piece("front yoke").edge("sheer_line").points
    at.click(at.on("front yoke", tuple(edge[len(edge) // 3])))
    assert at.said[-1] == "The seam front sheer line joins more than two panels; take in a seam between two."
