"""The folder of recovery copies: this process's own place in it, who else is at work there, and who ended badly."""

from __future__ import annotations

import os
import time
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path
from typing import Final

from PySide6.QtCore import QLockFile, QStandardPaths

from app import settings
from core.file.recovery import COPY

LOCK: Final = ".lock"
SOON: Final = 60.0
"""Seconds within which a second bad end means that opening the same work again would end badly once more."""


def folder() -> Path:
    """Where recovery copies lie: among the program's state (XDG base directories)."""
    state = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericStateLocation)
    return Path(state) / settings.FOLDER / "recovery"


def busy() -> Collection[str]:
    """The owners of copies that are still running."""
    return {path.stem for path in folder().glob(f"*{LOCK}") if not _has_ended(path)}


def _has_ended(path: Path) -> bool:
    """Whether nobody holds a lock. Asking frees what nobody holds."""
    lock = QLockFile(str(path))
    # Never by age: a window may stand open for days.
    lock.setStaleLockTime(0)
    return lock.tryLock(0)


def note_bad_ends() -> int:
    """Count the processes that ended without a clean exit lately, those found now among them."""
    now = time.time()
    ended = [now for path in folder().glob(f"*{LOCK}") if _has_ended(path)]
    lately = [at for at in settings.bad_ends() if 0.0 <= now - at < SOON] + ended
    settings.set_bad_ends(lately)
    return len(lately)


class Journal:
    """One window's place: a lock that says it is at work, and the name of its recovery copy."""

    def __init__(self) -> None:
        self.owner = f"{time.time_ns():x}-{os.getpid():x}"
        self._number = 0
        self._lock = QLockFile(str(folder() / f"{self.owner}{LOCK}"))
        self._lock.setStaleLockTime(0)
        with suppress(OSError):  # without a folder the first copy will say why none can be kept
            folder().mkdir(mode=0o700, parents=True, exist_ok=True)
            self._lock.tryLock(0)

    @property
    def copy(self) -> Path:
        """Where the work in hand is kept."""
        return folder() / f"{self.owner}.{self._number}{COPY}"

    def turn(self) -> None:
        """Another design is in hand: its copy has another name."""
        self._number += 1

    def end(self) -> None:
        """A clean exit."""
        self._lock.unlock()
