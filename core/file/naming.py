"""How files are named in sentences, what becomes of a name, and how signs that are not seen are shown."""

from __future__ import annotations

import os.path
import unicodedata
from pathlib import Path
from typing import Final

_UNSEEN: Final = frozenset({"Cc", "Cf", "Zl", "Zp"})
"""Unicode's categories of signs that are obeyed and not seen: control, format, and separators of lines."""
_WANTED: Final = frozenset("\n\t\u200c\u200d")
"""Of these, what ordinary writing needs: its lines, and what joins letters of some scripts and parts of a picture."""


def shown_name(path: Path) -> str:
    """The file's name fit for one line of text: control, direction and undecodable characters are written out."""
    name = path.name or str(path)
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in name)


def written_out(text: str) -> str:
    """The text with every sign written out that would turn the writing round, or stand in it without being seen."""
    if text.isprintable():
        return text
    return "".join(f"\\u{ord(c):04x}" if _is_unseen(c) else c for c in text)


def _is_unseen(character: str) -> bool:
    return unicodedata.category(character) in _UNSEEN and character not in _WANTED


def shown_folder(path: Path) -> str:
    """The folder that holds the file, in the same form: its name, or the whole path where that is shorter."""
    return shown_name(path.absolute().parent)


def previous_of(path: Path) -> Path:
    """Where the version before the last save is kept: the file's name, links followed, with a tilde after it."""
    real = Path(os.path.realpath(path))
    return real.with_name(real.name + "~")
