"""Altering a step that is there already, whatever its kind, from the list of steps."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

import pytest
from msgspec.structs import fields, replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit

from app.canvas.table import CuttingTable
from app.dialogs.step_fields import KNOWN, step_fields, with_value
from app.session import Session
from app.theme import theme_for
from app.tools.catalogue import TOOLS
from app.tools.choose import tool_for
from core.steps.catalogue import AnyStep
from core.steps.mirror import Mirror
from core.steps.true import Straighten, Truing
from core.steps.unfold import Unfold
from tests.app.at_table import first_steps
from tests.app.at_window import LEFT, dialog, found, opened, press
from tests.core.laws.sample_steps import garments, roads
from tests.demo_designs import concert

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

ABOUT = frozenset(
    {
        "id",
        "piece",
        "pieces",
        "dart",
        "darts",
        "seam",
        "edge",
        "edges",
        "beside",
        "lines",
        "keep_open",
        "apart",
        "into",
        "at",
    }
    | {
        "place",
        "opens",
        "hinge",
        "across_at",
        "across_end",
        "drawn_on",
        "number",
        "x",
        "y",
        "fitting",
        "points",
        "also",
    }
    | {"levels", "tags", "way"}
)
"""What a step is about, where it was drawn, and what its parts are held in: not altered by a form."""


def every_step() -> list[AnyStep]:
    """A step of every kind, several of some."""
    return [step for garment in garments().values() for road in roads(garment) for step in road]


@pytest.mark.usefixtures("qapp")
def test_every_kind_of_step_can_be_altered() -> None:
    """By its tool or by its form; a mirror image, both halves and a straightened edge have nothing to alter."""
    table = CuttingTable(Session(concert()), theme_for("light"))
    none = [step for step in every_step() if tool_for(table, step) is None and not step_fields(step)]
    straightened = [step for step in none if isinstance(step, Truing) and isinstance(step.way, Straighten)]
    assert {type(step) for step in none if step not in straightened} == {Mirror, Unfold}
    table.deleteLater()


@pytest.mark.usefixtures("qapp")
def test_no_field_of_a_step_is_forgotten() -> None:
    """Whatever a step without a tool holds is in the form, or is what the step is about."""
    table = CuttingTable(Session(concert()), theme_for("light"))
    forms = {type(step) for step in every_step() if tool_for(table, step) is None}
    assert forms < set(get_args(AnyStep))
    assert {info.name for kind in forms for info in fields(kind)} - set(KNOWN) - ABOUT == set()
    table.deleteLater()


def test_a_value_is_put_where_it_came_from() -> None:
    """Every field of every sample step takes its own value back, and the step is equal to what it was."""
    for step in every_step():
        for field in step_fields(step):
            assert with_value(step, field.path, field.value) == step


def form_of(qtbot: QtBot, window: MainWindow, words: str) -> QDialog:
    """The form of the step whose sentence begins so."""
    steps = window.steps.list
    row = next(row for row in range(steps.count()) if words in steps.item(row).text())
    steps.setCurrentRow(row)
    press("By numbers", window)
    return dialog(qtbot, "Edit step")


def test_a_drawn_line_has_no_numbers_and_keeps_its_inner_name_to_itself(qtbot: QtBot) -> None:
    """By numbers shows no form with the name by which other steps find the line, and says where it is altered."""
    window = opened(qtbot, demo=True)
    choose(window, "Draw the sheer line on the front")
    press("By numbers", window)
    assert QApplication.activeModalWidget() is None
    assert "press Edit" in window.status.words.text()


def write(box: QDialog, name: str, text: str) -> None:
    """Type over a field of the form."""
    field = found(QLineEdit, name, box)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def test_a_pivot_is_altered_by_its_share_as_one_act(qtbot: QtBot) -> None:
    """90 % of the shoulder dart is seen at once, kept by Keep, and taken back by one undo."""
    window = opened(qtbot, demo=True)
    window.session.begin(first_steps(2))
    before = window.session.design
    box = form_of(qtbot, window, "Pivot the shoulder dart")
    write(box, "Share of the angle", "90 %")
    shown = window.session.shown.design.steps[0]
    assert getattr(shown, "share", None) == pytest.approx(0.9)
    assert window.session.design is before
    assert "90%" in found(QLabel, "What to do", box).text()
    press("Keep", box)
    assert window.session.history.undo_label == "Edit step 1"
    assert getattr(window.session.design.steps[0], "share", None) == pytest.approx(0.9)
    window.session.undo()
    assert window.session.design is before


def test_a_panel_gets_another_name_and_fabric(qtbot: QtBot) -> None:
    """Both in the step that cut it, as one act; Cancel leaves all as it was."""
    window = opened(qtbot, demo=True)
    before = window.session.design
    box = form_of(qtbot, window, "Cut the front")
    write(box, "Panel 1: name", "bertha")
    assert "bertha" in window.session.shown.garment.pieces
    press("Cancel", box)
    assert window.session.design is before
    assert window.session.shown is window.session.replay
    box = form_of(qtbot, window, "Cut the front")
    fabric = found(QComboBox, "Panel 3: fabric", box)
    fabric.setFocus()
    QTest.keyClick(fabric, Qt.Key.Key_Down)
    other = str(fabric.currentData())
    press("Keep", box)
    assert other != "main"
    assert next(p for p in window.session.replay.garment.pieces.values() if p.number == 3).fabric == other


def test_what_means_nothing_is_said_and_not_kept(qtbot: QtBot) -> None:
    """Letters for a share, and a share of nothing, stay in the form with a sentence."""
    window = opened(qtbot, demo=True)
    before = window.session.design
    box = form_of(qtbot, window, "Pivot the shoulder dart")
    for text in ("much", "0 %"):
        write(box, "Share of the angle", text)
        press("Keep", box)
        assert found(QLabel, "What to do", box).text().startswith("≠ ")
        assert box.isVisible()
    assert window.session.design is before
    press("Cancel", box)


def test_what_a_later_step_cannot_bear_is_named_and_not_kept(qtbot: QtBot) -> None:
    """With a tenth of the dart left open, the sheer line would show a step over it: its own sentence says so."""
    window = opened(qtbot, demo=True)
    before = window.session.design
    box = form_of(qtbot, window, "Pivot the shoulder dart")
    write(box, "Share of the angle", "90 %")
    assert "open shoulder dart" in found(QLabel, "What to do", box).text()
    press("Keep", box)
    assert box.isVisible()
    assert window.session.design is before
    press("Cancel", box)


def test_a_form_that_is_kept_as_it_was_is_no_act(qtbot: QtBot) -> None:
    """Looking at lengths that the ruler shows rounded rounds none."""
    window = opened(qtbot, demo=True)
    before = window.session.design
    press("Keep", form_of(qtbot, window, "Pivot the shoulder dart"))
    assert window.session.design is before


def choose(window: MainWindow, words: str) -> int:
    """Select the step whose sentence holds the words, the list having the keyboard; its row."""
    steps = window.steps.list
    row = next(row for row in range(steps.count()) if words in steps.item(row).text())
    steps.setFocus()
    steps.setCurrentRow(row)
    return row


def in_hand(window: MainWindow) -> str:
    """The tool that the status bar says is in hand."""
    return found(QLabel, "Tool in hand", window).text()


def test_enter_in_the_list_takes_up_the_tool_and_enter_again_keeps(qtbot: QtBot) -> None:
    """By keys alone: the garment before the step, its tool in the status bar, less turned, one act, one undo."""
    window = opened(qtbot, demo=True)
    window.session.begin(first_steps(2))
    before = window.session.design
    row = choose(window, "Pivot the shoulder dart")
    QTest.keyClick(window.steps.list, Qt.Key.Key_Return)
    assert in_hand(window) == f"Pivot a dart: step {row + 1}"
    assert len(window.session.shown.stages) == row + 1
    share = QApplication.focusWidget()
    assert share is not None
    assert share.accessibleName().startswith("Share of the shoulder dart turned, 100%")
    QTest.keyClick(share, Qt.Key.Key_Left)
    QTest.keyClick(share, Qt.Key.Key_Return)
    assert in_hand(window) == "Choose"
    assert window.session.history.undo_label == f"Edit step {row + 1}"
    window.session.undo()
    assert window.session.design is before


def test_a_double_click_takes_up_the_tool_and_leave_it_puts_all_back(qtbot: QtBot) -> None:
    """By mouse alone: the front lies whole again while its cut is altered, and is cut as before when it is left."""
    window = opened(qtbot, demo=True)
    before = window.session.design
    steps = window.steps.list
    row = choose(window, "Cut the front")
    steps.scrollToItem(steps.item(row))
    middle = steps.visualItemRect(steps.item(row)).center()
    QTest.mouseClick(steps.viewport(), LEFT, pos=middle)
    QTest.mouseDClick(steps.viewport(), LEFT, pos=middle)
    assert in_hand(window) == f"Cut into panels: step {row + 1}"
    assert "front" in window.session.shown.garment.pieces
    press("Leave it", window)
    assert window.session.design is before
    assert window.session.shown is window.session.replay
    assert in_hand(window) == "Choose"


def test_undo_under_the_tool_lays_it_down(qtbot: QtBot) -> None:
    """What the tool was filled with may be another step's by then."""
    window = opened(qtbot, demo=True)
    window.session.do("Notes", replace(window.session.design, notes="other"))
    choose(window, "Cut the front")
    press("Edit", window)
    window.session.undo()
    assert in_hand(window) == "Choose"
    assert window.session.shown is window.session.replay


def test_a_tool_without_a_button_is_named_while_it_is_in_hand(qtbot: QtBot) -> None:
    """Flatten has none on the toolbar, the points of a line none at all: the status bar names both."""
    window = opened(qtbot, demo=True)
    assert in_hand(window) == "Choose"
    window.desk.take_tool("flatten")
    assert in_hand(window) == "Flatten"
    row = choose(window, "Draw the sheer line")
    press("Edit", window)
    assert in_hand(window) == f"Points of the sheer line: step {row + 1}"
    assert not any(window.bars.actions[f"tool-{info.id}"].isChecked() for info in TOOLS)
