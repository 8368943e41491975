"""From the command line to an open window, and in good order back to the terminal."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app import settings
from app.actions.files import demo_design
from app.dialogs.average_figure import average_design
from app.dialogs.sentence import tell
from app.document_lock import open_elsewhere
from app.journal import Journal, note_bad_ends
from app.messages import install
from app.session import Session
from app.window.interrupts import Interrupts
from app.window.main_window import MainWindow
from core.file.naming import shown_name
from core.file.reader import NewerSchema
from core.shipped import version

MOST_BAD_ENDS: Final = 2
COLLECT_EVERY: Final = 10_000
"""Milliseconds between two runs of the cycle collector, which never runs by itself while the window is open."""


def make_window(path: Path | None = None, *, demo: bool = False) -> MainWindow:
    """The window of `first_window` with everything in its place."""
    window = first_window(path, demo=demo)
    window.fill()
    return window


def first_window(path: Path | None = None, *, demo: bool = False) -> MainWindow:
    """The window on a file, on an unsaved copy of the demo, or on the average figure's block.

    It is not shown yet, and has what belongs to its first picture; the rest follows that, or `fill`. Refusal when the
    file cannot be read or its block not drafted; a file that has to be asked about, as it is open elsewhere or of a
    newer Sheerwright, is opened once the window is there to ask.
    """
    if path is None:
        return MainWindow(Session(demo_design() if demo else average_design(settings.unit())))
    if open_elsewhere(path):
        return _asking(path)
    try:
        window = MainWindow(Session.of_file(path))
    except NewerSchema as newer:
        if newer.design is None:
            raise
        return _asking(path)
    settings.add_recent(path)
    return window


def _asking(path: Path) -> MainWindow:
    window = first_window()
    window.desk.files.open_later(path)
    return window


class Running(QApplication):
    """The application while its window is open: interrupts close it, cycles are collected between events."""

    def __init__(self) -> None:
        # Asked for by its name here, for `setStyle` gives the style back, and with it 20 ms of its enumerations.
        super().__init__([sys.argv[0], "-style", "fusion"])
        self.setApplicationName("sheerwright")
        self.setApplicationDisplayName("Sheerwright")
        self.setApplicationVersion(version())
        self.setDesktopFileName("sheerwright")
        self.interrupts = Interrupts(self)
        self.interrupts.asked_to_end.connect(self.end)
        self.commitDataRequest.connect(self.keep)
        self._collector = QTimer(self)
        self._collector.setInterval(COLLECT_EVERY)
        self._collector.timeout.connect(self._collect)
        self.window: MainWindow | None = None
        self._greet: Callable[[], None] | None = None

    def start_with(self, window: MainWindow, greet: Callable[[], None]) -> None:
        """Show the window; greet the user once everything is in its place."""
        self.window, self._greet = window, greet
        window.filled.connect(self._filled)
        window.show()

    def _filled(self) -> None:
        gc.freeze()
        if self._greet is not None:
            self._greet()

    def run(self) -> int:
        """Run until the window is closed; the exit status."""
        # WORKAROUND: the cycle collector, run in the middle of Qt's work, is PySide6's main cause of crashes; what
        # start-up made stays, and the rest is collected between two events. What it left behind is not worth the wait
        # for a whole collection before the first picture.
        gc.disable()
        gc.freeze()
        self._collector.start()
        status = self.exec()
        self._collector.stop()
        gc.enable()
        self.interrupts.release()
        return status

    def _collect(self) -> None:
        gc.collect()

    def keep(self) -> None:
        """The desktop's session is about to end: keep unsaved work aside, whatever comes of it."""
        if self.window is not None:
            self.window.keep_aside()

    def end(self) -> None:
        """The system asks to end: keep unsaved work aside, then close without a question."""
        if self.window is not None:
            if self.window.session.is_dirty:
                print("Unsaved work was kept; the next start offers it.", file=sys.stderr)  # noqa: T201
            self.window.close_keeping()
        self.quit()


def run_window(path: Path | None, *, demo: bool) -> int:
    """Open the window and run until it is closed; the exit status. Refusal when the file cannot be opened.

    After two bad ends within a minute it opens on nothing: what it was to open may be what ended it.
    """
    install()
    application = Running()
    is_wary = note_bad_ends() >= MOST_BAD_ENDS
    opening = Journal()  # so that it counts as a bad end too when opening itself is what ends the program
    try:
        window = first_window() if is_wary else first_window(path, demo=demo)
    finally:
        opening.end()
    why = why_empty(path) if is_wary else ""
    application.start_with(window, partial(greet, window, why, is_new=path is None and not demo))
    status = application.run()
    window.deleteLater()
    application.processEvents()
    return status


def greet(window: MainWindow, why: str, *, is_new: bool) -> None:
    """What is asked of the user once the window is there. `why` it is empty, where something was to be opened."""
    window.desk.offer_walk()
    if why:
        tell(window, why)
    elif not window.desk.recovery.offer() and is_new:
        window.desk.files.new()


def why_empty(path: Path | None) -> str:
    """Why nothing was opened, and where everything is."""
    name = f"{shown_name(path)} was not opened" if path else "nothing was opened"
    return (
        f"Sheerwright ended badly twice within a minute, so {name}: your files are as they were, and File, Recover "
        "work has what was not saved."
    )
