"""`demo`: copies of the designs that are shipped, to look at and to alter."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from core.errors import Refusal
from core.file.naming import shown_folder, shown_name
from core.file.writer import write_atomically
from core.shipped import asset


def run(arguments: Namespace) -> int:
    """Copy every demo into the folder, which is made where it is missing; what is replaced is kept with a tilde."""
    folder: Path = arguments.output
    demos = _shipped()
    _make(folder)
    for demo in demos:
        _copy(demo, folder / demo.name)
        print(f"{demo.name} lies in {shown_name(folder.absolute())}.")
    return 0


def _shipped() -> list[Path]:
    try:
        demos = sorted(asset("demo").glob("*.sheer"))
    except FileNotFoundError as error:
        raise Refusal(str(error)) from error
    if not demos:
        raise Refusal("The demo designs are missing from Sheerwright's assets; install Sheerwright again.")
    return demos


def _make(folder: Path) -> None:
    try:
        folder.mkdir(exist_ok=True)
    except FileNotFoundError as error:
        raise Refusal(f"There is no folder {shown_folder(folder)} to make {shown_name(folder)} in.") from error
    except FileExistsError as error:
        raise Refusal(f"{shown_name(folder)} is a file and not a folder: give the name of a folder.") from error
    except OSError as error:
        raise Refusal(f"The folder {shown_name(folder)} cannot be made: {error.strerror or error}.") from error


def _copy(demo: Path, target: Path) -> None:
    """Her own changes to an earlier copy are kept under the name with a tilde; an unchanged copy is left alone."""
    data = demo.read_bytes()
    if not (target.is_file() and target.read_bytes() == data):
        write_atomically(target, data)
