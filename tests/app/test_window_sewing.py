"""Fabrics, finishes of edges, turned pieces and copies, by the window's own menus, buttons and keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QCheckBox, QComboBox, QDialog, QLabel, QLineEdit, QPushButton

from core.fabrics.catalogue import named
from core.steps.copy_pieces import CopyPieces
from core.steps.move_edge import MoveEdge
from tests.app.at_window import LEFT, dialog, found, opened, press

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow


def with_piece(qtbot: QtBot, piece: str) -> MainWindow:
    """The window with the demo, a piece selected."""
    window = opened(qtbot, demo=True)
    window.table.select(piece)
    return window


def said(box: QDialog) -> str:
    """The sentence of a dialog."""
    return found(QLabel, "What to do", box).text()


def write(box: QDialog, name: str, text: str) -> None:
    """Type into a field from the keyboard."""
    field = found(QLineEdit, name, box)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def pick(box: QDialog, name: str, words: str) -> None:
    """Choose a row by its words."""
    choice = found(QComboBox, name, box)
    choice.setCurrentIndex(choice.findText(words))
    assert choice.currentText() == words


def test_an_edge_is_finished_from_the_panel(qtbot: QtBot) -> None:
    """A zip at the centre back by mouse and keys: 3/4 in outside it, one act, which undo takes back."""
    window = with_piece(qtbot, "centre back")
    press("Finish an edge…", window.piece)
    box = dialog(qtbot, "Finish an edge")
    choice = found(QComboBox, "Edge", box)
    choice.setCurrentIndex(choice.findData("centre_back"))
    pick(box, "Finish", "zip")
    QTest.keyClick(found(QLineEdit, "Allowance", box), Qt.Key.Key_Return)
    assert "Done: centre back, zip, 3/4 in outside it." in said(box)
    (finish,) = window.session.design.finishing.edges
    assert (finish.piece, finish.edge, finish.use) == ("centre back", "back.centre_back", "zip")
    QTest.keyClick(box, Qt.Key.Key_Escape)
    window.desk.undo()
    assert window.session.design.finishing.edges == ()


def test_a_stretch_of_an_edge_and_a_bone_are_set_and_taken_back(qtbot: QtBot) -> None:
    """An inch from 2 to 5 in from the waist; a bone along the side; "As usual" takes both away."""
    window = with_piece(qtbot, "side front")
    window.bars.actions["finish-edge"].trigger()
    box = dialog(qtbot, "Finish an edge")
    choice = found(QComboBox, "Edge", box)
    choice.setCurrentIndex(choice.findData("side"))
    found(QCheckBox, "A bone along it", box).click()
    press("Apply", box)
    for name, text in (("Allowance", "1"), ("Only from", "2"), ("to", "5")):
        write(box, name, text)
    press("Apply", box)
    finishing = window.session.design.finishing
    assert [bone.edge for bone in finishing.bones] == ["front.side"]
    (stretch,) = (finish for finish in finishing.edges if finish.is_stretch)
    assert stretch.allowance == pytest.approx(25.4)
    press("As usual", box)
    assert window.session.design.finishing.edges == ()
    assert window.session.design.finishing.bones == ()
    box.reject()


@pytest.mark.parametrize(
    ("texts", "why"),
    [
        ({"Allowance": "-3"}, "cannot have -3 in outside it; give from 0 to"),
        ({"Allowance": "wide"}, "is not a length"),
        ({"Allowance": "1", "Only from": "5", "to": "2"}, "no stretch of the side of piece side front from 5 in to 2"),
        ({"Only from": "5"}, "Give the allowance of the stretch"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_done(qtbot: QtBot, texts: dict[str, str], why: str) -> None:
    """The dialog stays with the text; the design is as it was."""
    window = with_piece(qtbot, "side front")
    window.piece.finish_requested.emit("side front", "side")
    box = dialog(qtbot, "Finish an edge")
    before = window.session.design
    for name, text in texts.items():
        write(box, name, text)
    press("Apply", box)
    assert why in said(box)
    assert window.session.design is before
    box.reject()


def test_a_yoke_is_cut_double_and_single_again(qtbot: QtBot) -> None:
    """Through the shoulder; a gap of 1 in is refused. What is proposed is in the unit she works in."""
    window = with_piece(qtbot, "front yoke")
    press("Cut double…", window.piece)
    box = dialog(qtbot, "Cut double and turn")
    proposed = [found(QLineEdit, name, box).text() for name in ("Turning gap", "Allowance round it", "Trimmed to")]
    assert proposed == ["2 1/2 in", "1/4 in", "1/8 in"]
    write(box, "Turning gap", "1 in")
    press("Cut double", box)
    assert "too short for a hand" in said(box)
    write(box, "Turning gap", "2 3/4 in")
    press("Cut double", box)
    (doubled,) = window.session.design.finishing.doubled
    assert doubled.through == "front.shoulder"
    assert doubled.gap == pytest.approx(69.85)
    assert "turning gap of 2 3/4 in in the shoulder" in said(box)
    press("Cut single", box)
    assert window.session.design.finishing.doubled == ()
    box.reject()


def test_a_measured_stretch_goes_into_the_table(qtbot: QtBot) -> None:
    """10 in that reach 14 in: 40 % across (trade.md D6)."""
    window = with_piece(qtbot, "front yoke")
    press("Fabrics…", window.piece)
    box = dialog(qtbot, "Fabrics")
    assert found(QComboBox, "Fabric", box).currentData() == "sheer"
    press("Measure the stretch…", box)
    asked = dialog(qtbot, "Measure the stretch")
    write(asked, "Stretched length", "14 in")
    assert "It stretches by 40 %" in said(asked)
    press("Take it", asked)
    assert named(window.session.design.fabrics, "sheer").stretch_across == 40.0
    box.reject()


def test_a_fabric_is_added_named_and_removed(qtbot: QtBot) -> None:
    """A second main; the first cannot go, as pieces are cut from it."""
    window = with_piece(qtbot, "side front")
    press("Fabrics…", window.piece)
    box = dialog(qtbot, "Fabrics")
    count = len(window.session.design.fabrics)
    press("Remove", box)
    assert "Pieces are cut from main" in said(box)
    press("Add another", box)
    write(box, "Name", "ivory satin")
    write(box, "Price of a metre", "38.50")
    QTest.mouseClick(found(QPushButton, "Apply", box), LEFT)
    new = named(window.session.design.fabrics, "ivory satin")
    assert (new.cloth, new.price) == ("duchess satin", 38.5)
    write(box, "Stretch across, %", "301")
    press("Apply", box)
    assert "cannot be 301 %" in said(box)
    window.session.undo()
    window.session.undo()
    assert len(window.session.design.fabrics) == count
    box.reject()


def test_a_lining_follows_its_piece_in_the_same_act(qtbot: QtBot) -> None:
    """The waist of the side front is moved after it was lined: one act has both, and one undo takes both back."""
    window = with_piece(qtbot, "side front")
    session = window.session
    session.do("Copy", session.design.with_step(CopyPieces("copy-1", ("side front",))))
    lined = session.design
    session.do("Move", session.design.with_step(MoveEdge("move-edge-1", "side front", "waist", 10.0)))
    side, lining = (session.replay.garment.piece(name).edge("side") for name in ("side front", "lining side front"))
    assert lining.length == pytest.approx(side.length)
    assert session.design.steps[-1].id == "copy-1"
    window.desk.undo()
    assert session.design is lined


def test_a_copy_is_made_afresh_where_a_file_has_it_behind(qtbot: QtBot) -> None:
    """A design whose lining is as its piece was when it was copied; made afresh it follows, and stands last."""
    window = with_piece(qtbot, "side front")
    session = window.session
    copied = session.design.with_step(CopyPieces("copy-1", ("side front",)))
    session.begin(copied.with_step(MoveEdge("move-edge-1", "side front", "waist", 10.0)))
    copy = session.replay.garment.piece("lining side front")
    assert copy.edge("side").length != pytest.approx(session.replay.garment.piece("side front").edge("side").length)
    window.table.select("lining side front")
    window.bars.actions["copy-again"].trigger()
    garment = session.replay.garment
    side = garment.piece("side front").edge("side").length
    assert garment.piece("lining side front").edge("side").length == pytest.approx(side)
    assert session.design.steps[-1].id == "copy-1"


def test_a_free_edge_of_mesh_is_cut_smaller_as_one_act(qtbot: QtBot) -> None:
    """The yoke's neck by the mesh's usual 2 %; 40 % is refused; undo takes all folds back."""
    window = with_piece(qtbot, "front yoke")
    before = window.session.design
    neck = window.session.replay.garment.piece("front yoke").edge("neck").length
    window.bars.actions["reduce-edge"].trigger()
    box = dialog(qtbot, "Cut smaller for stretch")
    choice = found(QComboBox, "Edge", box)
    choice.setCurrentIndex(choice.findData("neck"))
    assert found(QLineEdit, "Smaller by, %", box).text() == "2"
    write(box, "Smaller by, %", "40")
    press("Apply", box)
    assert "at most 25%" in said(box)
    write(box, "Smaller by, %", "2")
    press("Apply", box)
    edges = window.session.replay.garment.piece("front yoke").edges
    smaller = sum(edge.length for edge in edges if edge.origin.edge == "front.neck")
    assert smaller == pytest.approx(0.98 * neck, rel=0.003)
    window.desk.undo()
    assert window.session.design is before


def test_corners_and_stay_are_chosen_in_the_menu(qtbot: QtBot) -> None:
    """Squared corners for all, and a waist stay; both show as chosen and are undone."""
    window = with_piece(qtbot, "side front")
    window.bars.actions["corners-squared"].trigger()
    window.bars.actions["waist-stay"].trigger()
    finishing = window.session.design.finishing
    assert (finishing.corners, finishing.waist_stay) == ("squared", True)
    assert window.bars.actions["corners-squared"].isChecked()
    window.desk.undo()
    window.desk.undo()
    assert window.session.design.finishing.corners == "mitred"


def test_the_panel_of_a_piece_offers_what_the_menu_has(qtbot: QtBot) -> None:
    """Stretch, copies, corners and the stay stand behind one button, and the table is as wide as without a piece."""
    window = with_piece(qtbot, "side front")
    wide = window.table.width()
    menu = found(QPushButton, "More", window.piece).menu()
    texts = [action.text().replace("&", "") for action in menu.actions()]
    assert texts == ["Cut smaller for stretch…", "Copy afresh", "Mitred corners", "Squared corners", "Waist stay"]
    assert not menu.actions()[1].isEnabled()
    menu.actions()[4].trigger()
    assert window.session.design.finishing.waist_stay
    window.table.select("")
    QTest.qWait(20)
    assert window.table.width() == wide
