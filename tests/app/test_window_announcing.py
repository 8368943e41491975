"""What assistive technology is told unasked: each act, undo, and seams whose verdict changed (desktop convention)."""

from __future__ import annotations

import msgspec
import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.session import Session
from app.window.announcing import Announcer, changed_verdicts
from core.checks.seam_rows import seam_rows
from core.steps.take_in import Level, TakeIn
from tests.demo_designs import concert


@pytest.fixture
def heard(qtbot: QtBot) -> tuple[Session, list[str]]:
    """The demo's session, and everything that is announced of it."""
    session, said = Session(concert()), list[str]()
    widget = QWidget()
    session.setParent(widget)
    qtbot.addWidget(widget)
    Announcer(session, widget).announced.connect(said.append)
    return session, said


def test_an_act_and_its_undo_are_said(heard: tuple[Session, list[str]]) -> None:
    """The label of the act once, and once more as undone; a preview says nothing."""
    session, said = heard
    without = session.design.without_step(session.design.steps[-1].id)
    session.preview(without)
    session.drop_preview()
    assert said == []
    session.do("Delete step 8", without)
    assert said[-1].startswith("Delete step 8.")
    session.undo()
    assert said[-1].startswith("Undone: Delete step 8.")


def test_a_seam_that_no_longer_matches_is_named(heard: tuple[Session, list[str]]) -> None:
    """Its verdict in a word and by how much; a seam that was exact and still is goes unsaid."""
    session, _ = heard
    rows = seam_rows(session.replay.garment)
    off = (replace(rows[0], difference=25.4, verdict="wrong"), *rows[1:])
    assert changed_verdicts(rows, off, "in") == [f"Seam {rows[0].words}: wrong, 1 in apart."]
    assert changed_verdicts(off, rows, "in") == [f"Seam {rows[0].words}: exact."]
    assert changed_verdicts(rows, rows, "in") == []


def test_what_cannot_be_done_is_said(heard: tuple[Session, list[str]]) -> None:
    """The sentence of the refusing step follows the act that led to it."""
    session, said = heard
    session.do("Delete step 3", session.design.without_step(session.design.steps[2].id))
    assert session.replay.refused is not None
    assert session.replay.refused.sentence in said[-1]


def test_what_a_new_step_has_to_say_is_said_whole(heard: tuple[Session, list[str]]) -> None:
    """Its notes follow the act once, however long; an act that leaves the steps as they are repeats none of them."""
    session, said = heard
    levels = (Level("sheer_line", 3.0, 3.0), Level("bust_point", 0.0, 0.0))
    session.do("Take in", session.design.with_step(TakeIn("take-in-1", "front.princess", levels)))
    notes = [note.sentence for note in session.replay.notes_of(session.replay.stages[-1])]
    assert len(notes) > 1
    assert all(note in said[-1] for note in notes)
    session.do("Notes", msgspec.structs.replace(session.design, notes="other"))
    assert not any(note in said[-1] for note in notes)
