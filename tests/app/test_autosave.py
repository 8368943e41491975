"""The keeper of unsaved work by itself, without a window: when it writes, when it waits, and what it throws away."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication

from app import autosave, journal
from app.autosave import Autosave
from app.journal import note_bad_ends
from app.session import Changed, Session
from core.errors import Refusal
from core.file.reader import read_design
from core.file.recovery import keep_work, kept_works
from tests.core.file.sample_designs import block_design

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from core.design.design import Design


@pytest.fixture
def keeper(qapp: QObject, monkeypatch: pytest.MonkeyPatch) -> Iterator[Autosave]:
    """One that follows a session of its own and writes 5 ms after a change."""
    monkeypatch.setattr(autosave, "AFTER", 5)
    owner = QObject(qapp)
    found = Autosave(Session(block_design()), owner)
    yield found
    found.end(keeps=False)
    owner.deleteLater()


def note(keeper: Autosave, words: str) -> None:
    """One act."""
    keeper.session.do("A note", replace(keeper.session.design, notes=words))


def kept(keeper: Autosave) -> str:
    """The notes in the copy, "" while there is none."""
    return read_design(keeper.journal.copy).notes if keeper.journal.copy.exists() else ""


def test_a_drag_under_way_is_not_kept(qtbot: QtBot, keeper: Autosave) -> None:
    """A preview is no work yet: nothing waits to be written."""
    keeper.session.preview(replace(keeper.session.design, notes="dragged"))
    keeper.session.changed.emit(Changed(preview=True))
    assert not keeper._timer.isActive()
    qtbot.wait(20)
    assert kept(keeper) == ""


def test_an_act_while_a_copy_is_written_is_kept_after_it(
    qtbot: QtBot, keeper: Autosave, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One writing at a time; what came meanwhile is not forgotten."""
    goes_on, begun = threading.Event(), []

    def slow(*arguments: object) -> None:
        begun.append(arguments)
        goes_on.wait(5.0)
        keep_work(*arguments)  # type: ignore[arg-type] # handed on as they came

    monkeypatch.setattr(autosave, "keep_work", slow)
    note(keeper, "first")
    qtbot.waitUntil(lambda: len(begun) == 1)
    note(keeper, "second")
    qtbot.wait(30)
    assert len(begun) == 1
    goes_on.set()
    qtbot.waitUntil(lambda: kept(keeper) == "second")
    assert len(begun) == 2


def test_a_copy_waits_for_the_hand_but_not_for_ever(
    qtbot: QtBot, keeper: Autosave, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While a button is down nothing is written, until the half minute is up."""
    monkeypatch.setattr(autosave, "HAND_BUSY", 5)
    monkeypatch.setattr(QGuiApplication, "mouseButtons", lambda: Qt.MouseButton.LeftButton)
    note(keeper, "held")
    note(keeper, "held still")
    qtbot.wait(40)
    assert kept(keeper) == ""
    assert keeper._timer.isActive()
    monkeypatch.setattr(autosave, "AT_LEAST_EVERY", 0.0)
    qtbot.waitUntil(lambda: kept(keeper) == "held still")


def test_work_that_was_saved_before_its_turn_came_needs_no_copy(keeper: Autosave) -> None:
    """The clock may strike after the save."""
    keeper._write()
    assert keeper._writing is None
    assert kept(keeper) == ""


def test_a_failed_copy_is_said_and_tried_again_at_the_next_act(
    qtbot: QtBot, keeper: Autosave, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk may have room again."""
    heard: list[str] = []

    def refuse(*_arguments: object) -> None:
        raise Refusal("The disk is full.")

    keeper.said.connect(heard.append)
    with monkeypatch.context() as patched:
        patched.setattr(autosave, "keep_work", refuse)
        note(keeper, "first")
        qtbot.waitUntil(lambda: heard == ["The disk is full."])
        assert not keeper.keep_now()
    note(keeper, "second")
    qtbot.waitUntil(lambda: kept(keeper) == "second")
    assert keeper.keep_now()


def test_recovered_work_keeps_its_old_copy_until_there_is_a_new_one(
    keeper: Autosave, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the new one cannot be written the old one is all there is."""

    def refuse(*_arguments: object) -> None:
        raise Refusal("The disk is full.")

    old = journal.folder() / "crashed.0.sheer"
    keep_work(old, replace(block_design(), notes="hers"), None)
    ((work,), _) = kept_works(journal.folder())
    with monkeypatch.context() as patched:
        patched.setattr(autosave, "keep_work", refuse)
        keeper.take_over(work)
    assert old.exists()
    keeper.take_over(work)
    assert not old.exists()
    assert keeper.session.is_dirty
    assert kept(keeper) == "hers"


def test_a_window_that_was_never_asked_leaves_its_copy(qapp: QObject) -> None:
    """At the end of the desktop's session nobody answers: the copy stays, and the end counts as a clean one."""
    owner = QObject(qapp)
    keeper = Autosave(Session(block_design()), owner)
    note(keeper, "unasked")
    assert keeper.keep_now()
    keeper.end(keeps=True)
    owner.deleteLater()
    assert kept(keeper) == "unasked"
    assert note_bad_ends() == 0


def test_nothing_to_keep_is_safe(keeper: Autosave) -> None:
    """What the file holds already needs no copy."""
    assert keeper.keep_now()
    assert kept(keeper) == ""


def half_typed(design: Design) -> Design:
    """A stand-in for a field in which something stands that is not meant yet."""
    return replace(design, notes="half typed")


def test_what_is_half_typed_is_kept_and_goes_when_it_is_given_up(qtbot: QtBot, keeper: Autosave) -> None:
    """Though the design itself has no change in it."""
    keeper.in_hand = half_typed
    keeper.wait()
    qtbot.waitUntil(lambda: kept(keeper) == "half typed")
    assert not keeper.session.is_dirty
    keeper.in_hand = lambda design: design
    keeper.wait()
    qtbot.waitUntil(lambda: not keeper.journal.copy.exists())


def test_a_fault_in_half_a_text_does_not_stand_in_the_way_of_the_work(keeper: Autosave) -> None:
    """It may be that very text that made the program fail."""

    def fail(_design: Design) -> Design:
        raise ZeroDivisionError

    keeper.in_hand = fail
    note(keeper, "hers")
    assert keeper.keep_now()
    assert kept(keeper) == "hers"


def test_two_windows_keep_their_copies_apart(qapp: QObject, keeper: Autosave) -> None:
    """Each has a name of its own, and the next design in the same window another."""
    owner = QObject(qapp)
    other = Autosave(Session(block_design()), owner)
    assert other.journal.copy != keeper.journal.copy
    before = other.journal.copy
    other.session.begin(block_design())
    assert other.journal.copy != before
    assert set(journal.busy()) == {other.journal.owner, keeper.journal.owner}
    other.end(keeps=False)
    owner.deleteLater()
    assert set(journal.busy()) == {keeper.journal.owner}


def test_where_no_folder_can_be_made_the_window_opens_all_the_same(
    qapp: QObject, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Why no copy can be kept is said when the first one is due."""
    (tmp_path / "in the way").write_bytes(b"")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "in the way"))
    owner = QObject(qapp)
    keeper = Autosave(Session(block_design()), owner)
    heard: list[str] = []
    keeper.said.connect(heard.append)
    note(keeper, "nowhere")
    assert not keeper.keep_now()
    assert heard[0].startswith("No recovery copy can be kept: ")
    keeper.end(keeps=True)
    owner.deleteLater()
