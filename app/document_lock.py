"""The mark that a design is open: a small file beside it that says who has it, gone when the window closes it."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLockFile, QSysInfo

MARK: Final = ".~sheerwright-"
LOCK: Final = ".lock"


def lock_of(path: Path) -> Path:
    """The mark of a design, links followed."""
    real = Path(os.path.realpath(path))
    return real.with_name(f"{MARK}{real.name}{LOCK}")


class DocumentLock:
    """Holds the mark of one design at a time.

    Where none can be made, as in a folder that may only be read, the design is open without one.
    """

    def __init__(self) -> None:
        self._path: Path | None = None
        self._lock: QLockFile | None = None

    def hold(self, path: Path | None) -> None:
        """Mark a design as open here, in place of the one before."""
        if path == self._path:
            return
        self.release()
        self._path = path
        if path is not None:
            self._lock = _lock(path)
            self._lock.tryLock(0)

    def release(self) -> None:
        """Nothing is open here any more."""
        if self._lock is not None:
            self._lock.unlock()
        self._path = self._lock = None


def open_elsewhere(path: Path) -> str:
    """Where else a design is open, as the end of a sentence; "" when it is not, or is open in this process."""
    lock = _lock(path)
    if lock.tryLock(0) or lock.error() != QLockFile.LockError.LockFailedError:
        lock.unlock()
        return ""
    process, host, _program = lock.getLockInfo()
    if process == os.getpid() and host == QSysInfo.machineHostName():
        return ""
    return f"in another window (process {process} on {host})"


def _lock(path: Path) -> QLockFile:
    lock = QLockFile(str(lock_of(path)))
    # Never by age: a window may stand open for days. That its process has died frees it.
    lock.setStaleLockTime(0)
    return lock
