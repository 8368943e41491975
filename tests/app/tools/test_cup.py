"""The cup at the table."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from app.canvas.slip import Slip, SlipField
from core.checks.cup_over_opening import cup_checks
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.records import Piece
from core.steps.cup import Cup
from core.units import show_length
from tests.app.at_table import AtTable, first_steps
from tests.demo_designs import concert


def begun() -> AtTable:
    """The concert bodice before its cup, the cup in hand."""
    return AtTable(first_steps(7), tool="cup")


def cups(at: AtTable) -> list[Piece]:
    """The cup's pieces in view."""
    return [piece for piece in at.session.shown.garment.pieces.values() if piece.block == "cup"]


def cup(at: AtTable) -> Cup:
    """The cup of the committed design."""
    return next(step for step in at.session.design.steps if isinstance(step, Cup))


def type_into(at: AtTable, words: str, text: str) -> None:
    """Type into a field of the slip, and mean it."""
    field = next(field for field in at.table.findChildren(SlipField) if field.accessibleName() == words)
    field.setFocus()
    field.setText(text)
    field.meant.emit(text)
    at.settle()


def test_the_cup_is_shown_first_and_made_when_asked_for() -> None:
    """Two pieces with numbers of their own, in view at once; nothing is done until the button is pushed."""
    at = begun()
    assert len(cups(at)) == 2
    assert at.acts() == 0
    at.push("Make the cup")
    assert len({piece.number for piece in at.session.replay.garment.pieces.values()}) == 7
    assert at.session.history.undo_label == "Make the cup"
    for piece in cups(at):
        assert at.table.rect().contains(at.pixel(at.label_of(piece.name)))


def test_leaving_the_cup_leaves_none() -> None:
    """The slip goes with its tool."""
    at = begun()
    at.push("Leave it")
    assert not cups(at)
    assert at.acts() == 0


def test_the_cup_there_is_is_taken_up_again() -> None:
    """Its step is altered in its place; no second cup is made."""
    at = AtTable(concert(), tool="cup")
    at.push("Lining")
    at.push("Keep the cup")
    assert cup(at).lining
    assert sum(isinstance(step, Cup) for step in at.session.design.steps) == 1
    assert at.session.history.undo_label == "Alter the cup"


def test_three_pieces_lining_and_foam() -> None:
    """By the boxes and by their keys; nine pieces, each with a number of its own."""
    at = begun()
    at.push("Three pieces")
    at.press_key(Qt.Key.Key_L)
    at.press_key(Qt.Key.Key_F)
    assert len(cups(at)) == 9
    at.press_key(Qt.Key.Key_Return)
    assert (cup(at).parts, cup(at).lining, cup(at).foam) == (3, True, True)
    numbers = [piece.number for piece in at.session.replay.garment.pieces.values()]
    assert len(set(numbers)) == len(numbers)
    assert at.finished == 1


def bust_point(at: AtTable) -> Point:
    """The bust point on the table, of the front gathered under the cup."""
    place = at.session.replay.block.piece("front").landmarks["bust_point"]
    return at.on("centre front", place)


@pytest.mark.parametrize(("words", "field"), [("Outer", "outer"), ("Inner", "inner")])
def test_a_reach_is_dragged(words: str, field: str) -> None:
    """The handle follows the pointer; the reach is what lies between it and the bust point, to a ruler's mark."""
    at = begun()
    handle, centre = at.handle(f"{words} of the cup"), bust_point(at)
    share = 0.9
    target = (centre[0] + share * (handle.at[0] - centre[0]), centre[1] + share * (handle.at[1] - centre[1]))
    at.drag(handle.at, target)
    at.press_key(Qt.Key.Key_Return)
    assert getattr(cup(at), field) == pytest.approx(gap(target, centre), abs=1.5)


def test_the_top_is_dragged_and_said_from_the_side_neck_point() -> None:
    """12 mm down: the level that is kept lies 12 mm farther from the side neck point than the rim did."""
    at = begun()
    handle = at.handle("Top of the cup")
    block = at.session.replay.block.piece("front")
    level = gap(block.landmarks["side_neck"], block.landmarks["bust_point"])
    before = level - gap(handle.shown, block.landmarks["bust_point"])
    at.drag(handle.at, (handle.at[0], handle.at[1] - 12.0))
    at.press_key(Qt.Key.Key_Return)
    assert cup(at).top == pytest.approx(before + 12.0, abs=1.5)


def test_arrow_keys_move_a_reach_and_delete_gives_it_back() -> None:
    """10 mm a tap with Shift; Delete leaves the bust circle to decide again."""
    at = begun()
    at.table.focus_handle("outer")
    far = gap(at.handle("Outer").at, bust_point(at))
    at.press_key(Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert gap(at.handle("Outer").at, bust_point(at)) == pytest.approx(far + 10.0, abs=0.5)
    at.press_key(Qt.Key.Key_Delete)
    assert gap(at.handle("Outer").at, bust_point(at)) == pytest.approx(far, abs=0.01)


def test_levels_are_typed_as_usual() -> None:
    """Top at 7 in and bottom at 12 in below the shoulder, 1/2 in more for turning (common practice, no source)."""
    at = begun()
    type_into(at, "Top", "7")
    type_into(at, "Bottom", "12")
    at.press_key(Qt.Key.Key_Return)
    assert [cup(at).top, cup(at).bottom, cup(at).turning] == pytest.approx([177.8, 304.8, 12.7])


def test_a_cup_that_falls_short_says_where_and_by_how_much() -> None:
    """An outer reach of 2 1/2 in leaves bare what the sheer bares above towards the side."""
    at = begun()
    type_into(at, "Outer", "2 1/2")
    words = next(slip.accessibleName() for slip in at.table.findChildren(Slip))
    assert words.startswith("≠ wrong: The cup falls short by ")
    assert "above towards the side" in words


def test_what_makes_no_cup_is_said_and_cannot_be_kept() -> None:
    """A top under the bust point leaves the last good cup in view; the sentence says what would do."""
    at = begun()
    type_into(at, "Top", "20")
    assert "keep the top above it" in at.said[-1]
    at.press_key(Qt.Key.Key_Escape)
    assert at.acts() == 0


def test_letters_in_a_field_are_refused_in_a_sentence() -> None:
    """Nothing is guessed."""
    at = begun()
    type_into(at, "Underlap", "much")
    assert "much" in at.said[-1]


def test_fitting_to_the_opening_makes_both_equal() -> None:
    """With seams rounded far out the match line is too long; tightened above, it agrees within 0.1 mm."""
    at = AtTable(first_steps(7).with_step(Cup("cup-1", (6, 7), rounding=120.0)), tool="cup")
    assert cup_checks(at.session.replay)[0].difference > 1.0
    at.press_key(Qt.Key.Key_G)
    at.press_key(Qt.Key.Key_Return)
    assert cup_checks(at.session.replay)[0].difference == pytest.approx(0.0, abs=0.1)
    assert cup(at).tighten_above > 0.0


def test_esc_drops_a_drag_and_keeps_the_cup_in_hand() -> None:
    """The rim is as it was before the press."""
    at = begun()
    before = at.handle("Outer").at
    at.press(before)
    at.hover((before[0] + 20.0, before[1]))
    at.press_key(Qt.Key.Key_Escape)
    at.release(before)
    assert gap(at.handle("Outer").at, before) == pytest.approx(0.0, abs=0.01)


def test_fields_show_lengths_in_the_unit_of_the_design() -> None:
    """1/2 in of underlap in inches; every field has a name that is seen."""
    at = begun()
    fields = {field.accessibleName(): field for field in at.table.findChildren(SlipField)}
    assert list(fields) == ["Top", "Bottom", "Inner", "Outer", "Underlap", "Turning", "Tighten above", "Tighten below"]
    assert fields["Underlap"].text() == show_length(12.7, "in")
    assert all(field.label.text() == name for name, field in fields.items())


def test_the_close_view_ends_with_the_tool() -> None:
    """The cup is brought near while it is worked at; laid down, everything is in view as before."""
    at = AtTable(concert())
    before = at.table.view
    at.take("cup")
    assert at.table.view.zoom > 1.5 * before.zoom
    at.push("Leave it")
    assert at.table.view == before


def test_a_view_that_was_chosen_while_the_cup_was_worked_at_stays() -> None:
    """Whoever has zoomed meanwhile is not taken elsewhere."""
    at = AtTable(concert(), tool="cup")
    at.table.zoom_by(1.3)
    chosen = at.table.view
    at.take("choose")
    assert at.table.view == chosen
