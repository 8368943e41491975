"""Checks that run at the same time, with small ones in the place of those that take minutes."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests import side_by_side
from tests.covered import ROOT
from tests.side_by_side import Check, run

MEET = """
import pathlib, sys, time
mine, other = map(pathlib.Path, sys.argv[1:])
print("begins", mine.name, flush=True)
mine.touch()
until = time.monotonic() + 30
while not other.exists() and time.monotonic() < until:
    time.sleep(0.01)
print("ends", mine.name, flush=True)
sys.exit(not other.exists())
"""
"""Waits until the other has begun, which it never does where one waits for the end of the other."""
FAILS = """
import pathlib, sys, time
note, until = pathlib.Path(sys.argv[1]), time.monotonic() + 30
while not (note.exists() and note.read_text()) and time.monotonic() < until:
    time.sleep(0.01)
print("a test failed", file=sys.stderr)
sys.exit(7)
"""
"""Fails as soon as the other waits."""
WAITS = "import os, pathlib, sys, time; pathlib.Path(sys.argv[1]).write_text(str(os.getpid())); time.sleep(60)"


def check(heading: str, code: str, *arguments: object) -> Check:
    """A check of a few lines of Python."""
    return Check(heading, (sys.executable, "-c", code, *map(str, arguments)))


def has_ended(pid: int) -> bool:
    """Whether no process has the number any more."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    return False


def wait_for(*notes: Path) -> None:
    """Until every check has said which process it is."""
    until = time.monotonic() + 30
    while not all(note.exists() and note.read_text() for note in notes) and time.monotonic() < until:
        time.sleep(0.01)


def test_two_run_at_the_same_time_and_each_is_shown_whole(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Under its own heading, though both wrote in turn."""
    one, other = tmp_path / "one", tmp_path / "other"
    assert run(check("One", MEET, one, other), check("Other", MEET, other, one)) == 0
    said = capfd.readouterr().out
    assert "== At the same time: One, Other ==" in said
    assert "== One ==\nbegins one\nends one\n" in said
    assert "== Other ==\nbegins other\nends other\n" in said


def test_one_alone_speaks_for_itself(capfd: pytest.CaptureFixture[str]) -> None:
    """Its status is handed on, and the window has no screen in it."""
    assert run(check("Alone", "import os; print(os.environ['QT_QPA_PLATFORM']); raise SystemExit(3)")) == 3
    assert capfd.readouterr().out == "\n== Alone ==\noffscreen\n"


def test_the_first_that_fails_stops_the_other(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Its words, the warnings too, are shown and its status is handed on; the other is ended and said to be."""
    note = tmp_path / "pid"
    assert run(check("Long", WAITS, note), check("Fails", FAILS, note)) == 7
    said = capfd.readouterr().out
    assert "== Fails ==\na test failed\n" in said
    assert said.endswith("\n== Long: stopped ==\n")
    assert has_ended(int(note.read_text()))


def test_meanwhile_it_is_said_how_far_each_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """By the share that pytest prints at the end of its lines; and Ctrl-C at that moment ends both."""
    lines: list[str] = []

    def say(line: str) -> None:
        lines.append(line.strip())
        if line == "Tests 40%; Silent begun":
            raise KeyboardInterrupt

    monkeypatch.setattr(side_by_side, "SAID_EVERY", 0.1)
    monkeypatch.setattr(side_by_side, "say", say)
    shares = "print('.. [  5%]'); print('.. [ 40%]', flush=True); import time; time.sleep(60)"
    with pytest.raises(KeyboardInterrupt):
        run(check("Tests", shares), check("Silent", WAITS, tmp_path / "pid"))
    assert lines[-2:] == ["== Tests: stopped ==", "== Silent: stopped =="]


INTERRUPTED = """
import sys
from tests import __main__ as checks, side_by_side
waits, first, second = sys.argv[1:]
checks.QUICK = ()
checks.LONG = tuple(side_by_side.Check(note, (sys.executable, "-c", waits, note)) for note in (first, second))
sys.exit(checks.main())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there one process cannot send another a Ctrl-C")
def test_ctrl_c_ends_both(tmp_path: Path) -> None:
    """The whole check ends with the status that a shell gives a Ctrl-C, and nothing of it runs on."""
    notes = tmp_path / "first", tmp_path / "second"
    command = [sys.executable, "-c", INTERRUPTED, WAITS, *map(str, notes)]
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    wait_for(*notes)
    process.send_signal(signal.SIGINT)
    said, errors = process.communicate(timeout=30)
    assert (process.returncode, errors) == (130, "")
    assert said.count(": stopped ==") == 2
    assert all(has_ended(int(note.read_text())) for note in notes)
