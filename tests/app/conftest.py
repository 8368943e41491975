"""Every test of the window starts with nothing open and must leave nothing behind.

Qt deletes what `deleteLater` was said to only from its own loop, and Python's cycle collector may run in the middle of
Qt's work; so the collector rests during a test, and everything is deleted, collected and counted after it.
"""

from __future__ import annotations

import gc
import os
import sys
import threading
from typing import TYPE_CHECKING, TypeVar

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QThread, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication
from shiboken6 import isValid

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

Q = TypeVar("Q", bound=QObject)

WORK_ENDS = 2000
"""Milliseconds that work in the background is given to end after a test before it counts as left over."""


@pytest.fixture(scope="session", autouse=True)
def _modules_set_aside() -> None:
    """What was imported before the first test is no longer looked through after each: it takes half a second."""
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Settings, recent files and recovery copies of a test lie in a folder of its own."""
    for kind in ("CONFIG", "DATA", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{kind}_HOME", str(tmp_path / "home" / kind.lower()))


@pytest.fixture
def forms_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The form's panel takes the form of a body that another test has had made already."""
    from app.panels import form  # noqa: PLC0415 - only the form's tests need wait for it
    from tests.samples_stands import stand_once  # noqa: PLC0415 - as above

    monkeypatch.setattr(form, "stand_for", stand_once)


@pytest.fixture(autouse=True)
def nothing_left(qapp: QApplication) -> Iterator[None]:
    """Delete all windows after the test; fail it for a window, thread, timer or error that it left."""
    before = {id(thing) for thing in [*python_threads(), *running_threads(), *running_timers()]}
    gc.collect()
    gc.disable()
    try:
        yield
    finally:
        delete_windows(qapp)
        ended = QThreadPool.globalInstance().waitForDone(WORK_ENDS)
        gc.enable()
        gc.collect()
    found = [*QApplication.topLevelWidgets(), *python_threads(), *running_threads(), *running_timers()]
    left = [repr(thing) for thing in found if id(thing) not in before] + unhandled_errors()
    if not ended:
        left.append("work in Qt's thread pool")
    assert not left, f"left behind: {'; '.join(left)}"


def delete_windows(application: QApplication) -> None:
    """Delete every window at once, without closing it first: a changed design would ask whether to save it."""
    for widget in QApplication.topLevelWidgets():
        if isValid(widget):
            widget.hide()
            widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    application.processEvents()


def python_threads() -> list[threading.Thread]:
    """Python's threads; not those of Qt's pool, which Python calls dummies once they have run any of its code."""
    return [thread for thread in threading.enumerate() if not thread.name.startswith("Dummy-")]


def running_threads() -> list[QThread]:
    """Qt's running threads that Python holds, but for the one that runs the tests."""
    return [thread for thread in held(QThread) if thread.isRunning() and thread is not QThread.currentThread()]


def running_timers() -> list[QTimer]:
    """The ticking timers that Python holds."""
    return [timer for timer in held(QTimer) if timer.isActive()]


def held(kind: type[Q]) -> list[Q]:
    """Every living Qt object of a kind that Python holds."""
    # Asked of type() first: a stand-in may answer isinstance() by running code of its own.
    things = (thing for thing in gc.get_objects() if issubclass(type(thing), kind))
    return [thing for thing in things if isinstance(thing, kind) and isValid(thing)]


def unhandled_errors() -> list[str]:
    """Errors in the window's own code that were kept from stopping it; the list is emptied for the next test."""
    messages = sys.modules.get("app.messages")
    if messages is None:
        return []
    found = list(messages.unhandled)
    messages.unhandled.clear()
    return found
