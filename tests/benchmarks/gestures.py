"""Ten thousand gestures drawn by seeds at the table: `python -m tests.benchmarks.gestures [gestures] [first seed]`.

In walks of five hundred, from the demo and from a block with its lines by turns. No gesture may leave a refused step or
a crossed outline in view, three in ten must change the design, and undo and redo must lead to the same two ends.
"""

from __future__ import annotations

import os
import sys
from time import perf_counter

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from tests.app.at_table import first_steps
from tests.app.wandering import walked
from tests.demo_designs import concert

GESTURES = 10_000
WALK = 500


def main() -> int:
    """0 when all held."""
    given = [int(word) for word in sys.argv[1:]]
    gestures, seed = (*given, *(GESTURES, 1000)[len(given) :])
    _application = QApplication.instance() or QApplication([])
    begun = perf_counter()
    walks = [walked(concert() if n % 2 else first_steps(4), seed + n, WALK) for n in range(gestures // WALK)]
    changed = sum(walk.changes for walk in walks) / (WALK * len(walks))
    unequal = sum(not walk.is_equal for walk in walks)
    faults = [walk.fault for walk in walks if walk.fault]
    print(
        f"{WALK * len(walks)} gestures in {perf_counter() - begun:.0f} s: {changed:.0%} changed the design, "
        f"{len(faults)} walks with a fault, {unequal} with unequal ends",
        *faults,
        sep="\n  ",
    )
    return int(bool(faults or unequal) or changed < 0.3)


if __name__ == "__main__":
    sys.exit(main())
