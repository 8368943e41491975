"""Running a command: in this process where only its result matters, in one of its own where streams and signals do."""

from __future__ import annotations

import io
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from core.commands.__main__ import no_window
from core.commands.command_line import main

ROOT = Path(__file__).resolve().parents[3]


@dataclass(frozen=True, slots=True)
class Done:
    """What a command ended with and said."""

    status: int
    out: str
    err: str


def command(*arguments: str | Path) -> Done:
    """Run a command in this process."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main([str(argument) for argument in arguments], no_window)
    return Done(status, out.getvalue(), err.getvalue())


def process(*arguments: str | Path) -> Done:
    """Run a command as a user would, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "core.commands", *map(str, arguments)],
        cwd=ROOT,
        capture_output=True,
        check=False,
        encoding="utf-8",
    )
    return Done(done.returncode, done.stdout, done.stderr)


def refused(done: Done) -> str:
    """The one sentence of a command that could not be done: status 2, nothing else said, no fault of the program."""
    assert done.status == 2, done
    assert done.out == ""
    assert done.err.endswith(".\n")
    assert done.err.count("\n") == 1
    assert "itself failed" not in done.err
    return done.err.strip()


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, for saying that nothing was changed."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
