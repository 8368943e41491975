"""The slip at the table's foot, and what the table does so that it hides no piece."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.canvas.slip import Slip
from tests.app.at_table import AtTable, first_steps
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
    slip = Slip(at.table, at.table.theme, accept="Do it")
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
    seam = Slip(at.table, at.table.theme, accept="Trim at the waist")
    for words in ("Cut the longer back", "Share it", "Add to the shorter"):
        seam.button(words, key="S")
    seam.ask("Click the end at which the longer side is cut back.")
    at.settle()
    for button in seam.findChildren(QPushButton):
        place = QRect(button.mapTo(seam, QPoint(0, 0)), button.size())
        assert seam.rect().contains(place), button.text()
        assert button.width() >= button.sizeHint().width(), button.text()
    assert at.table.rect().contains(seam.geometry())
    seam.take_away()


def test_a_field_is_pending_from_the_first_letter_until_it_is_meant() -> None:
    """What a tool writes into it is not typed; what is taken by the tool is typed no more."""
    at = AtTable(concert())
    slip = Slip(at.table, at.table.theme, accept="Do it")
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
