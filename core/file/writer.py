"""Writing files so that a write either happens fully or leaves what was there.

The new bytes go to a neighbouring name, are brought to the disk and read back; only then do they take the place of the
old file, in one act of the file system. A full disk, a pulled cable or a killed process leaves the old file.
"""

from __future__ import annotations

import errno
import os
import secrets
import stat
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

import msgspec
import numpy as np

from core.design.design import Design
from core.errors import Refusal
from core.file.envelope import SCHEMA, sealed, stated_schema
from core.file.gates import Unfit, read_bytes
from core.file.naming import previous_of, shown_folder, shown_name
from core.file.plain_words import said
from core.file.reader import design_in

_MARK: Final = ".~sheerwright-"
_PART: Final = ".part"
LONGEST_HEAD: Final = 200
"""Bytes at the beginning of a file that are looked at for its schema."""
_STALE: Final = 3600.0
"""Seconds after which a neighbouring file of ours was left by a process that was killed: a write takes under one."""
_CREATE: Final = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_FULL: Final = "the disk is full"
_REASONS: Final = {
    errno.ENOSPC: _FULL,
    errno.EFBIG: _FULL,
    errno.EDQUOT: _FULL,
    errno.EROFS: "the disk can only be read",
    errno.ENAMETOOLONG: "the name is too long for this disk",
    errno.ELOOP: "it is a link that leads back to itself",
    errno.EIO: "the disk reports a fault",
}


def design_to_bytes(design: Design) -> bytes:
    """The bytes of a file that holds the design. Refusal when they could not be opened again, such as for NaN."""
    plain: object = None
    try:
        plain = _plain(design)
        # Whole numbers become floats where a float is meant, so that a design opened and saved gives the same bytes.
        meant = msgspec.convert(plain, Design)
        data = sealed(_plain(meant))
        design_in(data)
    except (TypeError, ValueError, Unfit) as error:
        why = said(str(error), plain) if isinstance(error, msgspec.ValidationError) else error
        raise Refusal(
            f"The design cannot be saved, for it could not be opened again: {why}; undo the last act and save it."
        ) from error
    return data


def _plain(design: Design) -> object:
    return msgspec.to_builtins(design, enc_hook=_plain_number)


def _plain_number(value: object) -> object:
    """A number that came out of an array, as Python's own."""
    if isinstance(value, np.generic):
        return value.item()
    raise TypeError(f"it holds what no file can ({type(value).__name__})")


def save_design(path: Path, design: Design) -> None:
    """Write a design, the version before it kept beside it with a tilde. Refusal, the old file intact, on failure.

    A file of a newer Sheerwright is never written over.
    """
    _refuse_newer(path)
    write_atomically(path, design_to_bytes(design))


def _refuse_newer(path: Path) -> None:
    try:
        schema = stated_schema(read_bytes(path, LONGEST_HEAD))
    except (OSError, Unfit):
        return  # nothing there, or nothing to be read: what that means for writing is found out by writing
    if schema > SCHEMA:
        raise Refusal(
            f"{shown_name(path)} was saved by a newer Sheerwright and is not written over; save under another name."
        )


def write_atomically(path: Path, data: bytes, *, keep_previous: bool = True) -> None:
    """Give a file these bytes, wholly or not at all; links are followed and permissions kept.

    With `keep_previous` what was there stays under the name with a tilde. Refusal, in one sentence, when it cannot be
    done: the old file is then intact and nothing is left beside it.
    """
    _write({path: data}, keep_previous=keep_previous)


def write_together(outputs: Mapping[Path, bytes]) -> None:
    """Write several outputs: none takes its place before all lie whole on the disk. Refusal as `write_atomically`."""
    _write(outputs, keep_previous=False)


def _write(outputs: Mapping[Path, bytes], *, keep_previous: bool) -> None:
    staged: list[_Staged] = []
    try:
        for path, data in outputs.items():
            with _refusing(path):
                staged.append(_stage(path, data))
        for new in staged:
            with _refusing(new.shown):
                if keep_previous and new.replaces:
                    _keep(new.target)
                new.part.replace(new.target)
    finally:
        # Also when the user stops it: after a good end there is nothing left to remove.
        for new in staged:
            _remove(new.part)
    for new in staged:
        _settle_folder(new)


# --------------------------------------------------------------------------------------------------------------
# the new bytes, beside the old


class _Staged(msgspec.Struct, frozen=True):
    """New bytes that lie whole on the disk under a neighbouring name. `shown` is the path the user gave."""

    shown: Path
    part: Path
    target: Path
    replaces: bool


def _stage(path: Path, data: bytes) -> _Staged:
    target = Path(os.path.realpath(path))
    old = _old_file(target)
    _sweep(target.parent)
    part = target.with_name(f"{_MARK}{secrets.token_hex(8)}{_PART}")
    try:
        _write_part(part, data, old)
    except BaseException:
        _remove(part)
        raise
    return _Staged(path, part, target, replaces=old is not None)


def _old_file(target: Path) -> os.stat_result | None:
    """What stands at the target, None for nothing; OSError for what must not be written over."""
    try:
        old = target.stat()
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(old.st_mode):
        raise OSError(0, "it is a folder or a device and not a file")
    # Replacing needs no leave to write the file itself, but whoever made it read-only meant it; root may do all.
    if not old.st_mode & 0o222 or not os.access(target, os.W_OK):
        raise OSError(0, "it is marked as read-only")
    return old


def _write_part(part: Path, data: bytes, old: os.stat_result | None) -> None:
    descriptor = os.open(part, _CREATE, 0o666 if old is None else stat.S_IMODE(old.st_mode) & 0o666 | 0o200)
    try:
        _write_all(descriptor, data)
        if old is not None:
            _take_over_permissions(descriptor, old)
        os.fsync(descriptor)
        _refuse_other_than(descriptor, data)
    finally:
        os.close(descriptor)


def _write_all(descriptor: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        written = os.write(descriptor, rest)
        if written == 0:
            raise OSError(errno.ENOSPC, _FULL)
        rest = rest[written:]


def _take_over_permissions(descriptor: int, old: os.stat_result) -> None:
    if not hasattr(os, "fchown"):
        return  # Windows: the folder's own rules apply
    new = os.fstat(descriptor)
    if (new.st_uid, new.st_gid) != (old.st_uid, old.st_gid):
        with suppress(PermissionError):  # only root may give a file away; the permission bits still hold
            os.fchown(descriptor, old.st_uid, old.st_gid)
    os.fchmod(descriptor, stat.S_IMODE(old.st_mode))


def _refuse_other_than(descriptor: int, data: bytes) -> None:
    os.lseek(descriptor, 0, os.SEEK_SET)
    with os.fdopen(descriptor, "rb", closefd=False) as file:
        if file.read() != data:
            raise OSError(errno.EIO, "")


# --------------------------------------------------------------------------------------------------------------
# taking the old one's place


def _keep(target: Path) -> None:
    """Put what is at the target under its name with a tilde too, whole at every moment."""
    previous = previous_of(target)
    link = target.with_name(f"{_MARK}{secrets.token_hex(8)}{_PART}")
    try:
        link.hardlink_to(target)
    except OSError:  # a disk that knows no second name for a file, such as most memory sticks
        _write_part(link, target.read_bytes(), target.stat())
    try:
        link.replace(previous)
    finally:
        _remove(link)


def _settle_folder(new: _Staged) -> None:
    """Bring the folder's own entries to the disk. The new file is in place by then, and whole."""
    try:
        descriptor = os.open(new.target.parent, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno in {errno.EINVAL, errno.ENOTSUP, errno.EACCES}:
            return  # Windows opens no folder, some network folders cannot be asked, others written in but not listed
        raise Refusal(
            f"{shown_name(new.shown)} was written whole, but the disk does not confirm it "
            f"({error.strerror or error}): write it once more, or somewhere else."
        ) from error


def _remove(part: Path) -> None:
    with suppress(OSError):  # it is mostly in its place, and gone from here
        part.unlink()


def _sweep(folder: Path) -> None:
    """Remove what a killed process of ours left in the folder."""
    with suppress(OSError):
        for part in folder.glob(f"{_MARK}*{_PART}"):
            if time.time() - part.stat().st_mtime > _STALE:
                part.unlink()


@contextmanager
def _refusing(path: Path) -> Iterator[None]:
    """Turn what the system says into one sentence about the path that the user gave."""
    try:
        yield
    except OSError as error:
        raise Refusal(
            f"{shown_name(path)} could not be written: {reason(path, error)}; nothing was changed, so write it "
            "somewhere else."
        ) from error


def reason(path: Path, error: OSError) -> str:
    """Why a path could not be written, as half a sentence."""
    if known := _REASONS.get(error.errno or 0):
        return known
    folder = shown_folder(path)
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        return f"there is no folder {folder}"
    if isinstance(error, PermissionError):
        return f"you may not write in {folder}"
    return error.strerror or str(error)
