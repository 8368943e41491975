"""What commands are given: designs, bodies, and outputs that must not be one of their own inputs."""

from __future__ import annotations

import os.path
from pathlib import Path

from core.body.body import Body, read_body
from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.file.gates import Unfit, read_bytes
from core.file.naming import shown_folder, shown_name
from core.file.reader import read_design


def whole_replay(path: Path) -> Replay:
    """The replay of the design in a file. Refusal when the file, its block or any of its steps cannot be used."""
    done = _replayed(path, read_design(path))
    if done.refused:
        raise Refusal(
            f"{shown_name(path)}: the step {done.refused.step_id} cannot be done: {done.refused.sentence}",
            piece=done.refused.piece,
            edge=done.refused.edge,
        )
    return done


def _replayed(path: Path, design: Design) -> Replay:
    try:
        return replay(design)
    except Refusal as refusal:
        raise Refusal(f"{shown_name(path)}: {refusal.sentence}") from refusal


def body_in(path: Path) -> Body:
    """The body in a body file. Refusal, naming the file, when it cannot be read as one."""
    name = shown_name(path)
    try:
        return read_body(read_bytes(path).decode("utf-8"))
    except FileNotFoundError as error:
        raise Refusal(f"{name} cannot be opened: there is no such file in {shown_folder(path)}.") from error
    except OSError as error:
        raise Refusal(f"{name} cannot be opened: {error.strerror or error}.") from error
    except UnicodeDecodeError as error:
        raise Refusal(f"{name} cannot be opened: it is not UTF-8 text.") from error
    except Unfit as unfit:
        raise Refusal(f"{name} cannot be opened: {unfit}.") from unfit
    except Refusal as refusal:
        raise Refusal(f"{name}: {refusal.sentence}") from refusal


def refuse_same(output: Path, *others: Path) -> None:
    """Refuse an output that would take the place of an input, or of the command's other output."""
    for other in others:
        if _are_one(output, other):
            raise Refusal(f"{shown_name(output)} would be written over {shown_name(other)}: give another name.")


def _are_one(a: Path, b: Path) -> bool:
    if os.path.realpath(a) == os.path.realpath(b):
        return True
    try:
        return a.samefile(b)
    except OSError:
        return False
