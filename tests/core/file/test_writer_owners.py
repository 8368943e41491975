"""Who owns a file that is written over, and what odd systems say: it is written, or refused in a sentence."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import msgspec
import pytest

from core.errors import Refusal
from core.file.reader import read_design
from core.file.writer import design_to_bytes, save_design, write_atomically
from core.steps.style_line import StyleLine
from tests.core.file.sample_designs import block_design, panel_design

OLD, NEW = b"old", b"new"


@pytest.fixture
def gown(tmp_path: Path) -> Path:
    """A file of ours that its group may write too."""
    path = tmp_path / "gown.sheer"
    path.write_bytes(OLD)
    path.chmod(0o660)
    return path


def somebody_else_owns(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let new files look as if they belonged to another owner and group than the old one."""
    real = os.fstat

    def fstat(descriptor: int) -> os.stat_result:
        fields = list(real(descriptor))
        fields[stat.ST_UID] += 1
        fields[stat.ST_GID] += 2
        return os.stat_result(fields)

    monkeypatch.setattr(os, "fstat", fstat)


def test_a_file_of_somebody_else_is_given_back(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Root that mends a seamstress's file leaves it hers: owner and group of the old file, in this order."""
    somebody_else_owns(monkeypatch)
    given: list[tuple[type, int, int]] = []
    monkeypatch.setattr(os, "fchown", lambda file, owner, group: given.append((type(file), owner, group)))
    write_atomically(gown, NEW, keep_previous=False)
    assert given == [(int, os.getuid(), os.getgid())]
    assert gown.read_bytes() == NEW


def test_a_file_that_may_not_be_given_away_is_written(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only root may give files away; the permission bits hold all the same."""

    def fchown(*_arguments: int) -> None:
        raise PermissionError

    somebody_else_owns(monkeypatch)
    monkeypatch.setattr(os, "fchown", fchown)
    write_atomically(gown, NEW, keep_previous=False)
    assert gown.read_bytes() == NEW
    assert stat.S_IMODE(gown.stat().st_mode) == 0o660


def test_a_file_of_our_own_is_not_given_to_anybody(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is asked of the system that it could refuse."""
    monkeypatch.setattr(os, "fchown", lambda *_arguments: pytest.fail("given away"))
    write_atomically(gown, NEW)
    assert gown.read_bytes() == NEW


def test_where_files_have_no_owners_they_are_written(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on Windows, which knows neither call; the folder's own rules apply there."""
    monkeypatch.delattr(os, "fchown")
    monkeypatch.delattr(os, "fchmod")
    write_atomically(gown, NEW)
    assert gown.read_bytes() == NEW


def test_where_a_folder_cannot_be_asked_the_file_is_written(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows opens no folder (EACCES): the new file is in place, and nobody is told otherwise."""
    real = os.open

    def refusing(path: Path, flags: int, mode: int = 0o777) -> int:
        if Path(path).is_dir():
            raise PermissionError(13, "Permission denied")
        return real(path, flags, mode)

    monkeypatch.setattr(os, "open", refusing)
    write_atomically(gown, NEW)
    assert gown.read_bytes() == NEW


def test_a_fault_without_a_number_is_told_in_its_own_words(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some file systems that live in a program say no more."""

    def failing(*_arguments: object) -> None:
        raise OSError("the cloud is away")

    monkeypatch.setattr(os, "fsync", failing)
    with pytest.raises(Refusal, match=r"^gown\.sheer could not be written: the cloud is away; nothing was changed"):
        write_atomically(gown, NEW)
    assert gown.read_bytes() == OLD


def test_what_is_no_number_is_not_saved_as_one(gown: Path) -> None:
    """A thing that no file can hold is named by its kind, and the file stays as it was."""
    design = msgspec.structs.replace(block_design(), notes=object())
    with pytest.raises(
        Refusal, match=r"could not be opened again: it holds what no file can \(object\); undo the last act and save it"
    ):
        save_design(gown, design)
    assert gown.read_bytes() == OLD


@pytest.mark.parametrize(("mode", "at_first"), [(0o600, 0o600), (0o640, 0o640), (0o755, 0o644), (0o060, 0o260)])
def test_the_new_bytes_are_never_open_to_more_eyes_than_the_old(
    gown: Path, monkeypatch: pytest.MonkeyPatch, mode: int, at_first: int
) -> None:
    """Not for the moment of writing either: the file beside it is made with the old bits, and may be written."""
    real, made = os.open, []

    def opening(path: Path, flags: int, mode: int = 0o777) -> int:
        if flags & os.O_CREAT:
            made.append(mode)
        return real(path, flags, mode)

    gown.chmod(mode)
    monkeypatch.setattr(os, "open", opening)
    monkeypatch.setattr(os, "access", lambda *_arguments: True)
    write_atomically(gown, NEW, keep_previous=False)
    assert made == [at_first]
    assert stat.S_IMODE(gown.stat().st_mode) == mode


def test_the_copy_of_the_version_before_keeps_its_bits(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also on a disk that knows no second name for a file."""

    def failing(*_arguments: object, **_others: object) -> None:
        raise PermissionError

    gown.chmod(0o600)
    monkeypatch.setattr(os, "link", failing)
    write_atomically(gown, NEW)
    assert stat.S_IMODE(gown.with_name("gown.sheer~").stat().st_mode) == 0o600


def test_a_read_only_file_that_can_be_run_is_read_only(gown: Path) -> None:
    """No bit for writing is set, whatever others are; root is refused as well."""
    gown.chmod(0o555)
    with pytest.raises(Refusal, match=r"^gown\.sheer could not be written: it is marked as read-only; nothing"):
        write_atomically(gown, NEW)
    assert gown.read_bytes() == OLD


def test_a_disk_that_does_not_confirm_is_told(gown: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The new file is whole and in place; whether it outlives a power cut is not known, and she is told so."""
    real = os.fsync

    def fsync(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(5, "Input/output error")
        real(descriptor)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(Refusal) as told:
        write_atomically(gown, NEW)
    assert told.value.sentence == (
        "gown.sheer was written whole, but the disk does not confirm it (Input/output error): "
        "write it once more, or somewhere else."
    )
    assert gown.read_bytes() == NEW


def test_a_design_is_saved_again_and_again(tmp_path: Path) -> None:
    """A file of this version's own schema is written over, the one before it kept."""
    path = tmp_path / "gown.sheer"
    for notes in ("first", "second"):
        save_design(path, msgspec.structs.replace(block_design(), notes=notes))
    assert read_design(path).notes == "second"
    assert read_design(path.with_name("gown.sheer~")).notes == "first"


def test_why_a_design_cannot_be_saved_is_said_with_the_place(gown: Path) -> None:
    """In the words that reading has: which entry, and what is wrong with it."""
    wrong = msgspec.structs.replace(block_design(), unit="ell")
    with pytest.raises(Refusal) as told:
        save_design(gown, wrong)
    assert told.value.sentence == (
        "The design cannot be saved, for it could not be opened again: its unit is “ell”, which this version does not "
        "know; undo the last act and save it."
    )


def test_the_step_that_keeps_a_design_from_being_saved_is_named() -> None:
    """With its number and the name that it has in the list."""
    design = panel_design()
    number = next(k for k, step in enumerate(design.steps) if isinstance(step, StyleLine))
    wrong = msgspec.structs.replace(design.steps[number], purpose="wish")
    steps = (*design.steps[:number], wrong, *design.steps[number + 1 :])
    with pytest.raises(Refusal) as told:
        design_to_bytes(msgspec.structs.replace(design, steps=steps))
    assert f"its step {number + 1} (“{wrong.id}”): purpose is “wish”" in told.value.sentence


def test_a_new_file_may_be_read_and_written_but_not_run(tmp_path: Path) -> None:
    """By whoever the user's mask lets: by all, where it masks nothing."""
    mask = os.umask(0)
    try:
        write_atomically(tmp_path / "new.sheer", NEW)
    finally:
        os.umask(mask)
    assert stat.S_IMODE((tmp_path / "new.sheer").stat().st_mode) == 0o666
