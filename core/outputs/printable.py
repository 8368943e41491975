"""Texts of any script on their way out of the program: nothing in a name may break a print."""

from __future__ import annotations

import unicodedata
from typing import Final

STAND_IN: Final = "¤"
"""Shown for a character that cannot be, so that the gap is seen."""


def plain(text: str) -> str:
    """One line in composed form: control characters dropped, line ends and tabs as blanks.

    Lone surrogates, which no file can hold, get a stand-in.
    """
    seen = unicodedata.normalize("NFC", text)
    shown = (" " if character in "\n\t" else character for character in seen)
    kept = (character for character in shown if unicodedata.category(character) not in ("Cc", "Cf"))
    return "".join(STAND_IN if unicodedata.category(character) == "Cs" else character for character in kept)
