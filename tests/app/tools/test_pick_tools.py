"""Tools that pick one piece, edge or dart: true, flatten, set back, move, copy, mirror, unfold."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.canvas.slip import SlipField
from app.tools.catalogue import tool_named
from app.tools.flatten import FlattenTool
from core.geometry.polyline import Point, nearest, point_at
from core.pieces.seams import match
from core.steps.copy_pieces import CopyPieces
from core.steps.flatten import Flatten
from core.steps.mirror import Mirror
from core.steps.move_edge import MoveEdge
from core.steps.set_back import SetBack
from core.steps.style_line import StyleLine
from core.steps.true import DartBase, Straighten, Truing
from core.steps.unfold import Unfold
from tests.app.at_table import AtTable, first_steps, inside
from tests.demo_designs import concert, ice_cut

SHIFT = Qt.KeyboardModifier.ShiftModifier


def edge_of(at: AtTable, piece: str, edge: str, share: float = 0.5) -> Point:
    """A place on an edge, on the table."""
    line = at.piece(piece).edge(edge)
    return at.on(piece, point_at(line.points, share * line.length))


def dart_of(at: AtTable, piece: str, dart: str) -> Point:
    """A place in a dart, on the table."""
    return at.on(piece, inside(at.piece(piece).dart(dart)))


def field_of(at: AtTable) -> QLineEdit:
    """The slip's field."""
    return next(field for field in at.table.findChildren(QLineEdit) if field.isVisible())


# --- true


def test_an_edge_is_straightened_by_its_button() -> None:
    """The sheer line of the side front becomes its chord; the slip says so, and keeps it."""
    at = AtTable(concert(), tool="true")
    at.click(edge_of(at, "side front", "sheer_line", 0.4))
    at.push("Straighten")
    shown = at.session.shown.garment.piece("side front").edge("sheer_line").points
    assert all(nearest(shown[[0, -1]], place)[1] < 1e-6 for place in shown)
    assert at.acts() == 0
    at.push("True")
    assert at.session.design.steps[-1] == Truing("true-1", "side front", Straighten(("sheer_line",)))
    assert at.session.history.undo_label == "True the sheer line of the side front"


def test_a_corner_far_off_square_is_refused_and_the_next_way_tried() -> None:
    """G goes from way to way; one that is refused cannot be kept."""
    at = AtTable(concert(), tool="true")
    at.click(edge_of(at, "side front", "sheer_line", 0.4))
    at.press_key(Qt.Key.Key_G)
    at.press_key(Qt.Key.Key_G)
    assert "off square" in at.said[-1]
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 0
    at.press_key(Qt.Key.Key_G)
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 1


def test_a_darts_base_is_trued_by_keys_pressed_to_the_side() -> None:
    """Enter picks the dart; G turns to the other side."""
    at = AtTable(first_steps(0), tool="true")
    at.table.focus_handle(at.handle("true waist dart of the front").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_G)
    at.press_key(Qt.Key.Key_Return)
    assert at.session.design.steps[-1] == Truing("true-1", "front", DartBase("front.waist_dart", pressed="side"))


# --- flatten


def test_the_mesh_yoke_is_laid_flat() -> None:
    """The armhole, which has no mate, is proposed first; a click elsewhere lets it out there; the dart is gone."""
    design = ice_cut()
    at = AtTable(design, tool="flatten")
    at.click(dart_of(at, "back yoke", "back.shoulder_dart"))
    assert not at.session.shown.garment.piece("back yoke").darts
    assert isinstance(at.table.tool, FlattenTool)
    assert isinstance(at.table.tool.trial, Flatten)
    assert at.table.tool.trial.place.edge == "back.armhole"
    at.click(edge_of(at, "back yoke", "sheer_line", 0.5))
    at.push("Flatten")
    step = at.session.design.steps[-1]
    assert isinstance(step, Flatten)
    cloth = next(fabric for fabric in design.fabrics if fabric.name == "sheer")
    assert (step.place.edge, step.stretch) == ("back.sheer_line", cloth.stretch_across / 100)


def test_a_dart_that_cannot_be_laid_flat_is_refused_with_the_way_out() -> None:
    """The whole front's waist dart is far too much for any cloth."""
    at = AtTable(first_steps(1), tool="flatten")
    at.click(dart_of(at, "front", "front.waist_dart"))
    assert "move the sheer line through the bust point" in at.said[-1]
    at.push("Flatten")
    at.press_key(Qt.Key.Key_G)
    at.press_key(Qt.Key.Key_Return)
    assert at.acts() == 0


@pytest.mark.parametrize("by_key", [True, False])
def test_the_sheer_line_is_moved_through_the_point_instead(by_key: bool) -> None:
    """One act: the line runs through the blade point, and the mesh holds no dart's end."""
    design = ice_cut()
    at = AtTable(design, tool="flatten")
    at.click(dart_of(at, "back yoke", "back.shoulder_dart"))
    if by_key:
        at.press_key(Qt.Key.Key_M)
    else:
        at.push("Move the sheer line through the point instead")
    assert at.acts() == 1
    assert at.session.replay.refused is None
    line = next(step for step in at.session.design.steps if step.id == "sheer-line-2")
    assert isinstance(line, StyleLine)
    assert [point.landmark for point in line.points] == ["", "shoulder_blade", ""]
    assert not any(dart.name == "back.shoulder_dart" for dart in at.piece("lower back").darts)
    at.session.undo()
    assert at.session.design is design


def test_a_dart_on_an_edge_of_the_block_has_no_line_to_move() -> None:
    """It is said, and nothing is changed."""
    at = AtTable(first_steps(1), tool="flatten")
    at.click(dart_of(at, "front", "front.waist_dart"))
    at.press_key(Qt.Key.Key_M)
    assert "was cut along no line that was drawn" in at.said[-1]
    assert at.acts() == 0


# --- set back, move edge


def test_a_click_sets_a_dart_back_by_what_is_usual() -> None:
    """1/2 in where a dart is alone at its pivot (from memory of a textbook)."""
    at = AtTable(first_steps(1), tool="set-back")
    at.click(dart_of(at, "front", "front.waist_dart"))
    at.press_key(Qt.Key.Key_Return)
    step = at.session.design.steps[-1]
    assert isinstance(step, SetBack)
    assert step.distance == pytest.approx(12.7)


def test_a_dart_is_set_back_by_arrows_and_by_typing() -> None:
    """Down is farther from the pivot of a waist dart; 3/4 typed is 3/4 in."""
    at = AtTable(first_steps(1), tool="set-back")
    at.table.focus_handle(at.handle("set back the point of waist dart of the front").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Down)
    assert at.handle("From its pivot 17/32 in").words
    at.press_key(Qt.Key.Key_3)
    QTest.keyClicks(field_of(at), "/4")
    QTest.keyClick(field_of(at), Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Return)
    assert at.session.design.steps[-1] == SetBack("set-back-1", "front", "front.waist_dart", 19.05)


def test_an_edge_is_dragged_out_in_one_movement() -> None:
    """Pressed and dragged 20 mm to the right, the side seam follows in view; the slip keeps it as one act."""
    at = AtTable(concert(), tool="move-edge")
    x, y = edge_of(at, "side front", "side")
    right = at.session.shown.garment.piece("side front").loop[:, 0].max()
    at.press((x, y))
    QTest.mouseMove(at.table, at.pixel((x + 20.0, y)))
    at.settle()
    assert at.session.shown.garment.piece("side front").loop[:, 0].max() > right + 10.0
    at.release((x + 20.0, y))
    at.push("Move")
    step = at.session.design.steps[-1]
    assert isinstance(step, MoveEdge)
    assert (step.piece, step.edge) == ("side front", "side")
    assert step.amount == pytest.approx(20.0, abs=1.5)


def test_an_edge_is_moved_inwards_by_keys_and_esc_drops_it() -> None:
    """Ten millimetres in, then nothing."""
    at = AtTable(concert(), tool="move-edge")
    at.table.focus_handle(at.handle("move side of the side front").key)
    at.press_key(Qt.Key.Key_Return)
    at.press_key(Qt.Key.Key_Left, SHIFT)
    assert at.session.shown is not at.session.replay
    at.press_key(Qt.Key.Key_Escape)
    assert at.session.shown is at.session.replay
    assert at.acts() == 0


def test_too_far_is_refused_and_cannot_be_kept() -> None:
    """Nothing is moved by a metre."""
    at = AtTable(concert(), tool="move-edge")
    at.click(edge_of(at, "side front", "side"))
    field = field_of(at)
    field.setText("1000 mm")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert "cannot be moved by 39 3/8 in" in at.said[-1]
    at.push("Move")
    assert at.acts() == 0


# --- copy, mirror, unfold


def test_a_copy_is_called_by_the_word_that_is_typed() -> None:
    """The cloth is that of the word where there is one of that name, else lining; Enter in the field copies."""
    at = AtTable(concert(), tool="copy")
    at.click(at.label_of("side front"))
    assert "lining side front" in at.session.shown.garment.pieces
    field = field_of(at)
    field.selectAll()
    QTest.keyClicks(field, "facing")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert at.session.design.steps[-1] == CopyPieces("copy-1", ("side front",), word="facing")
    assert "facing side front" in at.session.replay.garment.pieces


def test_an_underlining_of_all_pieces_of_a_cloth_is_copied_by_keys() -> None:
    """A takes all main pieces along; the cloth follows the word, and one that is not there is refused."""
    at = AtTable(concert(), tool="copy")
    at.click(at.label_of("side front"))
    word, cloth = at.table.findChildren(SlipField)
    word.selectAll()
    QTest.keyClicks(word, "underlining")
    assert cloth.text() == "organza"
    cloth.selectAll()
    QTest.keyClicks(cloth, "lace")
    assert "no fabric “lace”" in at.said[-1]
    cloth.selectAll()
    QTest.keyClicks(cloth, "lining")
    at.table.setFocus()
    QTest.keyClick(at.table, Qt.Key.Key_A)
    at.push("Copy")
    step = at.session.design.steps[-1]
    assert isinstance(step, CopyPieces)
    assert set(step.pieces) == {"centre front", "side front", "centre back", "side back"}
    assert (step.word, step.fabric) == ("underlining", "lining")
    assert "underlining.front.princess" in at.session.replay.garment.seams


def test_what_is_sewn_together_is_mirrored_together() -> None:
    """All five panels of the bodice; twice is as before (design law)."""
    at = AtTable(concert(), tool="mirror")
    before = at.piece("side front").loop
    at.click(at.label_of("side front"))
    at.push("Mirror")
    step = at.session.design.steps[-1]
    assert isinstance(step, Mirror)
    assert len(step.pieces) == 5
    assert at.piece("side front").loop[:, 0].max() == pytest.approx(-before[:, 0].min())


def test_unfolding_by_keys() -> None:
    """Both halves are in view before it is kept."""
    at = AtTable(concert(), tool="unfold")
    at.table.focus_handle(at.handle("unfold side front").key)
    at.press_key(Qt.Key.Key_Return)
    assert "right side front" in at.session.shown.garment.pieces
    at.press_key(Qt.Key.Key_Return)
    assert at.session.design.steps[-1] == Unfold("unfold-1", "side front")
    garment = at.session.replay.garment
    assert match(garment, garment.seam("right.side")).pieces == ("right side front", "right side back")


@pytest.mark.parametrize("tool", ["copy", "mirror", "unfold"])
def test_esc_lays_everything_back(tool: str) -> None:
    """The pieces lie as before, and nothing was changed."""
    at = AtTable(concert(), tool=tool)
    places = {item.name: item.place for item in at.table.scene.laid}
    at.click(at.label_of("side front"))
    QTest.keyClick(at.table, Qt.Key.Key_Escape)
    assert {item.name: item.place for item in at.table.scene.laid} == places
    assert at.session.shown is at.session.replay
    assert at.acts() == 0
    at.click(at.label_of("side front"))
    at.push("Leave it")
    assert {item.name: item.place for item in at.table.scene.laid} == places
    assert at.acts() == 0


@pytest.mark.parametrize("tool", ["true", "flatten", "set-back", "move-edge", "copy", "mirror", "unfold"])
def test_hovering_says_what_a_click_would_do(tool: str) -> None:
    """And where there is nothing, what is asked for."""
    at = AtTable(first_steps(1), tool=tool)
    at.hover((400.0, 900.0))
    asked = at.said[-1]
    assert asked.startswith("Click")
    place = edge_of(at, "front", "side") if tool in ("true", "move-edge") else dart_of(at, "back", "back.shoulder_dart")
    at.hover(at.label_of("front") if tool in ("copy", "mirror", "unfold") else place)
    assert at.said[-1] != asked
    assert at.said[-1].startswith("Click to ")
    at.table.grab()
    assert tool_named(tool).hint
