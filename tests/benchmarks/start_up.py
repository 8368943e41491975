"""Start to first picture and to a full window, against a bare PySide6 window with the same libraries, by turns.

All begin as the program does, in a process of its own with the bytecode at hand: the first run of each, which makes
it, is not counted. The processor's time is that of the process itself, the wall's that of whoever waits for it. The
first picture has the garment on the table; in the full window every panel is in its place, and painted too.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Final

from tests.benchmarks.timing import shown

TURNS: Final = 8

BARE: Final = """
import msgspec, numpy, shapely
from PySide6.QtWidgets import QApplication, QWidget
app = QApplication([])
window = QWidget()
"""
FIRST: Final = """
import gc
gc.disable()
import app.window.before_qt
from app.window.start import Running, first_window
app = Running()
window = first_window(demo=True)
"""
SHOW: Final = """
window.resize(1280, 800)
window.show()
app.processEvents()
window.grab()
"""
FILL: Final = """
whole = []
window.filled.connect(lambda: whole.append(1))
while not whole:
    app.processEvents()
app.processEvents()
window.grab()
"""
TAIL: Final = """
import resource, time, os
print(time.process_time(), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024, flush=True)
os._exit(0)
"""
KINDS: Final = {
    "bare window with the same libraries": BARE + SHOW,
    "  the demo's garment on the table": FIRST + SHOW,
    "  everything in its place": FIRST + SHOW + FILL,
}


def run(script: str, bytecode: str) -> tuple[float, float, int]:
    """Milliseconds of the processor and on the wall until the window is painted, and MiB of memory."""
    own = os.environ | {"PYTHONPYCACHEPREFIX": bytecode, "PYTHONDONTWRITEBYTECODE": ""}
    begun = perf_counter()
    done = subprocess.run([sys.executable, "-c", script + TAIL], capture_output=True, text=True, check=True, env=own)
    waited = (perf_counter() - begun) * 1000.0
    spent, memory = done.stdout.split()[-2:]
    return float(spent) * 1000.0, waited, int(memory)


def figures() -> Iterator[str]:
    """Rows to print."""
    with TemporaryDirectory() as bytecode:
        for script in KINDS.values():
            run(script, bytecode)
        turns = [[run(script, bytecode) for script in KINDS.values()] for _ in range(TURNS)]
    for index, clock in enumerate(("processor's time", "wall")):
        times = [[turn[number][index] for turn in turns] for number in range(len(KINDS))]
        for name, found, one in zip(KINDS, times, turns[-1], strict=True):
            yield shown(f"{name} ({one[2]} MiB), {clock}", found, None if found is times[0] else times[0])
