"""Two variants of a line side by side on the form, by mouse and by keys."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from app.panels.form import FormPanel
from app.session import Session
from app.window.main_window import MainWindow
from core.design.design import Design
from core.file.writer import design_to_bytes
from core.steps.style_line import StyleLine
from tests.samples import design

pytestmark = pytest.mark.usefixtures("forms_made_once")

MADE_WITHIN = 60_000
"""Milliseconds: about one on an idle machine; others may be at work."""


def _with_form(qtbot: QtBot) -> tuple[MainWindow, FormPanel]:
    window = MainWindow(Session(design("concert")))
    window.resize(1500, 900)
    window.show()
    window.desk.turn_form()
    qtbot.waitUntil(lambda: window.form.view.laid is not None, timeout=MADE_WITHIN)
    return window, window.form


def _more_open(now: Design) -> Design:
    """The sheer line of the demo 15 mm lower between its ends."""
    step = next(s for s in now.steps if isinstance(s, StyleLine) and s.purpose == "sheer")
    moved = [msgspec.structs.replace(p, y=p.y - 15.0) for p in step.points[1:-1]]
    return now.with_step(msgspec.structs.replace(step, points=(step.points[0], *moved, step.points[-1])))


def _row(form: FormPanel, row: int) -> list[str]:
    cells = [form.compare.table.item(row, place) for place in range(3)]
    return [cell.text() for cell in cells if cell is not None]


def test_a_kept_line_stays_beside_what_is_made_of_it(qtbot: QtBot) -> None:
    """Kept by Space; a lower line then shows its own numbers beside the kept ones, undo makes both alike again."""
    window, form = _with_form(qtbot)
    assert not form.compare.view.isVisible()
    form.compare.keep.setFocus()
    QTest.keyClick(form.compare.keep, Qt.Key.Key_Space)
    assert form.compare.view.isVisible()
    assert form.compare.table.isVisible()
    assert (form.compare.view.caption, form.view.caption) == ("the kept line", "now")
    assert _row(form, 1)[1] == _row(form, 1)[2]

    kept = _row(form, 1)[1]
    window.session.do("More open", _more_open(window.session.design))
    assert _row(form, 1)[1] == kept
    assert float(_row(form, 1)[2].split()[0]) > float(kept.split()[0])
    window.session.undo()
    assert _row(form, 1)[1] == _row(form, 1)[2]

    QTest.mouseClick(form.compare.drop, Qt.MouseButton.LeftButton)
    assert not form.compare.view.isVisible()
    assert form.view.caption == ""


def test_two_forms_turn_together(qtbot: QtBot) -> None:
    """An arrow key on either turns both."""
    _, form = _with_form(qtbot)
    QTest.mouseClick(form.compare.keep, Qt.MouseButton.LeftButton)
    QTest.keyClick(form.view, Qt.Key.Key_Left)
    assert form.compare.view.turn == form.view.turn != 0.0
    QTest.keyClick(form.compare.view, Qt.Key.Key_Right)
    assert form.compare.view.turn == form.view.turn == 0.0


def test_the_line_of_a_file_is_laid_on_the_client_at_hand(qtbot: QtBot, tmp_path: Path) -> None:
    """It is shown under its name, on her body; the document stays as it is; a file that cannot be read is refused."""
    window, form = _with_form(qtbot)
    path = tmp_path / "open.sheer"
    path.write_bytes(design_to_bytes(_more_open(window.session.design)))
    QTest.mouseClick(form.compare.file, Qt.MouseButton.LeftButton)
    dialog = next(child for child in window.findChildren(QFileDialog) if child.isVisible())
    dialog.fileSelected.emit(str(path))
    dialog.close()
    assert form.compare.view.caption.startswith("open")
    assert float(_row(form, 1)[1].split()[0]) > float(_row(form, 1)[2].split()[0])
    assert not window.session.is_dirty

    broken = tmp_path / "broken.sheer"
    broken.write_text("no design")
    form.compare.take_file(str(broken))
    assert form.compare.refusal.isVisible()
    assert "broken" in form.compare.refusal.text()
    assert not form.compare.view.isVisible()
