"""What the window says when something goes wrong: sentences for her, a log for the makers, never a crash."""

from __future__ import annotations

import logging
import re
import sys
import traceback
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from types import TracebackType
from typing import Final, ParamSpec, TypeVar

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QMessageBox, QWidget

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")

_PLACE: Final = re.compile(r'  File "(.*)", line (\d+), in (\w+|<\w+>)')
_KIND: Final = re.compile(r"([A-Za-z_][\w.]*)(?::|$)")
"""The line after the frames: the kind of the error, and its message after a colon."""

log = logging.getLogger("sheerwright")
unhandled: list[str] = []
"""Traces of exceptions that reached Qt. Tests fail on any; the log holds them without measurements or names."""


class Faults(QObject):
    """Tells the window of the program's own faults. Listen with a queued connection: Qt may be in mid-paint."""

    recorded = Signal(str)
    """The trace of an exception that nobody handled."""


faults = Faults()


def guard(default: Result) -> Callable[[Callable[Arguments, Result]], Callable[Arguments, Result]]:
    """Keep exceptions of a Qt override from reaching Qt: they are recorded and `default` is returned.

    WORKAROUND: an exception that leaves an override is re-raised in whoever made Qt call it, and may end the process
    inside a paint event (https://github.com/pytest-dev/pytest-qt/pull/525).
    """

    def wrap(method: Callable[Arguments, Result]) -> Callable[Arguments, Result]:
        @wraps(method)
        def kept(*args: Arguments.args, **kwargs: Arguments.kwargs) -> Result:
            try:
                return method(*args, **kwargs)
            except Exception:  # noqa: BLE001  # whatever it is, it must not reach Qt
                record(traceback.format_exc())
                return default

        return kept

    return wrap


def record(trace: str) -> None:
    """Remember and log an exception that nobody handled, and tell the window of it."""
    unhandled.append(trace)
    log.error("unhandled exception\n%s", without_values(trace))
    faults.recorded.emit(trace)


def without_values(trace: str) -> str:
    """Where a trace says that the program failed, and by what kind of error: no message, name or folder of hers."""
    words = []
    in_frames = False
    for line in trace.splitlines():
        if place := _PLACE.match(line):
            in_frames = True
            words.append(f"{Path(place[1]).name}:{place[2]} {place[3]}")
        elif in_frames and (kind := _KIND.match(line)):
            # Only the first line after the frames: those that follow belong to the message.
            in_frames = False
            words.append(kind[1])
    return "\n".join(words)


def install() -> None:
    """Send exceptions from slots, which Qt hands to the interpreter, to the record instead of to nowhere."""

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        record("".join(traceback.format_exception(kind, error, trace)))

    sys.excepthook = hook


def say(parent: QWidget | None, sentence: str, *, title: str = "Sheerwright") -> None:
    """Show a sentence and wait until it is read."""
    box = QMessageBox(QMessageBox.Icon.Information, title, sentence, QMessageBox.StandardButton.Ok, parent)
    # Text from a file may look like markup; it is shown as it stands.
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.exec()
    box.deleteLater()
