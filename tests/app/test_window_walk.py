"""The walk through the demo: offered once, it shows the work as it grew, and leaves nothing behind."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from app import settings
from app.__main__ import make_window
from app.actions.walk_through import PAGES
from app.canvas.slip import Slip
from app.window.main_window import MainWindow
from core.design.replay import BLOCK
from tests.demo_designs import concert


@pytest.fixture
def window(qtbot: QtBot) -> MainWindow:
    """A window on the average figure's block, shown."""
    made = make_window()
    qtbot.addWidget(made)
    made.show()
    return made


def press(window: MainWindow, words: str) -> None:
    """Press a button of the slip."""
    slip = next(found for found in window.table.findChildren(Slip) if found.isVisible())
    button = next(found for found in slip.findChildren(QPushButton) if found.accessibleName() == words)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def slips(window: MainWindow) -> int:
    """How many slips lie on the table."""
    return sum(found.isVisible() for found in window.table.findChildren(Slip))


def test_every_stop_is_a_step_of_the_demo() -> None:
    """A stop that names no step of the shipped demo would show nothing."""
    known = {BLOCK, "", *(step.id for step in concert().steps)}
    assert {page.after for page in PAGES} <= known


def test_a_newcomer_is_shown_round_and_all_is_as_it_was(window: MainWindow) -> None:
    """The offer opens the demo; each Next shows more of it; at the end the whole demo lies there, nothing to undo."""
    window.desk.offer_walk()
    press(window, "Show me")
    assert window.session.looks_back == 0
    assert not window.seams.cups.isVisible()
    for _ in range(3):
        press(window, "Next")
    assert window.session.looks_back == 3
    press(window, "Back")
    assert window.session.looks_back == 2
    for _ in range(len(PAGES) - 2):
        press(window, "Next")
    QApplication.processEvents()
    assert slips(window) == 0
    assert window.seams.cups.isVisible()
    assert window.session.shown is window.session.replay
    assert not window.session.is_dirty
    assert len(window.session.design.steps) == len(concert().steps)


def test_it_is_offered_once(window: MainWindow) -> None:
    """Declined, it does not ask again; it waits in the Help menu."""
    window.desk.offer_walk()
    press(window, "Not now")
    assert settings.has_walked()
    window.desk.offer_walk()
    assert slips(window) == 0
    window.bars.actions["walk-through"].trigger()
    assert slips(window) == 1


def test_any_act_ends_it(window: MainWindow) -> None:
    """Who begins to work is not talked to any more."""
    window.desk.walk_through()
    design = window.session.design
    window.session.do("Delete step 8", design.without_step(design.steps[-1].id))
    assert slips(window) == 0
