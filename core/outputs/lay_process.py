"""The nesting engine at work in a child process: started, listened to, and ended whenever it is wanted no more.

What the engine does to itself stays in the child: a panic, a hang or a kill leaves the best arrangement heard of.
"""

from __future__ import annotations

import json
import queue
import subprocess
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from typing import Any, Final, TypeAlias

import msgspec

from core.errors import Refusal
from core.shipped import ENGINE_WORD, own_command, own_folder

ASKED_EVERY: Final = 0.04
"""Seconds between two looks at what the child has said, and so at whether it is to stop."""

GENTLY: Final = getattr(subprocess, "BELOW_NORMAL_PRIORITY_CLASS", 0)
"""On Windows whoever starts a child says how far it stands back; elsewhere the engine does so itself."""

GRACE: Final = 5.0
"""Seconds past its time after which a child is taken to hang."""


class Item(msgspec.Struct, frozen=True, eq=False):
    """What the engine is to place: a simple loop (N, 2), how often, and the turns in degrees that are allowed."""

    id: str
    shape: Sequence[Sequence[float]]
    demand: int
    turns: Sequence[float]


class Packing(msgspec.Struct, frozen=True):
    """Where items lie: (id, turn in degrees about the origin, shift x, shift y), and the length they take in mm."""

    length: float
    placed: tuple[tuple[str, float, float, float], ...]


Watch: TypeAlias = Callable[[Packing | None], bool]
"""Called with the best so far, many times a second; true keeps it and stops. It may raise Cancelled."""


def command() -> list[str]:
    """How the engine is started: as the program itself, by a word of its own."""
    return own_command(ENGINE_WORD)


def pack(items: Sequence[Item], height: float, *, seconds: float, workers: int, watch: Watch) -> Packing:
    """The shortest arrangement of items on a strip that the engine finds in its time.

    Whatever is raised by `watch`, the child is killed first, and not waited for: on a busy machine one that stands
    back may take half a second to be gone. Refusal when it ended without having found any.
    """
    job = {
        "height": height,
        "seconds": seconds,
        "workers": workers,
        "items": [{"id": i.id, "shape": i.shape, "demand": i.demand, "turns": i.turns} for i in items],
    }
    child = subprocess.Popen(  # noqa: S603 - the program itself
        command(),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        cwd=own_folder(),
        creationflags=GENTLY,
    )
    try:
        best = _listened(child, job, seconds=seconds, watch=watch)
    finally:
        child.kill()
    if best is None:
        raise Refusal(
            "The pieces could not be laid out: the nesting engine gave up on them; try once more, or with another gap."
        )
    return best


def _listened(child: subprocess.Popen[str], job: Mapping[str, Any], *, seconds: float, watch: Watch) -> Packing | None:
    """The best arrangement the child tells of, until it ends, its time is over, or `watch` has enough."""
    lines: queue.Queue[str] = queue.Queue()
    threading.Thread(target=_hear, args=(child, job, lines), name="lay engine", daemon=True).start()
    best: Packing | None = None
    last_moment = time.monotonic() + seconds
    while True:
        line = _next(lines)
        told = _packing(line) if line else None
        if told is not None and (best is None or told.length < best.length):
            best = told
        if line == "" or (line is not None and told is None):
            return best
        now = time.monotonic()
        if watch(best) or now > last_moment + GRACE or (best is not None and now > last_moment):
            return best


def _next(lines: queue.Queue[str]) -> str | None:
    """The next line, "" when the child has ended, None when it says nothing for the moment."""
    try:
        return lines.get(timeout=ASKED_EVERY)
    except queue.Empty:
        return None


def _hear(child: subprocess.Popen[str], job: Mapping[str, Any], lines: queue.Queue[str]) -> None:
    """Give the child its job and pass on what it says until it is gone, however it ended."""
    assert child.stdin is not None
    assert child.stdout is not None
    with suppress(OSError, ValueError):
        child.stdin.write(json.dumps(job) + "\n")
        child.stdin.flush()
        for line in child.stdout:
            lines.put(line)
    lines.put("")
    child.wait()
    for pipe in (child.stdin, child.stdout):
        with suppress(OSError):
            pipe.close()


def _packing(line: str) -> Packing | None:
    """What a line tells; None for the last one, and for one that was cut short."""
    try:
        told = json.loads(line)
    except ValueError:
        return None
    if "placed" not in told:
        return None
    return Packing(told["length"], tuple((id_, turn, x, y) for id_, turn, x, y in told["placed"]))
