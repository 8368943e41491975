"""Exports and sheets from the window's menus, their texts, and the pieces under a beam, with real mouse and keys."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import ezdxf.filemanagement
import pdfplumber
import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QCheckBox, QComboBox, QLabel, QLineEdit, QPlainTextEdit

from app import settings
from app.dialogs.output_task import OUTPUTS, Output
from app.dialogs.projector import BAR, ProjectorDialog
from core.steps.pivot import Pivot
from tests.app.at_window import dialog, found, name_file, opened, press

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot


@pytest.mark.parametrize("output", OUTPUTS, ids=lambda output: output.id)
def test_every_output_is_written_from_its_menu(qtbot: QtBot, tmp_path: Path, output: Output) -> None:
    """Whole, under the name that was given, and the status line says so."""
    window = opened(qtbot)
    window.desk.outputs.ask(output.id)
    path = tmp_path / f"out{output.suffixes[0]}"
    with qtbot.waitSignal(window.desk.said, timeout=20_000) as said:
        name_file(qtbot, output.title, path)
    assert said.args == [f"out{output.suffixes[0]} is written."]
    assert path.stat().st_size > 1000
    assert [entry.name for entry in tmp_path.iterdir() if entry.is_file()] == [path.name]


def test_pieces_are_exported_as_dxf_by_their_name(qtbot: QtBot, tmp_path: Path) -> None:
    """The ending chooses; ezdxf's audit finds nothing amiss."""
    window = opened(qtbot)
    window.desk.outputs.ask("export")
    with qtbot.waitSignal(window.desk.said, timeout=20_000):
        name_file(qtbot, "Pieces for other programs", tmp_path / "out.dxf")
    assert not ezdxf.filemanagement.readfile(tmp_path / "out.dxf").audit().errors


def test_what_is_written_for_the_sheets_is_one_act(qtbot: QtBot, tmp_path: Path) -> None:
    """Hours, what is bought, notes: kept in the design, printed, undone at once; an amount that is none is refused."""
    window = opened(qtbot)
    window.desk.outputs.texts()
    box = dialog(qtbot, "Costs, making order, notes")
    found(QLineEdit, "Hours of work", box).setText("x")
    press("OK", box)
    assert "“x” is no amount for hours" in found(QLabel, "What is amiss", box).text()
    found(QLineEdit, "Hours of work", box).setText("7,5")
    found(QLineEdit, "Paid an hour", box).setText("20")
    found(QLineEdit, "Currency", box).setText("GBP")
    found(QPlainTextEdit, "Bought besides cloth", box).setPlainText("zip 40 cm 3.50\n")
    found(QPlainTextEdit, "Notes for the fitting", box).setPlainText("left shoulder lower")
    press("OK", box)
    sheets = window.session.design.sheets
    assert (sheets.costing.hours, sheets.costing.hourly, sheets.making) == (7.5, 20.0, "")
    assert [(line.words, line.price) for line in sheets.costing.lines] == [("zip 40 cm", 3.5)]
    window.desk.outputs.ask("work-sheet")
    with qtbot.waitSignal(window.desk.said, timeout=20_000):
        name_file(qtbot, "Work sheet", tmp_path / "out.pdf")
    with pdfplumber.open(tmp_path / "out.pdf") as pdf:
        # 7.5 x 20 + 3.50
        assert "153.50 GBP" in "\n".join(page.extract_text() for page in pdf.pages)
    window.desk.undo()
    assert window.session.design.sheets.costing.hours == 0.0


def test_an_order_in_her_own_words_is_kept(qtbot: QtBot) -> None:
    """Until it is worked out anew."""
    window = opened(qtbot)
    for words, kept in (("as I like it", "as I like it"), (None, "")):
        window.desk.outputs.texts()
        box = dialog(qtbot, "Costs, making order, notes")
        if words is None:
            press("Work it out anew", box)
        else:
            found(QPlainTextEdit, "Making order", box).setPlainText(words)
        press("OK", box)
        assert window.session.design.sheets.making == kept


def beam(qtbot: QtBot) -> ProjectorDialog:
    """The pieces under a beam."""
    window = opened(qtbot, demo=True)
    window.desk.outputs.project()
    box = dialog(qtbot, "Projector")
    assert isinstance(box, ProjectorDialog)
    return box


def test_a_beam_is_calibrated_by_two_measured_bars(qtbot: QtBot) -> None:
    """Where the level bar of 500 pixels reads 20 in and the upright one 25 in, 4 in are 100 pixels across, 80 up."""
    box = beam(qtbot)
    QTest.keyClicks(found(QLineEdit, "The level bar reads", box), "20 in")
    QTest.keyClicks(found(QLineEdit, "The upright bar reads", box), "25 in")
    assert BAR == 500
    origin, across, up = box.place(0.0, 0.0), box.place(101.6, 0.0), box.place(0.0, 101.6)
    assert (across - origin).x() == pytest.approx(100.0)
    assert (origin - up).y() == pytest.approx(80.0)
    assert "keystone" in found(QLabel, "What to do", box).text()
    found(QLineEdit, "The level bar reads", box).setText("0.001 in")
    assert "not believable" in found(QLabel, "What to do", box).text()
    press("Close", box)


def test_a_beam_is_found_calibrated_as_it_was_left(qtbot: QtBot) -> None:
    """Both bars, the day, grid and mirror; a bar that is emptied is forgotten with the other."""
    box = beam(qtbot)
    QTest.keyClicks(found(QLineEdit, "The level bar reads", box), "20 in")
    assert settings.beam(box.screen().name()) is None
    QTest.keyClicks(found(QLineEdit, "The upright bar reads", box), "637 mm")
    QTest.mouseClick(found(QCheckBox, "Grid (G)", box), Qt.MouseButton.LeftButton, pos=QPoint(8, 8))
    scale = box.scale
    press("Close", box)
    again = beam(qtbot)
    # 500 pixels over 20 in of 25.4 mm, and over 637 mm.
    assert again.scale == pytest.approx((500 / 508.0, 500 / 637.0))
    assert again.scale == pytest.approx(scale)
    assert found(QLineEdit, "The upright bar reads", again).text() == "637 mm"
    said = found(QLabel, "What to do", again).text()
    assert date.today().isoformat() in said
    assert "measure both bars anew" in said
    assert "keystone" in said
    assert found(QCheckBox, "Grid (G)", again).isChecked()
    assert not found(QCheckBox, "Mirror image (M)", again).isChecked()
    found(QLineEdit, "The level bar reads", again).clear()
    press("Close", again)
    assert found(QLineEdit, "The upright bar reads", beam(qtbot)).text() == ""


def test_a_beam_shows_grid_mirror_and_single_pieces_by_keys(qtbot: QtBot) -> None:
    """G, M and H; arrows move the pieces 20 mm; a piece alone stands in the middle."""
    box = beam(qtbot)
    qtbot.waitUntil(box.hasFocus)
    plain = box.grab().toImage()
    QTest.keyClick(box, Qt.Key.Key_G)
    assert found(QCheckBox, "Grid (G)", box).isChecked()
    assert box.grab().toImage() != plain
    was = box.place(0.0, 0.0)
    QTest.keyClick(box, Qt.Key.Key_Right)
    assert (box.place(0.0, 0.0) - was).x() == pytest.approx(20.0 * box.scale[0])
    QTest.keyClick(box, Qt.Key.Key_M)
    assert box.place(10.0, 0.0).x() < box.place(0.0, 0.0).x()
    piece = found(QComboBox, "Piece", box)
    QTest.keyClick(piece, Qt.Key.Key_Down)
    assert box.at.x() != 0.0
    QTest.keyClick(box, Qt.Key.Key_H)
    assert not piece.isVisible()
    QTest.keyClick(box, Qt.Key.Key_Escape)


def test_nothing_is_written_while_a_step_is_refused(qtbot: QtBot) -> None:
    """A sentence instead of a file dialog."""
    window = opened(qtbot)
    bad = Pivot("pivot-1", "front", "front.no_dart", into="front.waist_dart")
    window.session.begin(replace(window.session.design, steps=(bad,)))
    window.desk.outputs.ask("lesson")
    box = dialog(qtbot, "Message")
    assert any("no open no dart" in label.text() for label in box.findChildren(QLabel))
    press("OK", box)
