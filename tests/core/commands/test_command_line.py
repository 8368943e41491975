"""The command line: its help, how it opens the window, and how it says what went wrong."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from core.commands.catalogue import COMMANDS
from core.commands.command_line import main
from core.errors import Cancelled, Refusal
from core.file.writer import save_design
from core.shipped import ENGINE_WORD, version
from tests.core.commands.running import ROOT, command, contents, process, refused
from tests.core.file.sample_designs import block_design


def no_window(_file: Path | None, _demo: bool) -> int:
    """A window that must not be opened."""
    raise AssertionError("the window was opened")


def raising(error: BaseException) -> Callable[[Path | None, bool], int]:
    """A window that fails."""

    def window(_file: Path | None, _demo: bool) -> int:
        raise error

    return window


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    """The window's command too, not the word for the program's own child; the commands are those of design.md 12."""
    assert main(["--help"], no_window) == 0
    said = capsys.readouterr().out
    names = ["draft", "check", "pieces", "print", "export", "sheets", "lesson", "redraft", "lay", "demo"]
    assert [item.name for item in COMMANDS] == names
    assert all(f"    {name} " in said for name in ("open", *names))
    assert ENGINE_WORD not in said


@pytest.mark.parametrize("name", ["open", *(item.name for item in COMMANDS)])
def test_every_command_has_help(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Its options are explained."""
    assert main([name, "--help"], no_window) == 0
    assert f"usage: sheerwright {name}" in capsys.readouterr().out


def test_the_version_is_that_of_the_package(capsys: pytest.CaptureFixture[str]) -> None:
    """Said by --version."""
    assert main(["--version"], no_window) == 0
    assert capsys.readouterr().out == f"Sheerwright {version()}\n"


@pytest.mark.parametrize(
    ("argv", "asked"),
    [
        ([], (None, False)),
        (["open"], (None, False)),
        (["open", "gown.sheer"], (Path("gown.sheer"), False)),
        (["open", "--demo"], (None, True)),
    ],
)
def test_the_window_is_asked_for_what_was_named(argv: list[str], asked: tuple[Path | None, bool]) -> None:
    """A file, the demo or nothing; its exit status is the command's."""
    seen = []

    def window(file: Path | None, demo: bool) -> int:
        seen.append((file, demo))
        return 7

    assert main(argv, window) == 7
    assert seen == [asked]


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["sew"], "invalid choice: 'sew'"),
        (["check"], "FILE"),
        (["check", "a", "b"], "Unrecognized arguments: b"),
        (["check", "a", "--jso"], "Unrecognized arguments: --jso"),
        (["draft", "-o", "x.sheer"], "--body"),
        (["draft", "--body", "b.json"], "-o"),
        (["print", "x.sheer"], "-o"),
        (["pieces", "x.sheer"], "--json"),
        (["open", "--demo", "x.sheer"], "not allowed with argument"),
    ],
)
def test_what_is_not_understood_is_said_in_one_sentence(argv: list[str], words: str) -> None:
    """With the way to the help, status 2, and without the usage in front."""
    sentence = refused(command(*argv))
    assert words in sentence
    assert "--help` says what is understood." in sentence


@pytest.mark.parametrize(
    ("error", "status", "words"),
    [
        (Refusal("The line misses\nthe piece."), 2, "The line misses the piece."),
        (KeyboardInterrupt(), 130, "Stopped; no file was left half written."),
        (Cancelled(), 130, "Stopped; no file was left half written."),
        (OSError(28, "No space left on device"), 2, "The system stopped the work (No space left on device)"),
        (ZeroDivisionError("by\nzero"), 2, "Sheerwright itself failed in command_line.py, line "),
    ],
)
def test_whatever_goes_wrong_is_one_line(
    error: BaseException, status: int, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Never a traceback, never a status that could be read as a verdict."""
    assert main([], raising(error)) == status
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(words)
    assert said.err.count("\n") == 1


def test_there_is_no_window_without_the_window() -> None:
    """`python -m core.commands` runs everything else."""
    assert "start it with `sheerwright`" in refused(process())


@pytest.mark.parametrize(("argv", "slow"), [(["--help"], "numpy"), (["check", "gone.sheer"], "reportlab")])
def test_slow_libraries_wait_until_they_are_needed(argv: list[str], slow: str) -> None:
    """Help waits for no arrays, a check for no printing."""
    code = f"import sys; from core.commands import main; main({argv}, print); print({slow!r} in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "False"


INTERRUPTED = """
import os, signal, sys
from core.commands import main
real = os.fsync
os.fsync = lambda descriptor: os.kill(os.getpid(), signal.SIGINT) or real(descriptor)
sys.exit(main(sys.argv[1:], print))
"""


@pytest.mark.skipif(os.name == "nt", reason="Windows has no interrupt signal of this kind")
def test_ctrl_c_leaves_nothing_half_written(tmp_path: Path) -> None:
    """A real signal in the middle of writing: the old output stays, nothing lies beside it, status 130."""
    save_design(tmp_path / "x.sheer", block_design())
    (tmp_path / "out.json").write_bytes(b"old")
    before = contents(tmp_path)
    arguments = ("pieces", tmp_path / "x.sheer", "--json", tmp_path / "out.json")
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "Stopped; no file was left half written.\n")
    assert contents(tmp_path) == before


@pytest.mark.skipif(os.name == "nt", reason="Windows ends a closed pipe in its own way")
def test_a_reader_that_goes_away_is_no_fault(tmp_path: Path) -> None:
    """`check FILE | head` ends quietly, as other programs do."""
    save_design(tmp_path / "x.sheer", block_design())
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "core.commands", "check", tmp_path / "x.sheer"],
        cwd=ROOT,
        stdout=writing,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (128 + signal.SIGPIPE, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_a_result_that_cannot_be_shown_is_said(tmp_path: Path) -> None:
    """A report that went to a full disk must not pass for a good one."""
    save_design(tmp_path / "x.sheer", block_design())
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "core.commands", "check", tmp_path / "x.sheer"],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 2
    assert done.stderr.startswith(b"The system stopped the work (No space left on device)")
    assert done.stderr.count(b"\n") == 1


def test_any_terminal_will_do(tmp_path: Path) -> None:
    """Where a terminal has no signs but ASCII, the words still come through."""
    save_design(tmp_path / "x.sheer", block_design())
    done = subprocess.run(
        [sys.executable, "-m", "core.commands", "check", tmp_path / "x.sheer"],
        cwd=ROOT,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"exact" in done.stdout
