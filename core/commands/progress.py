"""How far long work has come, told on stderr while somebody is looking at a terminal, and to no one else."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from core.progress import Progress, untold


@contextmanager
def shown_on_terminal(what: str) -> Iterator[Progress]:
    """A callback that takes (done, in all) and shows "page 3 of 14" on one line, which is cleared in the end."""
    if not sys.stderr.isatty():
        yield untold
        return
    longest = 0

    def show(done: int, total: int) -> None:
        nonlocal longest
        words = f"{what} {done} of {total}"
        longest = max(longest, len(words))
        print(f"\r{words}", end="", file=sys.stderr, flush=True)

    try:
        yield show
    finally:
        print(f"\r{' ' * longest}\r", end="", file=sys.stderr, flush=True)
