"""Figures of the demo, each beside its baseline of the same run: `python -m tests.benchmarks`.

Run by hand; nothing here judges. Times on one machine say little, the ratios travel.
"""

from __future__ import annotations

import os

from tests.benchmarks import printing, recompute, start_up, window_drag


def main() -> None:
    """Print every figure."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    for part in (recompute, printing, start_up, window_drag):
        print(f"\n{(part.__doc__ or '').splitlines()[0]}")
        for row in part.figures():
            print(f"  {row}")


if __name__ == "__main__":
    main()
