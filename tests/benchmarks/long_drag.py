"""What ten minutes of dragging leave in memory: `python -m tests.benchmarks.long_drag [seconds]`.

A point of the largest demo's sheer line is dragged about and dropped by Esc, over and over, so that the history stays
as it was. Memory is what the system says the process holds; the first drag fills what is kept on purpose and is not
counted.
"""

from __future__ import annotations

import gc
import math
import os
import sys
from pathlib import Path
from time import perf_counter, process_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.__main__ import make_window
from core.shipped import asset
from tests.benchmarks.window_drag import handle

SECONDS = 600
FRAMES = 400
"""Frames of one drag."""
ALLOWED = 10.0
"""MiB that the ten minutes may add."""


def resident() -> float:
    """Memory that the process holds now, in MiB, after the cycles in it are collected."""
    gc.collect()
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


def main() -> int:
    """0 when memory grew by less than is allowed."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    application = QApplication.instance() or QApplication([])
    window = make_window(asset("demo", "ball-bodice.sheer"))
    window.resize(1920, 1080)
    window.show()
    application.processEvents()
    window.desk.edit_step("sheer-line-1")
    application.processEvents()
    table, start = handle(window)
    session = window.desk.session
    frames, readings = 0, list[float]()
    begun, worked = perf_counter(), process_time()
    while perf_counter() - begun < seconds or len(readings) < 2:
        QTest.mousePress(table, Qt.MouseButton.LeftButton, pos=start)
        for _ in range(FRAMES):
            frames += 1
            # Never the same places again, so that whatever remembers places has new ones to remember.
            away = QPoint(round(30 * math.sin(frames / 7)), round(30 * math.sin(frames / 11.3)))
            QTest.mouseMove(table, start + away)
            application.processEvents()
        assert session.shown.design is not session.design, "the drag moves nothing"
        QTest.keyClick(table, Qt.Key.Key_Escape)
        QTest.mouseRelease(table, Qt.MouseButton.LeftButton, pos=start)
        application.processEvents()
        readings.append(resident())
    assert not session.history.undo_label, "a dropped drag is in the history"
    grown = readings[-1] - readings[0]
    print(
        f"| memory after dragging for {(perf_counter() - begun) / 60:.1f} minutes, {frames} frames, "
        f"{(process_time() - worked) / frames * 1000:.1f} ms of the processor each | grew by {grown:.1f} MiB "
        f"to {readings[-1]:.0f} MiB | {ALLOWED:.0f} MiB |"
    )
    print("  MiB after every drag:", *(f"{reading:.1f}" for reading in readings))
    return int(grown >= ALLOWED)


if __name__ == "__main__":
    sys.exit(main())
