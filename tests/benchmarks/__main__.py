"""Figures of the demos, each beside its baseline of the same run: `python -m tests.benchmarks [part ...]`.

The parts are recompute, printing, start_up and window_drag; without a name all are run. By hand; nothing here judges.
Times on one machine say little, the ratios travel.
"""

from __future__ import annotations

import os
import sys

from tests.benchmarks import printing, recompute, start_up, window_drag

PARTS = {"recompute": recompute, "printing": printing, "start_up": start_up, "window_drag": window_drag}


def main() -> None:
    """Print every figure of the parts that are named."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    for part in (PARTS[name] for name in sys.argv[1:] or PARTS):
        print(f"\n{(part.__doc__ or '').splitlines()[0]}")
        for row in part.figures():
            print(f"  {row}")


if __name__ == "__main__":
    main()
