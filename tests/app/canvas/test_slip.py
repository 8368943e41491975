"""The slip at the table's foot, and what the table does so that it hides no piece."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton, QScrollArea

from app.canvas.slip import Slip, SlipField
from tests.app.at_table import AtTable, first_steps
from tests.app.at_window import text_size
from tests.demo_designs import concert

LOW = (1000, 420)
"""So low that the whole block, shown as large as it goes, would reach under a slip."""


def slip_of(at: AtTable) -> Slip:
    """The slip that lies on the table."""
    return next(slip for slip in at.table.findChildren(Slip) if slip.isVisible())


def lowest(at: AtTable) -> float:
    """How far down the pieces reach, in pixels."""
    left, bottom, _, _ = at.table.scene.extent()
    return at.table.view.to_pixels((left, bottom))[1]


def test_the_pieces_are_shown_above_the_slip() -> None:
    """The waist stays in sight while a line is drawn to it, and nothing moves once the slip is gone."""
    at = AtTable(first_steps(0), tool="choose", size=LOW)
    before = lowest(at)
    at.take("panel-line")
    assert before > slip_of(at).geometry().top() >= lowest(at)
    seen = at.table.view
    at.take("choose")
    assert at.table.view == seen


def test_what_she_has_looked_at_nearer_stays_where_it_is() -> None:
    """A view of her own is not taken from her by a slip."""
    at = AtTable(first_steps(0), tool="choose", size=LOW)
    at.table.zoom_by(2.0)
    seen = at.table.view
    at.take("panel-line")
    assert slip_of(at).isVisible()
    assert at.table.view == seen


def test_pieces_that_come_to_lie_outside_the_view_are_brought_into_it() -> None:
    """A cup that is laid beside the bodice does not lie out of sight, where everything was in view."""
    at = AtTable(first_steps(0), tool="choose", size=(600, 420))
    before = at.table.view
    at.session.do("Cut the panels and make the cup", concert())
    left, bottom, right, top = at.table.scene.extent()
    assert before.to_pixels((right, bottom))[0] > at.table.width()
    assert all(at.table.rect().contains(at.pixel(corner)) for corner in ((left, bottom), (right, top)))


def test_the_click_that_enters_a_field_takes_up_its_text() -> None:
    """What is typed takes the place of what stood there; a second click only sets the caret."""
    at = AtTable(concert())
    slip = Slip(at.table, accept="Do it")
    field = slip.field()
    field.setText("0 in")
    slip.ask("How much?")
    QTest.mouseClick(field, Qt.MouseButton.LeftButton)
    assert field.selectedText() == "0 in"
    QTest.keyClicks(field, "3/8")
    assert field.text() == "3/8"
    QTest.mouseClick(field, Qt.MouseButton.LeftButton)
    assert field.selectedText() == ""


def test_no_button_of_a_slip_is_cut_off_on_a_narrow_table() -> None:
    """Where they find no room beside each other they stand under each other, whole (WCAG 2.2, 1.4.4)."""
    at = AtTable(concert(), tool="trim", size=(340, 700))
    seam = Slip(at.table, accept="Trim at the waist")
    for words in ("Cut the longer back", "Share it", "Add to the shorter"):
        seam.button(words, key="S")
    seam.ask("Click the end at which the longer side is cut back.")
    at.settle()
    for button in (found for found in seam.findChildren(QPushButton) if found.isVisible()):
        place = QRect(button.mapTo(seam, QPoint(0, 0)), button.size())
        assert seam.rect().contains(place), button.text()
        assert button.width() >= button.sizeHint().width(), button.text()
    assert at.table.rect().contains(seam.geometry())
    seam.take_away()


def test_on_a_small_table_a_slip_is_short_until_she_asks_for_the_rest() -> None:
    """At twice the text size half of the table stays free; the rest is a press away, none of it out of reach."""
    with text_size(2):
        at = AtTable(concert(), tool="cup", size=(480, 400))
        slip = slip_of(at)
        assert slip.height() <= at.table.height() / 2
        fields = slip.findChildren(SlipField)
        assert not any(field.isVisible() for field in fields)
        at.push("More")
        assert at.table.rect().contains(slip.geometry())
        (scroll,) = slip.findChildren(QScrollArea)
        for field in fields:
            scroll.ensureWidgetVisible(field)
            at.settle()
            assert slip.rect().contains(QRect(field.mapTo(slip, QPoint(0, 0)), field.size())), field.accessibleName()
        at.push("Less")
        assert slip.height() <= at.table.height() / 2


def test_a_slip_that_hides_little_is_shown_whole() -> None:
    """No button for more is there where there is room for all of it."""
    at = AtTable(concert(), tool="cup", size=(900, 700))
    slip = slip_of(at)
    assert all(field.isVisible() for field in slip.findChildren(SlipField))
    assert not any(button.text() in {"More", "Less"} for button in slip.findChildren(QPushButton) if button.isVisible())


def test_what_is_typed_and_put_away_still_counts() -> None:
    """A field that was typed in is pending, whether or not it is in sight."""
    with text_size(2):
        at = AtTable(concert(), tool="cup", size=(480, 400))
        slip = slip_of(at)
        at.push("More")
        field = next(field for field in slip.findChildren(SlipField) if field.accessibleName() == "Underlap")
        field.selectAll()
        QTest.keyClicks(field, "3/4")
        at.push("Less")
        assert slip.pending() == [field]


def test_a_field_is_pending_from_the_first_letter_until_it_is_meant() -> None:
    """What a tool writes into it is not typed; what is taken by the tool is typed no more."""
    at = AtTable(concert())
    slip = Slip(at.table, accept="Do it")
    field = slip.field()
    slip.ask("How much?")
    field.setText("0 in")
    assert slip.pending() == []
    QTest.keyClicks(field, "1")
    assert slip.pending() == [field]
    assert not slip.take_typed()
    field.meant.connect(field.setText)
    QTest.keyClicks(field, "2")
    assert slip.take_typed()
    assert slip.pending() == []
    slip.take_away()
