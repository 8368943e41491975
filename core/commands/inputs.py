"""What commands are given: designs, names between commas, and outputs that must not be one of their own inputs."""

from __future__ import annotations

import os.path
from pathlib import Path

from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.reader import read_design


def whole_replay(path: Path) -> Replay:
    """The replay of the design in a file.

    Refusal when the file, its block or any of its steps cannot be used, and when it has no pieces.
    """
    done = _replayed(path, read_design(path))
    if done.refused:
        raise Refusal(
            f"{shown_name(path)}: the step {done.refused.step_id} cannot be done: {done.refused.sentence}",
            piece=done.refused.piece,
            edge=done.refused.edge,
        )
    if not done.garment.pieces:
        raise Refusal(f"{shown_name(path)} has no pieces: draft a block first.")
    return done


def _replayed(path: Path, design: Design) -> Replay:
    try:
        return replay(design)
    except Refusal as refusal:
        raise Refusal(f"{shown_name(path)}: {refusal.sentence}") from refusal


def names_in(words: str) -> tuple[str, ...]:
    """The names of pieces, or their numbers, given between commas."""
    return tuple(name.strip() for name in words.split(",") if name.strip())


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
