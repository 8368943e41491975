"""The engine in its child process: whatever becomes of the child, the parent keeps its head and the best so far."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from core.errors import Cancelled, Refusal
from core.outputs import lay_process
from core.outputs.lay_process import Item, Packing, pack

SQUARE = Item("square", [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)], 4, [0.0])
SLIVER = Item("sliver", [(0.0, 0.0), (500.0, 0.0), (500.0, 0.3), (0.0, 0.3)], 1, [0.0])
JOB = (
    '{"height": 205, "seconds": 60, "workers": 1, "items": [{"id": "a", "demand": 31, "turns": [0.0, 45.0], '
    f'"shape": {[list(place) for place in SQUARE.shape]}}}]}}\n'
)
FOUND = '{"length": 400.0, "placed": [["square", 0.0, 1.0, 2.0]]}'


def on_the_way(_: Packing | None) -> bool:
    """Never enough."""
    return False


def packed(*items: Item, seconds: float = 1.0) -> Packing:
    """What the engine makes of items on a strip of 200.5 mm."""
    return pack(items, 200.5, seconds=seconds, workers=1, watch=on_the_way)


def instead(monkeypatch: pytest.MonkeyPatch, program: str) -> None:
    """Let another program take the engine's place."""
    monkeypatch.setattr(lay_process, "command", lambda: [sys.executable, "-c", f"import sys, os, time\n{program}"])


def test_the_engine_packs() -> None:
    """Four squares of 100 mm on a strip of two take two columns."""
    found = pack([SQUARE], 200.5, seconds=20.0, workers=1, watch=lambda best: best is not None and best.length < 200.5)
    assert found.length == pytest.approx(200.0, abs=0.5)
    assert [id_ for id_, *_ in found.placed] == ["square"] * 4


def test_a_build_without_an_interpreter_starts_itself(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Its executable, given the engine's word and nothing else, is the engine.

    A script that calls the entry point, as the executable of such a build does, stands for it here.
    """
    program = tmp_path / "sheerwright"
    root = Path(__file__).resolve().parents[3]
    calls = f"import sys; sys.path.insert(0, {str(root)!r}); from app.__main__ import main; sys.exit(main())"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -P -c "{calls}" "$@"\n')
    program.chmod(0o755)
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    monkeypatch.setattr(sys, "executable", str(program))
    monkeypatch.chdir(tmp_path)
    assert lay_process.command() == [str(program), "lay-engine"]
    assert packed(SQUARE, seconds=5.0).placed


def test_the_child_stands_back_behind_the_window() -> None:
    """By ten steps of the system's scheduler, of which every one is about a tenth of the processor (nice(2))."""
    child = subprocess.Popen(
        lay_process.command(), stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    assert child.stdin is not None
    assert child.stdout is not None
    child.stdin.write(JOB)
    child.stdin.flush()
    assert child.stdout.readline()
    own = os.getpriority(os.PRIO_PROCESS, 0)
    assert os.getpriority(os.PRIO_PROCESS, child.pid) == min(own + 10, 19)
    child.communicate()


def test_without_a_job_the_child_ends() -> None:
    """As when somebody gives the engine's word by hand."""
    assert subprocess.run(lay_process.command(), input="\n", text=True, timeout=20.0, check=False).returncode == 2


def test_a_panic_is_one_sentence() -> None:
    """The engine itself panics on a sliver; all that is seen of it is a refusal."""
    with pytest.raises(Refusal, match="could not be laid out"):
        packed(SLIVER)


def test_a_killed_child_leaves_the_best_so_far(monkeypatch: pytest.MonkeyPatch) -> None:
    """It told of one arrangement and was killed."""
    instead(monkeypatch, f"print('{FOUND}', flush=True)\nos.kill(os.getpid(), 9)")
    assert packed(SQUARE) == Packing(400.0, (("square", 0.0, 1.0, 2.0),))


def test_a_killed_child_that_found_nothing_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """It was killed before it said anything, or in the middle of a line."""
    for said in ("", '{"length": 40'):
        instead(monkeypatch, f"print('{said}', end='', flush=True)\nos.kill(os.getpid(), 9)")
        with pytest.raises(Refusal, match="could not be laid out"):
            packed(SQUARE)


def test_a_child_that_hangs_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """It says nothing at all: after its time and a grace it is given up, long before the minute that it would last."""
    instead(monkeypatch, "time.sleep(60)")
    monkeypatch.setattr(lay_process, "GRACE", 0.2)
    began = time.monotonic()
    with pytest.raises(Refusal, match="could not be laid out"):
        packed(SQUARE, seconds=0.3)
    assert time.monotonic() - began < 20.0


def test_a_cancel_takes_less_than_three_tenths_of_a_second(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """From the moment it is wanted to the end of the call; the child is killed, and soon gone.

    Of five tries one must be so quick, so that other work on the machine does not count.
    """
    assert any(seconds_of_a_cancel(monkeypatch, tmp_path / f"pid-{turn}") < 0.3 for turn in range(5))


def seconds_of_a_cancel(monkeypatch: pytest.MonkeyPatch, note: Path) -> float:
    """How long one took."""
    instead(monkeypatch, f"open({str(note)!r}, 'w').write(str(os.getpid()))\ntime.sleep(60)")
    wanted: list[float] = []

    def watch(_: Packing | None) -> bool:
        if note.exists() and note.read_text():
            wanted.append(time.monotonic())
            raise Cancelled
        return False

    with pytest.raises(Cancelled):
        pack([SQUARE], 200.5, seconds=30.0, workers=1, watch=watch)
    took = time.monotonic() - wanted[0]
    assert is_gone(int(note.read_text()))
    return took


def is_gone(pid: int) -> bool:
    """Whether a process ends within ten seconds, and is waited for by its parent."""
    until = time.monotonic() + 10.0
    while time.monotonic() < until:
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.02)
    return False


def test_stop_and_keep_gives_the_best_so_far() -> None:
    """The first arrangement is enough: it is there long before the minute is over."""
    began = time.monotonic()
    found = pack([SQUARE], 200.5, seconds=60.0, workers=1, watch=lambda best: best is not None)
    assert len(found.placed) == 4
    assert time.monotonic() - began < 30.0


def test_a_child_ends_with_its_parent() -> None:
    """When its input is closed the engine ends by itself, in the middle of the work."""
    child = subprocess.Popen(
        lay_process.command(), stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, text=True
    )
    assert child.stdin is not None
    child.stdin.write(JOB)
    child.stdin.close()
    assert child.wait(timeout=10.0) == 2
