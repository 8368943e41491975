"""The form in the window: shown on demand, made beside the window, following a drag."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.canvas.form_view import FormView
from app.panels.form import WORKING, FormPanel
from app.session import Session
from app.theme import LIGHT
from app.window.main_window import MainWindow
from core.form.shown import Fitter, garments_of
from core.steps.style_line import StyleLine
from tests.samples import design, replayed
from tests.samples_stands import demo_stand

pytestmark = pytest.mark.usefixtures("forms_made_once")

MADE_WITHIN = 60_000
"""Milliseconds: about two on an idle machine; others may be at work."""


def _window() -> MainWindow:
    window = MainWindow(Session(design("concert")))
    window.resize(1280, 800)
    window.show()
    return window


def _with_form(qtbot: QtBot) -> tuple[MainWindow, FormPanel]:
    window = _window()
    window.desk.turn_form()
    qtbot.waitUntil(lambda: "bust point" in window.form.words.text(), timeout=MADE_WITHIN)
    return window, window.form


def test_the_form_is_hidden_until_it_is_asked_for() -> None:
    """The table keeps its room, and nothing is worked out."""
    window = _window()
    assert not window.form.isVisible()
    assert window.form.view.stand is None


def test_the_form_shows_the_line_and_follows_a_drag_and_turns(qtbot: QtBot) -> None:
    """A preview moves line and numbers at once; a new measurement is worked out anew; buttons and keys turn it."""
    window, form = _with_form(qtbot)
    assert form.view.laid is not None
    assert form.view.laid.line is not None
    before = form.words.text()
    assert "check on a toile" in form.caution.text()
    assert form.caution.isVisible()

    session = window.session
    step = next(s for s in session.design.steps if isinstance(s, StyleLine) and s.purpose == "sheer")
    moved = [msgspec.structs.replace(p, y=p.y - 10.0) for p in step.points[1:-1]]
    lower = msgspec.structs.replace(step, points=(step.points[0], *moved, step.points[-1]))
    assert session.preview(session.design.with_step(lower)) is None
    assert form.words.text() != before
    session.drop_preview()
    assert form.words.text() == before

    QTest.mouseClick(form.buttons[2], Qt.MouseButton.LeftButton)
    assert form.view.turn == -np.pi / 2
    QTest.keyClick(form.view, Qt.Key.Key_Left)
    assert form.view.turn == -np.pi / 2 + np.radians(15.0)

    body = session.design.body
    larger = msgspec.structs.replace(body, measurements=dict(body.measurements) | {"bust_span": 200.0})
    session.do("Bust span", msgspec.structs.replace(session.design, body=larger))
    assert form.words.text() == WORKING
    qtbot.waitUntil(lambda: "bust point" in form.words.text(), timeout=MADE_WITHIN)


def test_a_screen_of_small_pixels_gets_a_fine_picture_once_the_hand_is_still(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At two pixels a place the picture has all of them after a rest; what a drag colours has a quarter at once."""
    monkeypatch.setattr(FormView, "devicePixelRatioF", lambda _view: 2.0)
    view = FormView(LIGHT)
    view.resize(150, 200)
    view.show()
    done = replayed("concert")
    laid = Fitter(demo_stand("concert")).laid(garments_of(done), done.design.ease, "mm")
    view.show_stand(demo_stand("concert"))
    view.show_laid(laid)
    assert view._picture is not None
    assert view._picture.width() == 150
    qtbot.waitUntil(lambda: view._picture is not None and view._picture.width() == 300, timeout=MADE_WITHIN)
    assert view._picture.height() == 400
    view.show_laid(laid)
    assert view._picture.width() == 150
    qtbot.waitUntil(lambda: view._picture is not None and view._picture.width() == 300, timeout=MADE_WITHIN)
    view.abandon()
