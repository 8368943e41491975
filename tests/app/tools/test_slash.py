"""Slashing and spreading, with the mouse and with keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from core.geometry.polyline import point_at
from core.steps.slash import SlashAndSpread
from tests.app.at_table import AtTable
from tests.demo_designs import concert

SHIFT = Qt.KeyboardModifier.ShiftModifier


def on_edge(at: AtTable, edge: str, share: float) -> tuple[float, float]:
    """A place on an edge of the side front, on the table."""
    line = at.piece("side front").edge(edge)
    return at.on("side front", point_at(line.points, share * line.length))


def slashed() -> AtTable:
    """The side front slashed from the waist, 0.6 along, to the sheer line; shown spread by 1/2 in."""
    at = AtTable(concert(), tool="slash")
    at.click(on_edge(at, "waist", 0.6))
    at.click(on_edge(at, "sheer_line", 0.5))
    return at


def waist(at: AtTable) -> float:
    """How long the side front's waist is, as it is shown."""
    return sum(e.length for e in at.session.shown.garment.piece("side front").edges if e.name.split(".")[0] == "waist")


def last(at: AtTable) -> SlashAndSpread:
    """The step that was made."""
    step = at.session.design.steps[-1]
    assert isinstance(step, SlashAndSpread)
    return step


def test_two_clicks_show_it_spread_and_the_slip_keeps_it() -> None:
    """The waist grows by the width, the sheer line, where it hinges, by nothing."""
    at = AtTable(concert(), tool="slash")
    before = waist(at), at.piece("side front").edge("sheer_line").length
    at = slashed()
    assert waist(at) == pytest.approx(before[0] + 12.7, abs=0.01)
    assert at.acts() == 0
    at.push("Spread")
    step = last(at)
    assert (step.piece, step.opens.edge, step.hinge.edge) == ("side front", "front.waist", "front.sheer_line")
    assert (step.width, step.parallel) == (12.7, False)
    sheer = [edge.length for edge in at.piece("side front").edges if edge.name.startswith("sheer_line")]
    assert sum(sheer) == pytest.approx(before[1], abs=0.01)
    assert at.session.history.undo_label == "Slash the side front"


def test_the_corner_follows_the_hand_and_falls_on_the_ruler() -> None:
    """Dragged 20 mm on from half an inch it opens that much more, in view at once, to a thirty-second of an inch."""
    at = slashed()
    start = waist(at)
    x, y = at.handle("Spread by").at
    at.press((x, y))
    QTest.mouseMove(at.table, at.pixel((x + 20.0, y + 5.0)))
    at.settle()
    assert waist(at) > start + 15.0
    at.release((x + 20.0, y + 5.0))
    at.press_key(Qt.Key.Key_Return)
    assert last(at).width == pytest.approx(33.0, abs=2.0)
    assert last(at).width * 32 / 25.4 == pytest.approx(round(last(at).width * 32 / 25.4))


def test_parallel_by_its_box_and_its_key() -> None:
    """Both ends open; the key turns it off again."""
    at = slashed()
    at.push("Parallel")
    shown = at.session.shown.garment.piece("side front")
    before = at.piece("side front").edge("sheer_line").length
    sheer = [edge.length for edge in shown.edges if edge.name.startswith("sheer_line")]
    assert sum(sheer) > before + 10.0
    at.press_key(Qt.Key.Key_A)
    at.press_key(Qt.Key.Key_A)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).parallel


def test_a_place_can_still_be_moved_along_its_edge() -> None:
    """The hinge's pin dragged along the sheer line stays on it."""
    at = slashed()
    hinge = at.handle("Hinge").at
    there = on_edge(at, "sheer_line", 0.2)
    at.drag(hinge, there)
    assert at.handle("Hinge").at == pytest.approx(there, abs=6.0)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).hinge.edge == "front.sheer_line"


def test_a_width_is_typed() -> None:
    """3/4 typed on the table goes into the field; Enter there shows it, Enter again keeps it."""
    at = slashed()
    at.press_key(Qt.Key.Key_3)
    field = next(field for field in at.table.findChildren(QLineEdit) if field.isVisible())
    QTest.keyClicks(field, "/4")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert at.acts() == 0
    at.press_key(Qt.Key.Key_Return)
    assert last(at).width == pytest.approx(19.05)


def test_less_than_nothing_folds_it_out() -> None:
    """-3/8 in typed: the waist loses what it would have gained, and the slip says that it is folded out."""
    at = slashed()
    before = at.piece("side front").edge("waist").length
    at.press_key(Qt.Key.Key_Minus)
    field = next(field for field in at.table.findChildren(QLineEdit) if field.isVisible())
    QTest.keyClicks(field, "3/8")
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).width == pytest.approx(-9.525)
    assert before - waist(at) == pytest.approx(9.5, abs=0.5)


def test_by_keys_alone() -> None:
    """Enter opens at the middle of an edge and hinges at the middle of another; arrows move and spread."""
    at = AtTable(concert(), tool="slash")
    at.table.focus_handle(at.handle("Open at the middle of the waist of side front").key)
    at.press_key(Qt.Key.Key_Return)
    where = at.handle("Where it opens").at
    at.press_key(Qt.Key.Key_Right, SHIFT)
    assert at.handle("Where it opens").at[0] == pytest.approx(where[0] + 10.0, abs=2.0)
    at.table.focus_handle(at.handle("Hinge at the middle of the sheer line of side front").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Right)
    at.press_key(Qt.Key.Key_Return)
    assert last(at).width == pytest.approx(13.7)


def test_a_slash_that_cannot_be_made_is_said_and_another_hinge_asked_for() -> None:
    """Along one edge there is nothing to spread."""
    at = AtTable(concert(), tool="slash")
    at.click(on_edge(at, "waist", 0.3))
    at.click(on_edge(at, "waist", 0.8))
    assert "lies along one edge of piece side front" in at.said[-1]
    assert at.session.shown is at.session.replay
    at.click(on_edge(at, "sheer_line", 0.5))
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 1


def test_esc_drops_the_drag_then_the_hinge_then_the_opening() -> None:
    """And at last the tool; nothing was changed."""
    at = slashed()
    width = waist(at)
    x, y = at.handle("Spread by").at
    at.press((x, y))
    QTest.mouseMove(at.table, at.pixel((x + 30.0, y)))
    at.settle()
    assert waist(at) > width + 10.0
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert waist(at) == pytest.approx(width, abs=1e-6)
    at.release((x + 30.0, y))
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    assert at.handle("Where it opens").kind == "point"
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert at.finished == 1
    assert at.acts() == 0
