"""What is typed or shown and not kept yet: it counts before a button is pressed, and nothing of it is lost unsaid."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.tools.catalogue import TOOLS
from app.tools.take_in import TakeInTool
from core.steps.style_line import StyleLine
from core.steps.take_in import TakeIn
from tests.app.at_window import dialog, found, opened, press

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

AT = "In all at the sheer line"
CONTROL = Qt.KeyboardModifier.ControlModifier


def taking_in(qtbot: QtBot) -> MainWindow:
    """The demo, its front princess seam in hand to be taken in."""
    window = opened(qtbot, demo=True)
    window.desk.take_tool("take-in")
    tool = window.table.tool
    assert isinstance(tool, TakeInTool)
    tool.pick("front.princess")
    return window


def type_at(window: MainWindow, name: str, text: str) -> QLineEdit:
    """Type over a field of the slip, without Enter."""
    field = found(QLineEdit, name, window)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    return field


def shown(window: MainWindow, name: str, amount: str) -> None:
    """Let the slip show an amount: typed, and Enter."""
    QTest.keyClick(type_at(window, name, amount), Qt.Key.Key_Return)


def test_what_is_typed_counts_when_the_button_is_pressed(qtbot: QtBot) -> None:
    """6 mm shown, then 8 mm typed without Enter: Take in takes 8 mm in, as it says."""
    window = taking_in(qtbot)
    shown(window, AT, "6 mm")
    type_at(window, AT, "8 mm")
    press("Take in", window)
    step = window.session.design.steps[-1]
    assert isinstance(step, TakeIn)
    assert max(level.a + level.b for level in step.levels) == pytest.approx(8.0)


def test_nonsense_is_said_before_anything_is_done(qtbot: QtBot) -> None:
    """Letters for an amount: the button says why they are none, and the 6 mm from before are not taken for them."""
    window = taking_in(qtbot)
    before = window.session.design
    shown(window, AT, "6 mm")
    field = type_at(window, AT, "some")
    press("Take in", window)
    assert window.session.design is before
    assert "some" in window.status.words.text()
    assert field.text() == "some"


def test_done_takes_a_typed_place_first(qtbot: QtBot) -> None:
    """The sheer line's first point is typed to lie farther down, and Done is pressed at once."""
    window = opened(qtbot, demo=True)
    line = next(step for step in window.session.design.steps if isinstance(step, StyleLine))
    window.desk.edit_step(line.id)
    type_at(window, "It lies", "7 in from the neck along the centre front")
    press("Done", window)
    moved = next(step for step in window.session.design.steps if step.id == line.id)
    assert isinstance(moved, StyleLine)
    place = moved.points[0].place
    assert place is not None
    assert place.distance == pytest.approx(7 * 25.4)


def test_a_save_names_what_is_shown_and_not_kept(qtbot: QtBot, tmp_path: Path) -> None:
    """The file has nothing of it; the sentence of the save says so, by the tool or the field."""
    window = taking_in(qtbot)
    window.session.save(tmp_path / "hers.sheer")
    shown(window, AT, "6 mm")
    QTest.keyClick(window.table, Qt.Key.Key_S, CONTROL)
    assert window.status.words.text() == (
        "hers.sheer is saved, but not what the tool Take in shows: that is not kept yet."
    )
    type_at(window, AT, "8")
    QTest.keyClick(window.table, Qt.Key.Key_S, CONTROL)
    assert f"but not what is typed at “{AT}”" in window.status.words.text()


def test_tools_that_show_what_is_kept_are_not_loose(qtbot: QtBot) -> None:
    """Any tool just taken up, and any step just taken up to be altered: closing asks nothing for their sake."""
    window = opened(qtbot, demo=True)
    for info in TOOLS:
        window.desk.take_tool(info.id)
        assert window.desk.loose() == "", info.name
    for step in window.session.design.steps:
        window.desk.edit_step(step.id)
        assert window.desk.loose() == "", step.id


@pytest.mark.parametrize("answer", ["Go back", "Go on without it"])
def test_closing_asks_about_what_is_not_kept(qtbot: QtBot, tmp_path: Path, answer: str) -> None:
    """Everything is saved but an amount that is only shown: go back and it is there, go on and the window closes."""
    window = taking_in(qtbot)
    window.session.save(tmp_path / "hers.sheer")
    shown(window, AT, "6 mm")
    window.close()
    box = dialog(qtbot, "Not kept yet")
    press(answer, box)
    qtbot.waitUntil(lambda: not box.isVisible())
    assert window.isVisible() == (answer == "Go back")
    if answer == "Go back":
        press("Take in", window)
        assert isinstance(window.session.design.steps[-1], TakeIn)


def test_a_refused_number_is_not_lost_by_closing(qtbot: QtBot) -> None:
    """It is in no file and in no act: closing names its field first."""
    window = opened(qtbot)
    QTest.keyClick(type_at(window, "bust", "lots"), Qt.Key.Key_Return)
    window.close()
    box = dialog(qtbot, "Not kept yet")
    assert "What is typed at bust is not kept yet." in box.property("text")
    press("Go back", box)
    assert window.isVisible()
