"""Root finding, by which widths and heights are found that make an edge as long as it is wanted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

MOST_TRIES: Final = 25


def solved(off: Callable[[float], float], first: float, second: float, *, within: float) -> float:
    """The argument at which `off` comes `within` nought, searched from two guesses by the secant rule.

    Where the search stands still or runs out of tries the last argument comes back; the caller looks whether it will
    do.
    """
    before, here = first, second
    off_before, off_here = off(before), off(here)
    for _ in range(MOST_TRIES):
        if abs(off_here) <= within or off_here == off_before:
            break
        step = off_here * (here - before) / (off_here - off_before)
        before, off_before, here = here, off_here, here - step
        off_here = off(here)
    return here


def enclosed(off: Callable[[float], float], low: float, high: float, *, within: float) -> float | None:
    """The argument between two at which `off` comes `within` nought, or None when both ends lie on one side of it.

    False position, the end that stays put counted half (the Illinois rule), so that it cannot run away.
    """
    off_low, off_high = off(low), off(high)
    if off_low * off_high > 0.0:
        return None
    here = low
    for _ in range(MOST_TRIES):
        here = (low * off_high - high * off_low) / (off_high - off_low)
        off_here = off(here)
        if abs(off_here) <= within:
            break
        if off_here * off_high < 0.0:
            low, off_low = high, off_high
        else:
            off_low /= 2
        high, off_high = here, off_here
    return here
