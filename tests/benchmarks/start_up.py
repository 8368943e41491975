"""Start to first paint and memory, against a bare PySide6 window."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from time import perf_counter

from tests.benchmarks.timing import shown

BARE = """
from PySide6.QtWidgets import QApplication, QWidget
app = QApplication([])
window = QWidget()
window.resize(1280, 800)
"""
OURS = """
from PySide6.QtWidgets import QApplication
from app.__main__ import make_window
app = QApplication([])
window = make_window(demo=True)
window.resize(1280, 800)
"""
TAIL = """
window.show()
app.processEvents()
window.grab()
import resource
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""


def runs(script: str, count: int) -> tuple[list[float], int]:
    """Milliseconds of each run of a script in a process of its own, and the memory of the last in MiB."""
    found, memory = [], 0
    for _ in range(count):
        begun = perf_counter()
        done = subprocess.run([sys.executable, "-c", script + TAIL], capture_output=True, text=True, check=True)
        found.append((perf_counter() - begun) * 1000.0)
        memory = int(done.stdout.split()[-1])
    return found, memory


def figures() -> Iterator[str]:
    """Rows to print."""
    baseline, bare_memory = runs(BARE, 5)
    found, memory = runs(OURS, 5)
    yield shown(f"bare window ({bare_memory} MiB)", baseline)
    yield shown(f"the demo open and painted ({memory} MiB)", found, baseline)
