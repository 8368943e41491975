"""How files are named in sentences, and what becomes of a name."""

from __future__ import annotations

import os.path
from pathlib import Path


def shown_name(path: Path) -> str:
    """The file's name fit for one line of text: control, direction and undecodable characters are written out."""
    name = path.name or str(path)
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in name)


def shown_folder(path: Path) -> str:
    """The folder that holds the file, in the same form: its name, or the whole path where that is shorter."""
    return shown_name(path.absolute().parent)


def previous_of(path: Path) -> Path:
    """Where the version before the last save is kept: the file's name, links followed, with a tilde after it."""
    real = Path(os.path.realpath(path))
    return real.with_name(real.name + "~")
