from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from app.panels.piece import COLUMNS, PiecePanel
from app.panels.piece_words import show_area, with_fabric
from app.session import Session
from app.theme import LIGHT
from core.errors import Refusal
from tests.app.panels.sample_sessions import block_session, demo_session, panels_session
from tests.app.panels.test_seams import with_line_moved


def panel_on(qtbot: QtBot, session: Session) -> PiecePanel:
    """The panel in a window of its own, shown."""
    panel = PiecePanel(session, LIGHT)
    qtbot.addWidget(panel)
    panel.resize(340, 460)
    panel.show()
    return panel


def fabric_box(panel: PiecePanel) -> QComboBox:
    """The choice of fabric."""
    return next(box for box in panel.findChildren(QComboBox) if box.accessibleName() == "fabric")


def edge_rows(panel: PiecePanel) -> dict[str, tuple[str, str, str]]:
    """Kind or finish, length and allowance of every listed edge, by name."""
    rows = []
    for row in range(panel.edges.rowCount()):
        items = [panel.edges.item(row, column) for column in range(len(COLUMNS))]
        rows.append([item.text() for item in items if item is not None])
    return {name: (kind, length, outside) for name, kind, length, outside in rows}


def test_without_a_piece_it_says_what_to_do(qtbot: QtBot) -> None:
    """An empty panel is a sentence, not a blank."""
    panel = panel_on(qtbot, demo_session())
    assert panel.nothing.isVisible()
    assert "Click a piece" in panel.nothing.text()
    assert not panel.body.isVisible()


def test_a_piece_is_shown_with_number_fabric_edges_and_area(qtbot: QtBot) -> None:
    """The demo's centre front: number 2, of main, cut on the fold, five edges with their lengths."""
    panel = panel_on(qtbot, demo_session())
    panel.show_piece("centre front")
    assert panel.title.text() == "2  centre front"
    assert fabric_box(panel).currentData() == "main"
    assert "on the fold" in panel.facts.text()
    assert " sq in" in panel.facts.text()
    rows = edge_rows(panel)
    assert rows["centre front"][0] == "fold"
    assert all(length.endswith(" in") for _, length, _ in rows.values())
    assert rows["waist"][2] == "1/2 in"
    assert rows["centre front"][2] == "fold"


def test_open_darts_are_said_with_angle_and_width(qtbot: QtBot) -> None:
    """A block names its darts; their bases are no edges to sew and are left out."""
    session = block_session()
    panel = panel_on(qtbot, session)
    panel.show_piece("front")
    for name in ("shoulder dart", "waist dart"):
        assert f"{name}: " in panel.darts.text()
    assert panel.darts.text().count("degrees") == 2
    assert not any(kind == "dart base" for kind, _, _ in edge_rows(panel).values())


def test_choosing_a_fabric_writes_it_on_the_tag_in_the_cut(qtbot: QtBot) -> None:
    """Another fabric for a panel is one act, and undo gives the old one back."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    panel.show_piece("front yoke")
    box = fabric_box(panel)
    assert box.currentData() == "sheer"
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Up)
    assert session.replay.garment.piece("front yoke").fabric == "main"
    assert session.history.undo_label == "Front yoke of main"
    session.undo()
    assert box.currentData() == "sheer"


@pytest.mark.parametrize(("session", "piece"), [(block_session, "front"), (demo_session, "inner cup")])
def test_a_piece_that_no_cut_names_gets_its_fabric_by_a_step(
    qtbot: QtBot, session: Callable[[], Session], piece: str
) -> None:
    """One act for a block or a cup; another choice alters that step, and undo takes it back."""
    now = session()
    panel = panel_on(qtbot, now)
    panel.show_piece(piece)
    before = len(now.design.steps)
    box = fabric_box(panel)
    box.setFocus()
    for _ in range(2):
        QTest.keyClick(box, Qt.Key.Key_Down)
    assert len(now.design.steps) == before + 1
    assert now.replay.garment.piece(piece).fabric == box.currentData()
    with pytest.raises(Refusal, match="no fabric “lace”"):
        with_fabric(now.design, piece, "lace")
    now.undo()
    now.undo()
    assert len(now.design.steps) == before


def test_darts_are_pressed_to_the_side(qtbot: QtBot) -> None:
    """One act for all darts of the piece, by the arrow key."""
    session = block_session()
    panel = panel_on(qtbot, session)
    panel.show_piece("front")
    box = next(box for box in panel.findChildren(QComboBox) if box.accessibleName() == "darts pressed")
    assert box.currentData() == "centre"
    box.setFocus()
    QTest.keyClick(box, Qt.Key.Key_Down)
    darts = {one.dart: one.towards for one in session.design.finishing.darts}
    assert darts == dict.fromkeys((dart.name for dart in session.replay.garment.piece("front").darts), "side")
    session.undo()
    assert session.design.finishing.darts == ()


def test_enter_on_an_edge_asks_for_its_finish(qtbot: QtBot) -> None:
    """The panel names piece and edge to whoever opens the dialog."""
    panel = panel_on(qtbot, demo_session())
    panel.show_piece("side front")
    panel.edges.setFocus()
    panel.edges.setCurrentCell(1, 0)
    with qtbot.waitSignal(panel.finish_requested) as asked:
        QTest.keyClick(panel.edges, Qt.Key.Key_Return)
    assert asked.args == ["side front", "side"]


def test_the_shown_piece_follows_a_preview(qtbot: QtBot) -> None:
    """While the line is dragged the yoke's edges change with it, and come back when the drag is dropped."""
    session = panels_session()
    panel = panel_on(qtbot, session)
    panel.show_piece("yoke")
    before = edge_rows(panel)
    session.preview(with_line_moved(session.design, 20.0))
    assert edge_rows(panel)["centre front"] != before["centre front"]
    session.drop_preview()
    assert edge_rows(panel) == before


def test_areas_are_shown_in_the_square_of_the_unit() -> None:
    """A square inch is 645.16 mm² (from the inch of 25.4 mm), a square centimetre 100 mm²."""
    assert show_area(645.16 * 3, "in") == "3.0 sq in"
    assert show_area(1250.0, "cm") == "12.5 cm²"
