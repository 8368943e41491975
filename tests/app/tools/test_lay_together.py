"""Laying pieces together at a seam: turned and rolled by mouse and by keys, the design untouched."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from app.canvas.hits import piece_at
from core.geometry.placement import gap
from core.geometry.polyline import as_point, nearest, point_at
from tests.app.at_table import AtTable, first_steps
from tests.app.tools.lying_together import edge_of, middle_of, seam_ends, slip, together
from tests.demo_designs import concert

SHIFT = Qt.KeyboardModifier.ShiftModifier


def test_a_click_on_a_seam_lays_the_back_at_the_front() -> None:
    """The back's edge lies on the front's from the armhole on, running along it; nothing is there to undo."""
    at = AtTable(first_steps(2), tool="lay-together")
    design, shape = at.session.design, at.piece("back")
    at.click(middle_of(at, "front", "front.shoulder"))
    (front_start, front_stop), (back_start, back_stop) = (seam_ends(at, "shoulder", p) for p in ("front", "back"))
    assert gap(front_start, back_start) < 0.01
    # The back's shoulder is 6 mm longer, as its ease: both lie along one line but for what the drafts curve.
    assert gap(front_stop, back_stop) == pytest.approx(6.0, abs=0.5)
    assert slip(at) == "The back lies at the front along the shoulder, end on end at the armhole."
    assert "goes on for 1/4 in" in at.said[-1]
    assert at.session.design is design
    assert at.piece("back") is shape
    assert at.acts() == 0


def test_the_dart_in_the_seam_is_folded_with_it_and_opened_again() -> None:
    """The back's shoulder dart is sewn before that seam: folded while they lie together, then open as before."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    assert at.table.scene.folded("back") == ("back.shoulder_dart",)
    at.push("Lay apart")
    assert at.table.scene.folded("back") == ()
    assert at.table.scene.together == frozenset()


def test_the_other_end_and_the_other_piece_by_buttons() -> None:
    """They meet at the neck; then the front turns and the back lies as it did."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    at.push("Meet at the other end")
    assert gap(seam_ends(at, "shoulder", "front")[1], seam_ends(at, "shoulder", "back")[1]) < 0.01
    at.push("Turn the other piece")
    turned = {name: item.place.angle for name in ("front", "back") if (item := at.table.scene.piece(name)) is not None}
    assert turned["back"] == 0.0
    assert abs(turned["front"]) > 1.0
    assert gap(seam_ends(at, "shoulder", "front")[1], seam_ends(at, "shoulder", "back")[1]) < 0.01


def test_by_keys_alone() -> None:
    """Enter on the seam's handle lays them; arrows roll, E changes the end, Delete lays apart."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.table.focus_handle("seam shoulder")
    at.press_key(Qt.Key.Key_Return)
    assert at.table.scene.together == {"front", "back"}
    at.press_key(Qt.Key.Key_Right, SHIFT)
    assert "13/32 in from the armhole" in slip(at)
    at.press_key(Qt.Key.Key_E)
    assert "end on end at the neck" in slip(at)
    at.press_key(Qt.Key.Key_Home)
    assert "end on end at the armhole" in slip(at)
    at.press_key(Qt.Key.Key_Delete)
    assert at.table.scene.together == frozenset()
    assert at.finished == 1


def test_esc_lays_them_as_they_lay_before() -> None:
    """Esc drops what was laid and asks for another seam; a second Esc leaves the tool."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    at.press_key(Qt.Key.Key_Escape)
    assert at.table.scene.together == frozenset()
    assert at.said[-1] == "Click the seam at which two pieces are to lie together."
    assert at.finished == 0


def test_a_drag_along_the_seam_rolls_the_piece() -> None:
    """Dragged to the front's mid shoulder both edges touch there; near an end they meet at the end."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    edge = edge_of(at, "front", "front.shoulder")
    start, middle = at.handle("Where the back touches").at, middle_of(at, "front", "front.shoulder")
    at.drag(start, at.on("front", point_at(edge.points, edge.length * 0.3)), middle)
    pixel = 2.0 / at.table.view.scale
    assert gap(at.handle("Where the back touches").at, middle) < pixel
    back = at.table.scene.piece("back")
    assert back is not None
    near = min(nearest(back.on_table(edge.points), middle)[1] for edge in back.shown.edges)
    assert near < pixel
    neck = at.on("front", as_point(edge.points[-1]))
    at.drag(middle, neck)
    assert "end on end at the neck" in slip(at)


def test_laying_apart_is_exact() -> None:
    """Laid together, rolled and laid apart both lie to the last digit where they lay."""
    at = AtTable(first_steps(2), tool="lay-together")
    before = {item.name: item.place for item in at.table.scene.laid}
    at.click(middle_of(at, "front", "front.shoulder"))
    at.press_key(Qt.Key.Key_Right, SHIFT)
    at.push("Lay apart")
    assert {item.name: item.place for item in at.table.scene.laid} == before


def test_what_lies_together_is_dragged_together() -> None:
    """Dragged by the back, both go along and the seam stays shut."""
    at = together()
    before = seam_ends(at, "shoulder", "front")[1]
    x, y = at.label_of("back")
    at.drag((x, y), (x + 20, y - 10), (x + 40, y - 20))
    after = seam_ends(at, "shoulder", "front")[1]
    pixel = 1.5 / at.table.view.scale
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((40.0, -20.0), abs=pixel)
    assert gap(after, seam_ends(at, "shoulder", "back")[1]) < 0.01


def test_a_third_piece_joins_and_two_seams_hold_three() -> None:
    """Side front at centre front, then side back at side front: all three hold, and the first pair is as it was."""
    at = AtTable(concert(), tool="lay-together")
    at.table.focus_handle("seam front.princess")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    at.take("lay-together")
    at.table.focus_handle("seam side")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    assert at.table.scene.together == {"centre front", "side front", "side back"}
    for seam, pieces in (("front.princess", ("side front", "centre front")), ("side", ("side front", "side back"))):
        assert gap(*(seam_ends(at, seam, piece)[0] for piece in pieces)) < 0.01


def test_the_pieces_follow_the_design() -> None:
    """Undone to where the seam has other pieces they lie together by those; done again, as before."""
    at = AtTable(concert(), tool="lay-together")
    at.table.focus_handle("seam front.princess")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    whole = at.session.design
    at.session.do("Back to the block", first_steps(0))
    assert at.table.scene.together == frozenset()
    at.session.do("On again", whole)
    assert at.table.scene.together == {"centre front", "side front"}


# --- the turn in all that is done at the table


def test_a_turned_piece_is_hit_where_it_is_seen() -> None:
    """Its label, its landmarks and its edges are found where the turn lays them, and snapped to by name."""
    at = together()
    found = piece_at(at.table.scene.laid, at.label_of("back"))
    assert found is not None
    assert found.name == "back"
    at.take("tape")
    blade = at.on("back", at.piece("back").landmarks["shoulder_blade"])
    at.hover(blade)
    assert at.said[-1].startswith("Shoulder blade")


def test_arrow_keys_go_the_way_they_point_on_a_turned_piece() -> None:
    """A mark on the turned back: the right arrow moves its point 1 mm to the right as it is seen."""
    at = AtTable(first_steps(2), tool="mark")
    for place in ((-120.0, 200.0), (-90.0, 220.0)):
        at.click(at.on("back", place), Qt.KeyboardModifier.AltModifier)
    at.press_key(Qt.Key.Key_Return)
    at.take("lay-together")
    at.table.focus_handle("seam side")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    item = at.table.scene.piece("back")
    assert item is not None
    assert item.place.angle != 0.0
    step = at.session.design.steps[-1]
    at.table.focus_handle(f"step {step.id}")
    at.press_key(Qt.Key.Key_Return)
    before = at.handle("Point 1").at
    at.press_key(Qt.Key.Key_Right)
    after = at.handle("Point 1").at
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((1.0, 0.0), abs=1e-6)


def test_a_seam_that_would_close_a_ring_says_which_pieces_part() -> None:
    """Three seams hold four panels; a fourth lays two together and parts two others, by name."""
    at = AtTable(concert())
    for seam in ("front.princess", "side", "shoulder", "front.sheer_line"):
        at.take("lay-together")
        at.table.focus_handle(f"seam {seam}")
        at.press_key(Qt.Key.Key_Return)
    assert "No piece lies at two others: along the " in at.said[-1]
    assert len(at.table.scene.together) == 4
