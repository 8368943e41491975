"""A drag in the window while a lay is searched, beside the same drag with nothing searched, by turns."""

from __future__ import annotations

from collections.abc import Iterator
from time import perf_counter, thread_time

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication

from app.background import Work
from app.dialogs.lay_task import LayTask
from core.design.replay import replay
from core.file.reader import read_design
from core.finishing.finish import finish
from core.outputs.lay_parts import choices_for
from core.outputs.lay_plans import fabrics_cut
from core.shipped import assets
from tests.benchmarks.timing import shown
from tests.benchmarks.window_drag import SIZES, drag

TURNS = 3
CANCELS = 20


def window_rows() -> Iterator[str]:
    """By processor time of the window's own thread, and by the clock on the wall."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    size = SIZES["1080p"]
    for what, clock in (("processor time", thread_time), ("wall time", perf_counter)):
        alone: list[float] = []
        searching: list[float] = []
        for _ in range(TURNS):
            alone += drag(application, size, clock)[20:]
            work = Work(_search(), application)
            work.start()
            searching += drag(application, size, clock)[20:]
            assert work.is_running
            work.abandon()
            QCoreApplication.processEvents()
        yield shown(f"frame of a drag at 1080p, {what}, nothing searched", alone)
        yield shown(f"the same while a lay is searched, {what}", searching, alone)


def cancel_rows() -> Iterator[str]:
    """From the word to the end of the thread and its children."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    found: list[float] = []
    for number in range(CANCELS):
        work = Work(_search(), application)
        work.start()
        until = perf_counter() + 0.3 + 0.07 * number
        while perf_counter() < until:
            application.processEvents()
        began = perf_counter()
        work.cancel()
        while work.is_running:
            application.processEvents()
        found.append((perf_counter() - began) * 1000.0)
    yield shown(f"cancel of a search, {CANCELS} times, wall time", found)


def _search() -> LayTask:
    """Both ways of laying a mesh of which none is as short as can be: it goes on until it is stopped."""
    design = read_design(next((assets() / "demo").glob("skater*.sheer")))
    pieces = finish(design, replay(design).garment)
    fabric = next(fabric for fabric in fabrics_cut([pieces]) if fabric.role == "sheer")
    return LayTask(design, pieces, fabric, choices=choices_for(fabric, "mm"), models=("open", "folded"), seconds=600.0)
