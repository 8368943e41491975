"""The mark beside a design that is open: one at a time, gone when it is let go, and none where none can be made."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSysInfo

from app.document_lock import DocumentLock, lock_of, open_elsewhere

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def gown(tmp_path: Path) -> Path:
    """A file."""
    path = tmp_path / "gown.sheer"
    path.write_bytes(b"x")
    return path


def test_the_mark_lies_beside_the_file_while_it_is_open(gown: Path, tmp_path: Path) -> None:
    """Links followed; another design takes its place, none at all takes it away."""
    link = tmp_path / "link.sheer"
    link.symlink_to(gown)
    assert lock_of(link) == lock_of(gown) == tmp_path / ".~sheerwright-gown.sheer.lock"
    lock = DocumentLock()
    lock.hold(gown)
    assert lock_of(gown).exists()
    lock.hold(tmp_path / "veil.sheer")
    assert not lock_of(gown).exists()
    assert lock_of(tmp_path / "veil.sheer").exists()
    lock.hold(None)
    assert not lock_of(tmp_path / "veil.sheer").exists()
    lock.release()


def test_holding_what_is_held_asks_nothing_anew(gown: Path) -> None:
    """After each save the same file is held again: its mark stays the very same."""
    lock = DocumentLock()
    lock.hold(gown)
    before = lock_of(gown).stat().st_ino
    lock.hold(gown)
    assert lock_of(gown).stat().st_ino == before
    lock.release()


def test_open_in_this_process_is_not_open_elsewhere(gown: Path) -> None:
    """Nor is what nobody has open, or a file in a folder that is not there; asking leaves no mark behind."""
    lock = DocumentLock()
    lock.hold(gown)
    assert open_elsewhere(gown) == ""
    lock.release()
    assert open_elsewhere(gown) == ""
    assert not lock_of(gown).exists()
    assert open_elsewhere(gown.parent / "gone" / "gown.sheer") == ""


def test_open_in_another_process_is_said_with_its_number(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And the machine's name: the folder may be shared by two."""
    lock = DocumentLock()
    lock.hold(gown)
    own = os.getpid()
    monkeypatch.setattr(os, "getpid", lambda: own + 1)
    assert open_elsewhere(gown) == f"in another window (process {own} on {QSysInfo.machineHostName()})"
    lock.release()
