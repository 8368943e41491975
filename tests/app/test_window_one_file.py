"""A file that others have open, that changed on the disk, that cannot be written, or that a newer version wrote."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMessageBox

from app.actions.files import demo_design
from app.document_lock import lock_of
from core.errors import Refusal
from core.file.reader import read_design
from core.file.writer import design_to_bytes, save_design
from tests.app.at_window import alter, bust, dialog, opened, press

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytestqt.qtbot import QtBot


ROOT = Path(__file__).resolve().parents[2]

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
