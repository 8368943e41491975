"""From the command line to an open window, and in good order back to the terminal."""

from __future__ import annotations

import gc
import sys
from pathlib import Path
from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app import settings
from app.actions.files import demo_design
from app.dialogs.average_figure import average_design
from app.messages import install
from app.session import Session
from app.window.interrupts import Interrupts
from app.window.main_window import MainWindow
from core.file.reader import read_design
from core.shipped import version

COLLECT_EVERY: Final = 10_000
"""Milliseconds between two runs of the cycle collector, which never runs by itself while the window is open."""


def make_window(path: Path | None = None, *, demo: bool = False) -> MainWindow:
    """The window on a file, on an unsaved copy of the demo, or on the average figure's block.

    It is not shown yet. Refusal when the file cannot be read or its block not drafted.
    """
    if path is not None:
        window = MainWindow(Session(read_design(path), path=path))
        settings.add_recent(path)
        return window
    return MainWindow(Session(demo_design() if demo else average_design(settings.unit())))


class Running(QApplication):
    """The application while its window is open: interrupts close it, cycles are collected between events."""

    def __init__(self) -> None:
        super().__init__(sys.argv[:1])
        self.setApplicationName("sheerwright")
        self.setApplicationDisplayName("Sheerwright")
        self.setApplicationVersion(version())
        self.setDesktopFileName("sheerwright")
        self.setStyle("fusion")
        self.interrupts = Interrupts(self)
        self.interrupts.asked_to_end.connect(self.end)
        self._collector = QTimer(self)
        self._collector.setInterval(COLLECT_EVERY)
        self._collector.timeout.connect(self._collect)
        self.window: MainWindow | None = None

    def start(self, window: MainWindow) -> int:
        """Show the window and run until it is closed; the exit status."""
        self.window = window
        window.show()
        window.desk.offer_walk()
        # WORKAROUND: the cycle collector, run in the middle of Qt's work, is PySide6's main cause of crashes; what
        # start-up made stays, and the rest is collected between two events.
        gc.collect()
        gc.freeze()
        gc.disable()
        self._collector.start()
        status = self.exec()
        self._collector.stop()
        gc.enable()
        self.interrupts.release()
        return status

    def _collect(self) -> None:
        gc.collect()

    def end(self) -> None:
        """The system asks to end: keep unsaved work aside, then close without a question."""
        if self.window is not None:
            self.window.keep_aside()
            self.window.close_now()
        self.quit()


def run_window(path: Path | None, *, demo: bool) -> int:
    """Open the window and run until it is closed; the exit status. Refusal when the file cannot be opened."""
    install()
    application = Running()
    window = make_window(path, demo=demo)
    if path is None and not demo:
        QTimer.singleShot(0, window.desk.files.new)
    status = application.start(window)
    window.deleteLater()
    application.processEvents()
    return status
