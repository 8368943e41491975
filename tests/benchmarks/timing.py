"""Timing: runs of a function, and how they are shown."""

from __future__ import annotations

from collections.abc import Callable
from statistics import median, quantiles
from time import perf_counter


def times(
    work: Callable[[int], object], *, runs: int, warm_up: int = 10, clock: Callable[[], float] = perf_counter
) -> list[float]:
    """Milliseconds of each run by a clock; the function is given the run's number."""
    for number in range(warm_up):
        work(number)
    found = []
    for number in range(runs):
        begun = clock()
        work(warm_up + number)
        found.append((clock() - begun) * 1000.0)
    return found


def shown(label: str, found: list[float], baseline: list[float] | None = None) -> str:
    """One row: median, 95th percentile and worst in ms, and the ratio of medians to the baseline."""
    high = quantiles(found, n=20)[-1]
    row = f"{label}: median {median(found):.2f} ms, 95 % under {high:.2f} ms, worst {max(found):.2f} ms"
    return row if baseline is None else f"{row}, {median(found) / median(baseline):.1f} x the baseline"
