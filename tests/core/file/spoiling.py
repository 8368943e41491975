"""Saved designs spoilt in every way that disks and hands spoil them, and what the reader makes of each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from time import process_time

import numpy as np

from core.design.design import Design
from core.errors import Refusal
from core.file.reader import design_from_bytes


@dataclass(slots=True)
class Endings:
    """How often spoilt bytes were refused, meant the same still, or meant something else; the slowest in seconds."""

    refused: int = 0
    same: int = 0
    altered: int = 0
    slowest: float = 0.0


def endings(spoilt: Iterable[bytes], meant: Design) -> Endings:
    """Read each; anything but a design or a Refusal is an error of the reader and comes out as it is."""
    found = Endings()
    for data in spoilt:
        begun = process_time()
        try:
            is_same = design_from_bytes(data) == meant
        except Refusal:
            found.refused += 1
        else:
            found.same += is_same
            found.altered += not is_same
        found.slowest = max(found.slowest, process_time() - begun)
    return found


def cut_short(data: bytes, every: int = 1) -> Iterator[bytes]:
    """The bytes cut short at every place, or at every n-th."""
    return (data[:end] for end in range(0, len(data), every))


def flipped(data: bytes, count: int) -> Iterator[bytes]:
    """The bytes with one bit flipped."""
    chance = np.random.default_rng(2)
    for _ in range(count):
        spoilt = bytearray(data)
        spoilt[chance.integers(len(spoilt))] ^= 1 << chance.integers(8)
        yield bytes(spoilt)


def spliced(data: bytes, count: int) -> Iterator[bytes]:
    """The bytes with a stretch doubled, lost or moved."""
    chance = np.random.default_rng(3)
    for _ in range(count):
        a, b, c = sorted(chance.integers(len(data)) for _ in range(3))
        yield (data[:b] + data[a:c] + data[c:], data[:a] + data[c:], data[:a] + data[b:c] + data[a:b] + data[c:])[
            chance.integers(3)
        ]
