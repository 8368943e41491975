"""The one door to the nesting engine: what the program does as a child process of itself, and nowhere else.

The engine may panic, hang or be wanted no more, and none of that may reach whoever asked. So it runs in a process of
its own, which imports nothing else of ours: one job as a line of JSON comes in, each arrangement found goes out as a
line of JSON, and whoever wants it stopped ends the process. It ends by itself when its input is closed, so that none
outlives a parent that was killed.

In: `{"height", "seconds", "workers", "items": [{"id", "shape": [[x, y]], "demand", "turns": [degrees]}]}`.
Out: `{"length", "placed": [[id, degrees, x, y]]}`, the last followed by `{"done": true}`.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from typing import Any, Final, NoReturn, TypeAlias

import spyrrow

Solved: TypeAlias = dict[str, Any]

LOOKED_EVERY: Final = 0.03
"""Seconds between two looks at what the engine has found."""

GENTLE: Final = 10
"""How far the engine stands back behind the window, in steps of the system's scheduler."""

CLOSING_UP: Final = 0.2
"""The share of the time in which the engine closes up the best arrangement; before that it looks for others."""

FREE_OF_OVERLAPS: Final = (
    spyrrow.ReportType.ExplFeas,
    spyrrow.ReportType.CmprFeas,
    spyrrow.ReportType.Final,
)


def main() -> NoReturn:
    """Solve the job on standard input, and end the process."""
    if hasattr(os, "nice"):  # there is none on Windows
        os.nice(GENTLE)
    line = sys.stdin.readline()
    if not line.strip():
        os._exit(2)
    job = json.loads(line)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    found: list[spyrrow.StripPackingSolution] = []
    queue = spyrrow.ProgressQueue()
    work = threading.Thread(target=_solve, args=(job, queue, found), daemon=True)
    work.start()
    while work.is_alive():
        work.join(LOOKED_EVERY)
        _tell([solution for kind, solution in queue.drain() if kind in FREE_OF_OVERLAPS])
    if not found:
        os._exit(1)  # the engine panicked, and has said so on standard error
    _tell(found)
    print(json.dumps({"done": True}), flush=True)  # noqa: T201 - this is the child's voice
    os._exit(0)


def _end_with_parent() -> None:
    sys.stdin.read()
    os._exit(2)


def _solve(job: Solved, queue: spyrrow.ProgressQueue, found: list[spyrrow.StripPackingSolution]) -> None:
    items = [
        spyrrow.Item(item["id"], [(x, y) for x, y in item["shape"]], item["demand"], item["turns"])
        for item in job["items"]
    ]
    closing_up = max(1, round(CLOSING_UP * job["seconds"]))
    config = spyrrow.StripPackingConfig(
        exploration_time=max(1, int(job["seconds"]) - closing_up),
        compression_time=closing_up,
        total_computation_time=None,
        num_workers=job["workers"],
        seed=job.get("seed"),
    )
    found.append(spyrrow.StripPackingInstance("lay", job["height"], items).solve(config, queue))


def _tell(solutions: list[spyrrow.StripPackingSolution]) -> None:
    """The shortest of some arrangements, as a line."""
    if solutions:
        best = min(solutions, key=lambda solution: solution.width)
        placed = [[item.id, item.rotation, *item.translation] for item in best.placed_items]
        print(json.dumps({"length": best.width, "placed": placed}), flush=True)  # noqa: T201
