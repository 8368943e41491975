"""Work that was not saved outlives the program: a copy is kept, offered at the next start, and opens unsaved."""

from __future__ import annotations

import os
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit, QListWidget, QMessageBox

from app import autosave, journal, messages
from core.file.reader import read_design
from core.file.recovery import differences, keep_work
from tests.app.at_window import alter, bust, dialog, found, name_file, opened, press

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Copies are written 10 ms after a change, so that a test need not wait for two seconds."""
    monkeypatch.setattr(autosave, "AFTER", 10)


def copies() -> list[Path]:
    """The copies in the folder, whoever they belong to."""
    return sorted(journal.folder().glob("*.sheer"))


def left_behind(window: MainWindow) -> Path:
    """A copy as a program that crashed leaves it, of the design in a window; its owner runs no more."""
    copy = journal.folder() / "crashed.0.sheer"
    keep_work(copy, window.session.design, window.session.path)
    return copy


# --------------------------------------------------------------------------------------------------------------
# keeping


@pytest.mark.usefixtures("at_once")
def test_a_change_is_kept_soon_and_the_copy_goes_when_it_is_saved(qtbot: QtBot, tmp_path: Path) -> None:
    """The copy holds the change, in a folder for her eyes only; after a save there is nothing left to recover."""
    window = opened(qtbot)
    assert not copies()
    alter(window, "bust", "38")
    qtbot.waitUntil(lambda: len(copies()) == 1)
    assert bust(read_design(copies()[0])) == pytest.approx(38)
    assert os.name == "nt" or journal.folder().stat().st_mode & 0o777 == 0o700
    QTest.keyClick(window.table, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    name_file(qtbot, "Save the design", tmp_path / "hers.sheer")
    qtbot.waitUntil(lambda: not window.isWindowModified())
    assert not copies()


@pytest.mark.usefixtures("at_once")
@pytest.mark.parametrize(
    ("name", "text", "typed"),
    [("bust", "38", "bust 38 in"), ("client's name", "Ada", "client altered"), ("bust ease", "3", "ease altered")],
)
def test_what_is_half_typed_is_in_the_copy(qtbot: QtBot, name: str, text: str, typed: str) -> None:
    """Neither Enter nor Tab was pressed, the text stands in its field and no act was done; after Esc the copy goes."""
    window = opened(qtbot)
    before = window.session.design
    field = found(QLineEdit, name, window)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    qtbot.waitUntil(lambda: bool(copies()) and typed in differences(before, read_design(copies()[0])))
    assert field.text() == text
    assert window.session.design is before
    QTest.keyClick(field, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not copies())


@pytest.mark.usefixtures("at_once")
def test_what_is_half_typed_and_cannot_be_taken_is_left_out(qtbot: QtBot) -> None:
    """The rest of the work is kept all the same."""
    window = opened(qtbot)
    alter(window, "client's name", "Ada")
    field = found(QLineEdit, "bust", window)
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "3 ells")
    qtbot.waitUntil(lambda: bool(copies()))
    assert window.keep_aside()
    assert read_design(copies()[0]) == window.session.design


@pytest.mark.usefixtures("at_once")
def test_the_copy_goes_with_undo_and_with_discarded_work(qtbot: QtBot) -> None:
    """What equals the file needs no copy, and what she gave up is not brought up again."""
    window = opened(qtbot)
    alter(window, "bust", "38")
    qtbot.waitUntil(lambda: len(copies()) == 1)
    window.session.undo()
    assert not copies()
    window.session.redo()
    qtbot.waitUntil(lambda: len(copies()) == 1)
    window.close()
    press("Discard", dialog(qtbot, "Unsaved work"))
    assert list(journal.folder().iterdir()) == []


def test_a_copy_waits_for_rest_but_not_for_ever(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two seconds after the last change, and never more than half a minute after the first: by the steady clock."""
    window = opened(qtbot)
    waits: list[int] = []
    monkeypatch.setattr(window.desk.autosave._timer, "start", waits.append)
    clock = 1000.0
    monkeypatch.setattr(time, "monotonic", lambda: clock)
    for second in range(32):
        clock = 1000.0 + second
        window.session.do("A note", replace(window.session.design, notes=str(second)))
    monkeypatch.undo()
    assert waits[:26] == [2000] * 26
    assert waits[-3:] == [0, 0, 0]
    assert max(second * 1000 + wait for second, wait in enumerate(waits[:29])) <= 30_000


@pytest.mark.usefixtures("at_once")
def test_the_copy_is_written_beside_the_window(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """Not in its thread, so that no frame waits for a disk; and not while a mouse button is down."""
    threads = []
    monkeypatch.setattr(autosave, "keep_work", lambda *_args: threads.append(threading.current_thread()))
    monkeypatch.setattr(autosave, "HAND_BUSY", 10)
    window = opened(qtbot)
    buttons = [Qt.MouseButton.LeftButton] * 3
    monkeypatch.setattr(QGuiApplication, "mouseButtons", lambda: buttons.pop() if buttons else Qt.MouseButton.NoButton)
    alter(window, "bust", "38")
    qtbot.waitUntil(lambda: bool(threads))
    assert not buttons
    assert threads[0] is not threading.main_thread()
    qtbot.waitUntil(lambda: window.desk.autosave._writing is None)


@pytest.mark.usefixtures("at_once")
def test_that_no_copy_can_be_kept_is_said(qtbot: QtBot) -> None:
    """A folder that cannot be made is no reason to stop, and none to be silent."""
    journal.folder().parent.mkdir(parents=True, exist_ok=True)
    window = opened(qtbot)
    for path in journal.folder().iterdir():
        path.unlink()
    journal.folder().rmdir()
    journal.folder().write_text("in the way")
    alter(window, "bust", "38")
    qtbot.waitUntil(lambda: "No recovery copy" in window.status.words.text())
    assert not window.keep_aside()


def test_a_fault_keeps_the_work_and_says_so(qtbot: QtBot) -> None:
    """Before the box is shown the copy is on the disk; the box says where it is and what to do."""
    window = opened(qtbot)
    alter(window, "bust", "38")
    messages.record("ZeroDivisionError")
    box = dialog(qtbot, "Fault")
    assert bust(read_design(copies()[0])) == pytest.approx(38)
    assert isinstance(box, QMessageBox)
    assert "is kept for File, Recover work" in box.informativeText()
    press("Close", box)
    messages.unhandled.clear()


# --------------------------------------------------------------------------------------------------------------
# recovering


def test_recovered_work_opens_as_an_unsaved_copy(qtbot: QtBot, tmp_path: Path) -> None:
    """The list says which file, when and what differs; the file stays as it was, and the old copy goes."""
    path = tmp_path / "hers.sheer"
    first = opened(qtbot)
    first.session.save(path)
    alter(first, "bust", "38")
    copy = left_behind(first)
    before = path.read_bytes()
    window = opened(qtbot)
    assert window.desk.recovery.offer()
    box = dialog(qtbot, "Recover work")
    (words,) = [found(QListWidget, "Work to recover", box).item(0).text()]
    assert words.startswith("hers.sheer, kept ")
    assert "bust 38 in, was 3" in words
    press("Recover", box)
    assert bust(window.session.design) == pytest.approx(38)
    assert window.session.path is None
    assert window.isWindowModified()
    assert path.read_bytes() == before
    assert not copy.exists()
    assert window.desk.autosave.journal.copy in copies()


def test_kept_work_is_thrown_away_only_when_that_is_confirmed(qtbot: QtBot) -> None:
    """It cannot be brought back, so it is asked about; Cancel is the answer to Enter and Esc."""
    window = opened(qtbot)
    copy = left_behind(window)
    window.desk.recovery.ask()
    box = dialog(qtbot, "Recover work")
    press("Throw away…", box)
    QTest.keyClick(dialog(qtbot, "Throw away"), Qt.Key.Key_Escape)
    assert copy.exists()
    press("Throw away…", box)
    press("Throw away", dialog(qtbot, "Throw away"))
    assert not copy.exists()


def test_nothing_to_recover_is_said(qtbot: QtBot) -> None:
    """The menu answers also where there is nothing, and the start does not ask."""
    window = opened(qtbot)
    assert not window.desk.recovery.offer()
    window.desk.recovery.ask()
    box = dialog(qtbot, "Recover work")
    assert any(label.text().startswith("There is no work to recover") for label in box.findChildren(QLabel))
    press("Close", box)


def test_a_damaged_copy_is_counted_and_left(qtbot: QtBot) -> None:
    """It does not stand in the way of the others, and nobody repairs it in silence."""
    window = opened(qtbot)
    left_behind(window)
    spoilt = journal.folder() / "crashed.1.sheer"
    spoilt.write_bytes(b"half")
    window.desk.recovery.ask()
    box = dialog(qtbot, "Recover work")
    assert found(QListWidget, "Work to recover", box).count() == 1
    assert any("1 more copy is damaged" in label.text() for label in box.findChildren(QLabel))
    assert spoilt.read_bytes() == b"half"


@pytest.mark.usefixtures("at_once")
def test_the_work_of_a_window_that_runs_is_not_offered(qtbot: QtBot) -> None:
    """It is nobody's to recover."""
    window = opened(qtbot)
    alter(window, "bust", "38")
    qtbot.waitUntil(lambda: len(copies()) == 1)
    other = opened(qtbot)
    assert not other.desk.recovery.offer()
