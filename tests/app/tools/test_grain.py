"""Turning the grain at the table."""

from __future__ import annotations

from math import cos, degrees, radians, sin

import pytest
from PySide6.QtCore import Qt

from app.canvas.slip import Slip, SlipField
from app.tools.editing import take_up
from app.tools.grain import GrainTool
from core.geometry.planar import inner_point
from core.geometry.polyline import Point, point_at
from core.pieces.straight_grain import edge_lie, grain_between_ends, turn_between
from core.steps.grain import TurnGrain
from core.units import show_angle
from tests.app.at_table import AtTable
from tests.demo_designs import concert


def picked(piece: str = "side front") -> AtTable:
    """The concert demo with the grain of one piece in hand."""
    at = AtTable(concert(), tool="grain")
    at.table.focus_handle(f"pick|piece|{piece}|")
    at.press_key(Qt.Key.Key_Return)
    return at


def middle(at: AtTable, piece: str, edge: str) -> Point:
    """The middle of an edge on the table."""
    points = at.piece(piece).edge(edge).points
    return at.on(piece, point_at(points, at.piece(piece).edge(edge).length / 2))


def turned(at: AtTable, piece: str = "side front") -> float:
    """How far the grain of a piece is turned from the demo's, in degrees."""
    return degrees(at.piece(piece).grain - AtTable(concert()).piece(piece).grain)


def test_every_edge_says_how_far_off_it_lies() -> None:
    """By name for the keyboard and assistive technology, in figures and a word."""
    at = picked()
    names = [handle.words for handle in at.table.shown_handles if handle.key.startswith("edge ")]
    assert len(names) == len([edge for edge in at.piece("side front").edges if edge.kind not in ("fold", "dart base")])
    assert all("degrees off" in name for name in names)


def test_a_click_on_an_edge_lays_it_along_the_grain() -> None:
    """Its two ends lie parallel to the selvedge, and the status line says how it lay before."""
    at = picked()
    at.click(middle(at, "side front", "side"))
    assert "parallel to the selvedge" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    piece = at.piece("side front")
    assert edge_lie(piece.edge("side"), piece.grain).ends == pytest.approx(0.0, abs=1e-6)
    assert at.session.history.undo_label == "Turn the grain of the side front"
    assert isinstance(at.session.design.steps[-1], TurnGrain)
    assert at.session.design.steps[-1].edge == "side"


def test_arrow_keys_turn_the_grain() -> None:
    """One degree a tap, ten with Shift; Enter keeps it as one act."""
    at = picked()
    at.table.focus_handle("grain")
    at.press_key(Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    at.press_key(Qt.Key.Key_Right)
    at.press_key(Qt.Key.Key_Return)
    assert turned(at) == pytest.approx(9.0)
    assert at.acts() == 1


def test_the_pin_is_dragged() -> None:
    """The grain points from the piece's middle to where the pin is let go."""
    at = picked()
    at.drag(at.handle("Grain").at, towards(at, 20.0))
    at.press_key(Qt.Key.Key_Return)
    assert turned(at) == pytest.approx(20.0, abs=1.0)


def test_an_angle_is_typed() -> None:
    """In degrees, to the left; letters are refused in a sentence."""
    at = picked()
    field = next(field for field in at.table.findChildren(SlipField) if field.accessibleName() == "Turn by")
    field.meant.emit("askew")
    assert "is not an angle" in at.said[-1]
    field.meant.emit("12 1/2")
    at.settle()
    at.press_key(Qt.Key.Key_Return)
    assert turned(at) == pytest.approx(12.5)


def test_a_piece_on_the_fold_is_not_laid_askew() -> None:
    """The slip says why, and nothing can be kept."""
    at = picked("centre front")
    at.table.focus_handle("grain")
    at.press_key(Qt.Key.Key_Left)
    assert "cut on the fold" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 0


def test_a_grain_that_is_not_turned_is_not_kept() -> None:
    """The slip says what can be done; Enter makes no step of nothing."""
    at = picked()
    at.table.focus_handle("grain")
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 0
    assert any("click an edge" in slip.accessibleName() for slip in at.table.findChildren(Slip))


def test_esc_leaves_the_grain_as_it_was() -> None:
    """First the piece is let go, then the tool."""
    at = picked()
    at.table.focus_handle("grain")
    at.press_key(Qt.Key.Key_Left)
    at.press_key(Qt.Key.Key_Escape)
    assert at.acts() == 0
    assert at.session.shown is at.session.replay


def step(at: AtTable) -> TurnGrain:
    """The last step of the design."""
    kept = at.session.design.steps[-1]
    assert isinstance(kept, TurnGrain)
    return kept


def towards(at: AtTable, off: float, far: float = 70.0, piece: str = "side front") -> Point:
    """A place on the table so many degrees to the left of a piece's grain, seen from its middle."""
    shape = at.piece(piece)
    x, y = inner_point(shape.loop)
    way = shape.grain + radians(off)
    return at.on(piece, (x + far * cos(way), y + far * sin(way)))


def test_a_dragged_grain_goes_to_the_bias_when_it_is_near() -> None:
    """Two degrees off half a right angle it lies on the bias exactly, and the status line calls it so."""
    at = picked()
    at.drag(at.handle("Grain").at, towards(at, 20.0), towards(at, 43.0))
    assert "Grain 45.0° to the left, bias" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    assert step(at).degrees == 45.0


def test_a_dragged_grain_goes_along_an_edge_when_it_is_near() -> None:
    """A degree off the line between the side's two ends it is laid along the side, and follows that from then on."""
    at = picked()
    lie = degrees(turn_between(at.piece("side front").grain, grain_between_ends(at.piece("side front").edge("side"))))
    assert 4.0 < abs(lie) < 40.0, "no named way is near"
    at.drag(at.handle("Grain").at, towards(at, lie + 8.0), towards(at, lie + 1.0))
    at.press_key(Qt.Key.Key_Return)
    assert step(at).edge == "side"


def test_a_click_on_the_cloth_points_the_grain_there() -> None:
    """Without a drag: the arrow goes from the piece's middle to the place, by half degrees."""
    at = picked()
    at.click(towards(at, 25.2, far=30.0))
    at.press_key(Qt.Key.Key_Return)
    assert step(at).degrees == pytest.approx(25.0, abs=2.0)


def test_letters_and_buttons_lay_it_straight_across_and_on_the_bias() -> None:
    """X across, B on the bias to the left and then to the right, S as it was, when there is nothing to keep."""
    at = picked()
    found = []
    for key in (Qt.Key.Key_X, Qt.Key.Key_B, Qt.Key.Key_B):
        at.press_key(key)
        tool = at.table.tool
        assert isinstance(tool, GrainTool)
        assert isinstance(tool.trial, TurnGrain)
        found.append(tool.trial.degrees)
    assert found == [-90.0, 45.0, -45.0]
    at.press_key(Qt.Key.Key_S)
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 0
    at.push("Cross grain")
    at.push("Turn the grain")
    assert abs(step(at).degrees) == 90.0


def test_a_grain_that_was_turned_is_turned_farther() -> None:
    """Taken up from the list it shows the grain as the step has it; dragged to the bias it stays one step."""
    at = picked()
    at.drag(at.handle("Grain").at, towards(at, 20.0))
    at.press_key(Qt.Key.Key_Return)
    first = step(at)
    assert take_up(at.table, first)
    at.settle()
    assert at.handle("Grain, turned").words == f"Grain, turned {show_angle(radians(first.degrees))}"
    at.press_key(Qt.Key.Key_B)
    at.press_key(Qt.Key.Key_Return)
    assert at.session.design.steps == (*concert().steps, TurnGrain(first.id, "side front", 45.0))
    assert at.session.history.undo_label == f"Edit step {len(concert().steps) + 1}"
