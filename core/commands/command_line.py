"""Reading the command line, and the one place where what went wrong becomes one sentence and an exit status."""

from __future__ import annotations

import io
import os
import sys
import traceback
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final, NoReturn, TypeAlias

from core.commands.catalogue import COMMANDS
from core.errors import Cancelled, Refusal
from core.shipped import version

OpenWindow: TypeAlias = Callable[[Path | None, bool], int]
"""Opens the editor on a file, on the demo, or empty (None, False), and gives the exit status when it is closed."""

UNUSABLE: Final = 2
STOPPED: Final = 130
"""128 + 2, the number of the interrupt signal: what shells expect."""
PIPE_CLOSED: Final = 141
"""128 + 13, as a program ends whose reader went away."""

_CORE: Final = Path(__file__).resolve().parents[1]
_OWN: Final = (_CORE, _CORE.with_name("app"))


class _Parser(ArgumentParser):
    """A parser that refuses in one sentence, where argparse would print the usage first."""

    def error(self, message: str) -> NoReturn:
        """Refusal, with the way to the help."""
        raise Refusal(f"{message[0].upper()}{message[1:]}; `{self.prog} --help` says what is understood.")


def main(argv: Sequence[str] | None, open_window: OpenWindow) -> int:
    """Run one command and give its exit status: 0, 1 where `check` found something, 2 with one sentence on stderr.

    `argv` is without the program's name; None takes the process's own. Nothing is raised.
    """
    _never_stumble_over_characters()
    try:
        status = _run(_parser().parse_args(argv), open_window)
        sys.stdout.flush()
    except SystemExit as done:  # argparse after --help and --version
        return int(done.code or 0)
    except (KeyboardInterrupt, Cancelled):
        return _say("Stopped; no file was left half written.", STOPPED)
    except Exception as error:  # noqa: BLE001 - a fault of ours must not look like a verdict, whose status is 1
        return _ended_by(error)
    return status


def _ended_by(error: Exception) -> int:
    """Say what ended the command; the status."""
    if isinstance(error, Refusal):
        return _say(error.sentence, UNUSABLE)
    if isinstance(error, BrokenPipeError):
        _drop_output()
        return PIPE_CLOSED
    if isinstance(error, OSError):
        _drop_output()
        return _say(
            f"The system stopped the work ({error.strerror or error}); no file was left half written.", UNUSABLE
        )
    return _say(_fault(error), UNUSABLE)


def _run(arguments: Namespace, open_window: OpenWindow) -> int:
    if arguments.command is None:
        return open_window(None, False)
    if arguments.command == "open":
        return open_window(arguments.file, arguments.demo)
    return next(command for command in COMMANDS if command.name == arguments.command).run(arguments)


def _parser() -> ArgumentParser:
    parser = _Parser(
        prog="sheerwright",
        description="Drafts, cuts, matches and prints the pieces of an illusion neckline for one body.",
        epilog="Without a command the editor opens on an empty table.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"Sheerwright {version()}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    opening = commands.add_parser("open", help="open the editor on a design", allow_abbrev=False)
    what = opening.add_mutually_exclusive_group()
    what.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a saved design")
    what.add_argument("--demo", action="store_true", help="open the demo as an unsaved copy")
    for command in COMMANDS:
        command.declare(
            commands.add_parser(
                command.name, help=command.words, description=_as_title(command.words), allow_abbrev=False
            )
        )
    return parser


def _as_title(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


# --------------------------------------------------------------------------------------------------------------
# saying it


def _say(sentence: str, status: int) -> int:
    """The sentence as one line on stderr; the status."""
    with suppress(OSError, ValueError):  # nobody may be listening any more
        print(" ".join(sentence.split()), file=sys.stderr, flush=True)
    return status


def _fault(error: Exception) -> str:
    """A fault of the program itself, with the last line of its own where it happened."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if any(Path(frame.filename).is_relative_to(folder) for folder in _OWN)]
    where = (own or frames)[-1]
    what = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
    return (
        f"Sheerwright itself failed in {Path(where.filename).name}, line {where.lineno} ({what}): that is a fault in "
        "the program, and no file was left half written."
    )


def _never_stumble_over_characters() -> None:
    """A terminal that lacks a character shows a substitute; it does not stop the work."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _drop_output() -> None:
    """Let what is still to be flushed at the end go nowhere, for its reader went away."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
