"""A process that is killed at any moment of saving, over and over: `python -m tests.core.file.killing FILE KILLS WHAT`.

WHAT is `save` for a design's own file, `keep` for a recovery copy. What is printed: kills, writes that were confirmed,
files found damaged, confirmed writes that were lost.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

import msgspec
import numpy as np

from core.design.design import Design
from core.errors import Refusal
from core.file.reader import read_design
from core.file.recovery import keep_work
from core.file.writer import save_design
from tests.core.file.sample_designs import panel_design

LONGEST_LIFE = 0.03
"""Seconds after its first write within which a process is killed; a write takes a few thousandths."""


def keep(path: Path, design: Design) -> None:
    """Write a recovery copy of work that has a file."""
    keep_work(path, design, path.with_name("gown.sheer"))


WRITERS: dict[str, Callable[[Path, Design], None]] = {"save": save_design, "keep": keep}


def write_for_ever(path: Path, write: Callable[[Path, Design], None], number: int, telling: int) -> None:
    """Write numbered versions and confirm each, until killed."""
    design = panel_design()
    while True:
        number += 1
        write(path, msgspec.structs.replace(design, notes=f"{number:08}"))
        os.write(telling, b"%08d" % number)


def killed_once(path: Path, write: Callable[[Path, Design], None], number: int, lifetime: float) -> bytes:
    """Start a process that writes, kill it, and give all that it confirmed."""
    told, telling = os.pipe()
    child = os.fork()
    if child == 0:
        write_for_ever(path, write, number, telling)
    os.close(telling)
    said = os.read(told, 8)
    time.sleep(lifetime)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while more := os.read(told, 65536):
        said += more
    os.close(told)
    return said


def main(path: Path, kills: int, what: str) -> None:
    """Kill, look, and count."""
    chance = np.random.default_rng(4)
    number = confirmed = damaged = lost = 0
    for _ in range(kills):
        said = killed_once(path, WRITERS[what], number, chance.random() * LONGEST_LIFE)
        confirmed += len(said) // 8
        try:
            found = int(read_design(path).notes)
        except Refusal:
            damaged += 1
            continue
        lost += found < int(said[-8:] or b"0")
        number = found
    print(kills, confirmed, damaged, lost)  # noqa: T201 - read by the test


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3])
