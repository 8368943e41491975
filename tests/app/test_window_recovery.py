"""Work that was not saved outlives the program: a copy is kept, offered at the next start, and opens unsaved."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QListWidget, QMessageBox

from app import autosave, journal, messages, settings
from app.actions.files import demo_design
from app.document_lock import lock_of
from app.journal import note_bad_ends
from app.window.start import why_empty
from core.errors import Refusal
from core.file.reader import read_design
from core.file.recovery import keep_work, kept_works
from core.file.writer import design_to_bytes, save_design
from tests.app.at_window import alter, dialog, found, name_file, opened, press

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot

    from app.window.main_window import MainWindow
    from core.design.design import Design

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Copies are written 10 ms after a change, so that a test need not wait for two seconds."""
    monkeypatch.setattr(autosave, "AFTER", 10)


def copies() -> list[Path]:
    """The copies in the folder, whoever they belong to."""
    return sorted(journal.folder().glob("*.sheer"))


def bust(design: Design) -> float:
    """In inches."""
    return design.body.measurements["bust"] / 25.4


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
    assert len(copies()) == 1


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


# --------------------------------------------------------------------------------------------------------------
# bad ends

WORKING = """
from app.window import start
from msgspec.structs import replace

real = start.Running.run
def run(self):
    session = self.window.session
    body = replace(session.design.body, measurements={**session.design.body.measurements, "bust": 38 * 25.4})
    session.do("bust", replace(session.design, body=body))
    return real(self)
start.Running.run = run
start.run_window(None, demo=True)
"""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="signals of another system")
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM, signal.SIGHUP])
def test_killed_or_ended_the_work_is_there_at_the_next_start(number: signal.Signals) -> None:
    """A process of its own alters a bust and is killed after its copy, or asked to end at once, before it."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    process = subprocess.Popen(
        [sys.executable, "-c", WORKING], cwd=ROOT, env=environment, stderr=subprocess.PIPE, text=True
    )
    wanted = "*.sheer" if number == signal.SIGKILL else "*.lock"
    until = time.monotonic() + 30
    while not list(journal.folder().glob(wanted)) and time.monotonic() < until and process.poll() is None:
        time.sleep(0.02)
    if number != signal.SIGKILL:
        time.sleep(0.7)  # until the event loop runs; the copy is due after two seconds
    process.send_signal(number)
    _, errors = process.communicate(timeout=30)
    works, damaged = kept_works(journal.folder(), busy=journal.busy())
    assert (len(works), len(damaged)) == (1, 0), errors
    assert bust(works[0].design) == pytest.approx(38)
    assert ("Unsaved work was kept" in errors) == (number != signal.SIGKILL)
    assert note_bad_ends() == 0  # asking who is busy has freed the lock of the killed one


def test_two_bad_ends_within_a_minute_start_empty(monkeypatch: pytest.MonkeyPatch) -> None:
    """A lock that nobody holds is a bad end; what ended it twice is not opened a third time, and that is said."""
    folder = journal.folder()
    folder.mkdir(parents=True)
    ended = subprocess.run([sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True)
    held = f"{int(ended.stdout)}\npython\n{os.uname().nodename}\n"
    (folder / "one.lock").write_text(held)
    assert note_bad_ends() == 1
    assert list(folder.iterdir()) == []
    (folder / "two.lock").write_text(held)
    assert note_bad_ends() == 2
    assert "gown.sheer was not opened" in why_empty(Path("gown.sheer"))
    assert "Recover work" in why_empty(None)
    later = time.time() + 61
    monkeypatch.setattr(time, "time", lambda: later)
    assert note_bad_ends() == 0
    assert settings.bad_ends() == []


def test_a_clean_exit_is_no_bad_end(qtbot: QtBot) -> None:
    """Nor is a window that runs still."""
    window = opened(qtbot)
    assert note_bad_ends() == 0
    window.close()
    assert note_bad_ends() == 0
    assert list(journal.folder().iterdir()) == []


# --------------------------------------------------------------------------------------------------------------
# two windows, and files that change under one


HOLDING = """
import sys
from pathlib import Path
from app.document_lock import DocumentLock
lock = DocumentLock()
lock.hold(Path(sys.argv[1]))
print("held", flush=True)
sys.stdin.read()
"""


@contextmanager
def held_elsewhere(path: Path) -> Iterator[subprocess.Popen[str]]:
    """Another process has the file open."""
    command = [sys.executable, "-c", HOLDING, str(path)]
    with subprocess.Popen(command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "held\n"
        yield process
        process.kill()


def message_words(qtbot: QtBot, name: str = "Message") -> str:
    """What a box says."""
    box = dialog(qtbot, name)
    assert isinstance(box, QMessageBox)
    return box.text()


def test_a_file_that_is_open_elsewhere_is_asked_about(qtbot: QtBot, tmp_path: Path) -> None:
    """Open a copy gives an unsaved one; saving over it is refused; the mark of a killed process is free, however old.

    Qt finds out that the process has ended; that a mark is old says nothing.
    """
    path = tmp_path / "hers.sheer"
    save_design(path, demo_design())
    with held_elsewhere(path) as other:
        window = opened(qtbot, path)
        assert message_words(qtbot, "Open elsewhere").startswith(
            f"hers.sheer is open in another window (process {other.pid} on "
        )
        press("Open a copy", dialog(qtbot, "Open elsewhere"))
        assert window.windowTitle().startswith("Concert bodice")
        assert window.session.design == demo_design()
        window.desk.files._write(path, window.close_now)
        assert "save under another name, or close it there" in message_words(qtbot)
        press("OK", dialog(qtbot, "Message"))
    mark = lock_of(path)
    os.utime(mark, (0, 0))
    window.desk.files.open_path(path)
    assert window.session.path == path
    window.close()
    assert not mark.exists()


@pytest.mark.parametrize(("answer", "mine"), [("Keep mine", True), ("Open theirs", False), ("Cancel", False)])
def test_a_file_that_changed_on_the_disk_is_asked_about(qtbot: QtBot, tmp_path: Path, answer: str, mine: bool) -> None:
    """Mine goes in and theirs stays beside it; theirs is opened; or nothing happens and the work is still unsaved."""
    path = tmp_path / "hers.sheer"
    window = opened(qtbot)
    window.session.save(path)
    theirs = design_to_bytes(demo_design())
    path.write_bytes(theirs)
    alter(window, "bust", "38")
    QTest.keyClick(window.table, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    press(answer, dialog(qtbot, "Changed on the disk"))
    assert (bust(read_design(path)) == pytest.approx(38)) == mine
    assert window.isWindowModified() == (answer == "Cancel")
    if mine:
        assert (tmp_path / "hers.sheer~").read_bytes() == theirs
    if answer == "Open theirs":
        assert window.session.design == demo_design()


def test_a_save_that_fails_is_told_and_the_work_is_still_unsaved(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that is full or at fault: the old file is whole, a sentence says so, and the window is still marked."""
    path = tmp_path / "hers.sheer"
    window = opened(qtbot)
    window.session.save(path)
    before = path.read_bytes()
    alter(window, "bust", "38")

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        QTest.keyClick(window.table, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
        assert "the disk is full; nothing was changed" in message_words(qtbot)
    press("OK", dialog(qtbot, "Message"))
    assert window.isWindowModified()
    assert path.read_bytes() == before
    QTest.keyClick(window.table, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not window.isWindowModified()


def test_a_file_of_a_newer_version_is_shown_and_never_written_over(qtbot: QtBot, tmp_path: Path) -> None:
    """It opens as a copy without a file and with a message; saving on to it is refused, its bytes are untouched."""
    path = tmp_path / "newer.sheer"
    newer = design_to_bytes(demo_design()).replace(b'"schema": 1', b'"schema": 7')
    path.write_bytes(newer)
    window = opened(qtbot, path)
    assert "newer Sheerwright (file schema 7; this one knows 1)" in message_words(qtbot)
    press("OK", dialog(qtbot, "Message"))
    assert window.session.path is None
    assert len(window.session.design.steps) == 8
    with pytest.raises(Refusal, match="saved by a newer Sheerwright and is not written over"):
        window.session.save(path)
    assert path.read_bytes() == newer
