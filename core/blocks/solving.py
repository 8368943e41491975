"""The secant rule, by which widths and heights are found that make an edge as long as it is wanted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

MOST_TRIES: Final = 25


def solved(off: Callable[[float], float], first: float, second: float, *, within: float) -> float:
    """The argument at which `off` comes `within` nought, searched from two guesses.

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
