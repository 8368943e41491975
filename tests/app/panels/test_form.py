"""What the form's panel says and offers besides the picture."""

from __future__ import annotations

import threading

import msgspec
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QTableWidget, QTableWidgetItem
from pytestqt.qtbot import QtBot

from app import settings
from app.panels import form as panel
from app.panels.form import FormPanel
from app.session import Session
from app.theme import DRESS_STAND
from app.window.main_window import MainWindow
from core.body.body import Measured
from core.body.shape import Shape
from core.form.shown import Stand
from core.steps.style_line import StyleLine
from core.steps.take_in import TakeIn
from tests.samples import design
from tests.samples_stands import demo_stand, stand_once

pytestmark = pytest.mark.usefixtures("forms_made_once")

MADE_WITHIN = 60_000
"""Milliseconds: about one on an idle machine; others may be at work."""


def _with_form(qtbot: QtBot, name: str = "concert") -> tuple[MainWindow, FormPanel]:
    """A window with the form shown, and all said that is said once the hands rest."""
    window = MainWindow(Session(design(name)))
    window.resize(1280, 800)
    window.show()
    window.desk.turn_form()
    qtbot.waitUntil(lambda: window.form.spokes.table.rowCount() > 0, timeout=MADE_WITHIN)
    return window, window.form


def _cells(table: QTableWidget) -> list[list[QTableWidgetItem]]:
    """The cells that are written, row by row."""
    rows = [[table.item(row, place) for place in range(table.columnCount())] for row in range(table.rowCount())]
    return [[item for item in row if item is not None] for row in rows]


def test_the_advice_is_taken_by_a_key_and_taken_back_by_one_undo(qtbot: QtBot) -> None:
    """Space on the button contours the seam; then nothing is left to take in; undo brings it all back."""
    window, form = _with_form(qtbot)
    session, before = window.session, window.session.design
    assert form.offer.button.isEnabled()
    assert "sheer 8 25/32 in, then" in form.offer.words.text()
    form.offer.button.setFocus()
    QTest.keyClick(form.offer.button, Qt.Key.Key_Space)
    assert session.history.undo_label == "Contour the front princess"
    assert any(isinstance(step, TakeIn) for step in session.design.steps)
    assert session.replay.refused is None
    assert not form.offer.button.isEnabled()
    assert form.view.hasFocus()
    qtbot.waitUntil(lambda: "no more than a tape can tell" in form.offer.words.text(), timeout=MADE_WITHIN)
    assert "± 8 mm" in form.offer.words.text()
    assert not form.offer.button.isEnabled()
    session.undo()
    assert session.design == before
    qtbot.waitUntil(form.offer.button.isEnabled, timeout=MADE_WITHIN)


def test_nothing_is_offered_while_a_line_is_dragged(qtbot: QtBot) -> None:
    """What was worked out for the line before the drag cannot be accepted in the middle of it."""
    window, form = _with_form(qtbot)
    session = window.session
    step = next(s for s in session.design.steps if isinstance(s, StyleLine) and s.purpose == "sheer")
    moved = [msgspec.structs.replace(p, y=p.y - 6.0) for p in step.points[1:-1]]
    lower = msgspec.structs.replace(step, points=(step.points[0], *moved, step.points[-1]))
    assert session.preview(session.design.with_step(lower)) is None
    assert not form.offer.button.isEnabled()
    qtbot.wait(300)
    assert not form.offer.button.isEnabled()
    session.drop_preview()
    qtbot.waitUntil(form.offer.button.isEnabled, timeout=MADE_WITHIN)


def test_how_the_edge_is_to_lie_changes_what_is_too_much(qtbot: QtBot) -> None:
    """With the keyboard: an edge that keeps the block's ease has less too much, and that is said."""
    _, form = _with_form(qtbot)
    close = form.words.text()
    assert "no ease wanted in it" in close
    form.choice.edges.setFocus()
    QTest.keyClick(form.choice.edges, Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: "the block's ease taken off" in form.words.text(), timeout=MADE_WITHIN)
    QTest.keyClick(form.choice.edges, Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: "no ease wanted in it" in form.words.text(), timeout=MADE_WITHIN)
    assert form.words.text() != close


def test_nobody_waits_for_a_form_that_is_wanted_no_more(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second measurement typed while the first form is still being made: the window goes on, the second is shown."""
    window, form = _with_form(qtbot)
    session, goes_on, asked = window.session, threading.Event(), []

    def slow(measured: Measured, shape: Shape) -> Stand:
        asked.append(measured.values["bust_span"])
        if len(asked) == 1:
            goes_on.wait(MADE_WITHIN / 1000.0)
            return demo_stand("concert")
        return stand_once(measured, shape)

    monkeypatch.setattr(panel, "stand_for", slow)
    for span in (196.0, 194.0):
        taken = dict(session.design.body.measurements) | {"bust_span": span}
        body = msgspec.structs.replace(session.design.body, measurements=taken)
        session.do("Bust span", msgspec.structs.replace(session.design, body=body))
    assert not goes_on.is_set()
    qtbot.waitUntil(lambda: form.view.stand is not None and "bust point" in form.words.text(), timeout=MADE_WITHIN)
    assert asked == [196.0, 194.0]
    goes_on.set()
    qtbot.waitUntil(lambda: not any(work.is_running for work in form._works), timeout=MADE_WITHIN)
    assert form.view.stand is not None
    assert form.view.stand.body.form.figure.of("bust_span") == 194.0


def test_block_and_body_stand_in_a_table_with_sign_and_word(qtbot: QtBot) -> None:
    """A row a landmark, in her unit, the whole of it in the tip; and the cup has its sentence."""
    _, form = _with_form(qtbot)
    cells = _cells(form.spokes.table)
    side_neck = next(row for row in cells if row[0].text() == "side neck")
    assert side_neck[1].text() == "10 1/2 in"
    assert side_neck[3].text().endswith("≈ close")
    assert "of it ease" in next(row[0].toolTip() for row in cells if row[0].text() == "underarm, ease off")
    assert "degrees taken out" in form.cups.text()


def test_a_design_with_a_sheer_back_is_told_what_to_draw(qtbot: QtBot) -> None:
    """The stage demo has no line on the front: the block is compared all the same, and nothing is offered."""
    _, form = _with_form(qtbot, "stage")
    assert "Draw a sheer line on the front" in form.words.text()
    assert "Draw one" in form.offer.words.text()
    assert not form.offer.button.isEnabled()
    assert not form.cups.isVisible()


def test_the_shape_that_is_chosen_is_an_act_and_goes_into_the_file(qtbot: QtBot) -> None:
    """By key: another form is made, undo brings the other back with its choice; the block stays the very same."""
    window, form = _with_form(qtbot)
    session, block, profile = window.session, window.session.replay.block, form.choice.shapes["profile"]
    profile.setFocus()
    QTest.keyClick(profile, Qt.Key.Key_Down)
    assert session.design.body.shape == Shape(profile="pointed")
    assert session.history.undo_label == "Profile pointed"
    assert session.replay.block is block
    assert form.words.text() == panel.WORKING
    qtbot.waitUntil(lambda: "bust point" in form.words.text(), timeout=MADE_WITHIN)
    assert form.view.stand is not None
    assert form.view.stand.body.form.figure.shape == Shape(profile="pointed")
    session.undo()
    assert profile.currentText() == "medium"
    qtbot.waitUntil(lambda: "bust point" in form.words.text(), timeout=MADE_WITHIN)
    assert form.view.stand.body.form.figure.shape == Shape()


def test_a_tone_is_taken_by_a_key_and_is_no_part_of_the_design(qtbot: QtBot) -> None:
    """The arrow key takes the next tone: pictures of both forms change, settings keep it, the document is as it was."""
    window, form = _with_form(qtbot)
    before, tones = form.view.grab().toImage(), form.choice.tones
    tones.buttons[DRESS_STAND].setFocus()
    QTest.keyClick(tones.buttons[DRESS_STAND], Qt.Key.Key_Right)
    assert tones.buttons["fair"].isChecked()
    assert settings.tone() == form.view.tone == form.compare.view.tone == "fair"
    assert form.view.grab().toImage() != before
    assert not window.session.is_dirty
