"""Start to first paint and memory, against a bare PySide6 window that imports the same libraries, by turns.

Both begin as the program does, in a process of its own with the bytecode at hand: the first run of each, which makes
it, is not counted. The processor's time is that of the process itself, the wall's that of whoever waits for it.
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
OURS: Final = """
import core.design.replay
from app.window.start import Running, make_window
app = Running()
window = make_window(demo=True)
"""
TAIL: Final = """
window.resize(1280, 800)
window.show()
app.processEvents()
window.grab()
import resource, time, os
print(time.process_time(), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024, flush=True)
os._exit(0)
"""


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
        for script in (BARE, OURS):
            run(script, bytecode)
        turns = [(run(BARE, bytecode), run(OURS, bytecode)) for _ in range(TURNS)]
    for index, clock in enumerate(("processor's time", "wall")):
        bare, ours = [turn[0][index] for turn in turns], [turn[1][index] for turn in turns]
        yield shown(f"bare window with the same libraries ({turns[-1][0][2]} MiB), {clock}", bare)
        yield shown(f"  the demo open and painted ({turns[-1][1][2]} MiB), {clock}", ours, bare)
