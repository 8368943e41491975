from __future__ import annotations

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QListWidget, QPushButton
from pytestqt.qtbot import QtBot

from app.panels.steps import StepsPanel
from app.session import Changed, Session
from app.theme import LIGHT
from core.design.replay import BLOCK
from core.errors import Refusal
from tests.app.panels.sample_sessions import block_session, demo_session, panels_session

LOW_BUST = {
    "bust": 990.6,
    "high_bust": 927.1,
    "under_bust": 838.2,
    "waist": 800.1,
    "bust_span": 203.2,
    "neck_to_bust_point": 285.75,
    "front_waist_length": 355.6,
    "back_waist_length": 381.0,
    "shoulder": 127.0,
}
"""Her bust point lies so near her waist that the draft asks whether it was measured right."""


def panel_on(qtbot: QtBot, session: Session) -> StepsPanel:
    """The panel in a window of its own, shown."""
    panel = StepsPanel(session, LIGHT)
    qtbot.addWidget(panel)
    panel.resize(420, 560)
    with qtbot.waitActive(panel):
        panel.show()
        panel.activateWindow()
    return panel


def steps_list(panel: StepsPanel) -> QListWidget:
    """The list of steps."""
    return next(found for found in panel.findChildren(QListWidget) if found.accessibleName() == "Steps")


def click_step(panel: StepsPanel, row: int) -> None:
    """Click a line of the list."""
    found = steps_list(panel)
    at = found.visualItemRect(found.item(row)).center()
    QTest.mouseClick(found.viewport(), Qt.MouseButton.LeftButton, pos=at)


def press(panel: StepsPanel, name: str) -> None:
    """Click the button of an accessible name."""
    found = next(button for button in panel.findChildren(QPushButton) if button.accessibleName() == name)
    assert found.isEnabled(), name
    QTest.mouseClick(found, Qt.MouseButton.LeftButton)


def texts(panel: StepsPanel) -> list[str]:
    """All lines of the list."""
    found = steps_list(panel)
    return [found.item(row).text() for row in range(found.count())]


def test_every_step_is_a_numbered_sentence_with_its_notes(qtbot: QtBot) -> None:
    """The list tells the work in order, in the design's unit, with what a step has to say under it."""
    session = demo_session()
    lines = texts(panel_on(qtbot, session))
    assert [line.split(".")[0] for line in lines] == [str(n) for n in range(1, len(session.design.steps) + 1)]
    for line, stage in zip(lines, session.replay.stages, strict=True):
        assert stage.step.sentence(stage.before, "in") in line
        assert all(note.sentence in line for note in session.replay.notes_of(stage))


def test_the_step_that_was_just_done_is_in_sight(qtbot: QtBot) -> None:
    """However long the list is, she sees that her act has been written down."""
    session = demo_session()
    whole = session.design
    session.do("Take one back", whole.without_step(whole.steps[-1].id))
    panel = panel_on(qtbot, session)
    panel.resize(300, 260)
    session.do("Do it again", whole)
    found = steps_list(panel)
    last = found.visualItemRect(found.item(found.count() - 1))
    assert found.viewport().rect().intersects(last)
    assert not found.viewport().rect().contains(found.visualItemRect(found.item(0)))


def test_the_draft_s_warnings_are_in_inches(qtbot: QtBot) -> None:
    """Who measures in inches is not warned in millimetres."""
    session = block_session()
    body = msgspec.structs.replace(session.design.body, measurements={**session.design.body.measurements, **LOW_BUST})
    session.do("Measure again", msgspec.structs.replace(session.design, body=body, unit="in"))
    panel = panel_on(qtbot, session)
    assert "armhole" in panel.draft_notes.text()
    assert " in wide" in panel.draft_notes.text()
    assert " mm" not in panel.draft_notes.text()


def test_selecting_a_step_says_which_and_edit_asks_for_it(qtbot: QtBot) -> None:
    """A click on a line chooses its step; Edit passes its id on."""
    panel = panel_on(qtbot, demo_session())
    with qtbot.waitSignal(panel.chosen) as chosen:
        click_step(panel, 2)
    assert chosen.args == ["sheer-line-1"]
    with qtbot.waitSignal(panel.edit_requested) as asked:
        press(panel, "Edit")
    assert asked.args == ["sheer-line-1"]


def test_a_step_that_lost_its_ground_is_marked_and_one_undo_brings_all_back(qtbot: QtBot) -> None:
    """Without the sheer line the cut along it is refused at its own line, in its own sentence."""
    session = panels_session()
    panel = panel_on(qtbot, session)
    before = texts(panel)
    click_step(panel, 0)
    press(panel, "Delete")
    assert session.replay.refused is not None
    (line,) = texts(panel)
    assert line.startswith("≠ 1.")
    assert session.replay.refused.sentence in line
    session.undo()
    assert texts(panel) == before


def test_what_can_no_longer_be_done_is_named(qtbot: QtBot) -> None:
    """Deleting the sheer line names the cut that stood on it, why, and the way back; undo takes the words away."""
    session = panels_session()
    panel = panel_on(qtbot, session)
    click_step(panel, 0)
    press(panel, "Delete")
    assert session.replay.refused is not None
    assert panel.refusal.text().startswith("≠ Step 1 (cut")
    assert session.replay.refused.sentence in panel.refusal.text()
    session.undo()
    assert not panel.refusal.text()


def test_a_step_is_switched_off_and_on_again(qtbot: QtBot) -> None:
    """Off, the garment is as without it and the line says so; on again, the garment is bit for bit as before."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    last = session.design.steps[-1]
    without = session.replay.before(last.id)
    whole = session.replay.garment
    click_step(panel, len(session.design.steps) - 1)
    press(panel, "Switch off")
    assert session.replay.garment is without
    assert texts(panel)[-1].endswith(": switched off.")
    press(panel, "Switch on")
    assert session.design.off == ()
    for name, piece in whole.pieces.items():
        assert np.array_equal(session.replay.garment.piece(name).loop, piece.loop)
    assert session.history.undo_label == f"Switch on step {len(session.design.steps)}"


def test_a_deleted_step_leaves_nothing_switched_off(qtbot: QtBot) -> None:
    """The list of what is off names only steps that are there."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    click_step(panel, len(session.design.steps) - 1)
    press(panel, "Switch off")
    press(panel, "Delete")
    assert session.design.off == ()


def test_looking_back_shows_the_garment_after_a_step_and_changes_nothing() -> None:
    """The shown garment is that stage's; dropping the view shows all again; the last step is all there is."""
    session = demo_session()
    design, stages = session.design, session.replay.stages
    assert session.look_back(stages[1].step.id)
    assert session.shown.garment is stages[1].garment
    assert session.looks_back == 2
    session.drop_preview()
    assert not session.look_back(stages[-1].step.id)
    assert session.shown is session.replay
    assert session.design is design


def test_steps_after_a_refused_one_wait_for_it(qtbot: QtBot) -> None:
    """Nothing after the step that cannot be done is said to be done."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    click_step(panel, 2)
    QTest.keyClick(steps_list(panel), Qt.Key.Key_Delete)
    lines = texts(panel)
    assert lines[2].startswith("≠ 3.")
    assert all("waits for step 3" in line for line in lines[3:])


def test_a_step_moves_only_where_the_work_can_still_be_done(qtbot: QtBot) -> None:
    """The cut cannot stand before the line that it follows, and the list says why; two free steps change places."""
    session = panels_session()
    panel = panel_on(qtbot, session)
    design = session.design
    click_step(panel, 1)
    press(panel, "Move up")
    assert session.design is design
    assert "cannot stand before step 1" in panel.refusal.text()
    assert panel.refusal.isVisible()

    session.begin(demo_session().design)
    click_step(panel, 0)
    press(panel, "Move down")
    assert [step.id for step in session.design.steps[:2]] == ["neckline-1", "pivot-1"]
    assert session.history.undo_label == "Move step 1 to 2"
    assert panel.selected == "pivot-1"


def test_buttons_rest_while_nothing_is_selected(qtbot: QtBot) -> None:
    """A block without steps offers nothing to change."""
    panel = panel_on(qtbot, block_session())
    assert texts(panel) == []
    buttons = panel.findChildren(QPushButton)
    names = {"Edit", "By numbers", "Switch off", "Move up", "Move down", "Delete"}
    assert {button.accessibleName() for button in buttons} == names
    assert not any(button.isEnabled() for button in buttons)


def test_a_step_that_cannot_be_put_into_words_says_why(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """The refusal stands at the step, marked; the other lines are as they were."""
    session = demo_session()
    before = texts(panel_on(qtbot, session))
    step = session.design.steps[2]

    def refuse(*_args: object) -> str:
        raise Refusal("The sheer line of the front is not there: undo.")

    monkeypatch.setattr(type(step), "told", refuse)
    after = texts(panel_on(qtbot, session))
    assert after[2].startswith("≠ 3. ")
    assert after[2].endswith("≠ The sheer line of the front is not there: undo.")
    assert after[:2] == before[:2]


def test_a_refused_step_is_brought_into_sight(qtbot: QtBot) -> None:
    """In a low list the last line is out of view; once it is refused, it and its sentence are in sight."""
    session = demo_session()
    panel = panel_on(qtbot, session)
    panel.resize(300, 190)
    design = session.design
    session.do("Delete", design.without_step(design.steps[2].id))
    QApplication.processEvents()
    found = steps_list(panel)
    (row,) = [row for row, text in enumerate(texts(panel)) if text.startswith("≠")]
    shown = found.visualItemRect(found.item(row))
    assert shown.bottom() <= found.viewport().height()
    assert shown.top() >= 0
    assert found.verticalScrollBar().value() > 0


def test_an_empty_list_says_what_will_stand_in_it_and_no_button_is_grey_without_a_reason(qtbot: QtBot) -> None:
    """A new block has no step: the list says so, and every button that cannot be pressed says what is to be done first.

    With the first step selected only Move up is left, which says that it is the first.
    """
    empty = panel_on(qtbot, block_session())
    assert steps_list(empty).accessibleDescription().startswith("Nothing is done to the block yet.")
    assert all(button.toolTip().endswith("Choose a step in the list first.") for button in grey_buttons(empty))
    panel = panel_on(qtbot, demo_session())
    assert steps_list(panel).accessibleDescription() == ""
    steps_list(panel).setCurrentRow(0)
    assert [button.text() for button in grey_buttons(panel)] == ["Move up"]
    assert grey_buttons(panel)[0].toolTip().endswith("It is the first.")


def grey_buttons(panel: StepsPanel) -> list[QPushButton]:
    """The buttons that cannot be pressed now."""
    return [button for button in panel.findChildren(QPushButton) if not button.isEnabled()]


def test_what_the_drafting_has_to_say_stands_before_the_first_step(qtbot: QtBot) -> None:
    """Each note of the block is in sight above the list; a block without notes takes no room for them."""
    session = block_session()
    panel = panel_on(qtbot, session)
    assert not panel.draft_notes.isVisible()
    notes = ("The shoulder is steeper than the front allows.", "The waist dart is wide.")
    session.replay = replace(session.replay, draft=replace(session.replay.draft, notes=notes))
    session.changed.emit(Changed())
    assert panel.draft_notes.isVisible()
    assert [note for id_, note in panel_notes(session) if id_ == BLOCK] == list(notes)
    assert panel.draft_notes.text() == "\n".join(notes)
    assert panel.draft_notes.geometry().bottom() <= steps_list(panel).geometry().top()


def panel_notes(session: Session) -> list[tuple[str, str]]:
    """Every note of the replay with the id that it stands under."""
    return [(id_, note.sentence) for id_, note in session.replay.notes]
