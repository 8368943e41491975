"""What is shipped: the assets, the version, and the program itself, as it starts itself."""

from __future__ import annotations

import sys
from pathlib import Path

VERSION = "0.1.0"
"""The one place that states the version; the build reads it from here."""

ENGINE_WORD = "lay-engine"
"""By this word, which no help lists, the program is the child process in which the nesting engine works."""

_HERE = Path(__file__).resolve().parent


def version() -> str:
    """The version, the same whether the code was installed, frozen or run from a checkout."""
    return VERSION


def asset(*parts: str) -> Path:
    """The path of a shipped file or folder, `parts` counted from the assets folder.

    FileNotFoundError, with a sentence, when it is not there: the installation is then not whole.
    """
    found = assets().joinpath(*parts)
    if not found.exists():
        raise FileNotFoundError(f"{'/'.join(parts)} is missing from Sheerwright's assets; install Sheerwright again.")
    return found


def assets() -> Path:
    """The assets folder: in `core` in a wheel and a frozen build, beside it in a checkout or an editable install."""
    places = (_HERE / "assets", _HERE.parent / "assets")
    # The licence marks the folder as ours: beside an installed `core`, another package may own a folder of that name.
    for place in places:
        if (place / "LICENSE").is_file():
            return place
    raise FileNotFoundError("Sheerwright's assets are missing; install Sheerwright again.")


def own_command(*words: str) -> list[str]:
    """How the program starts itself with some words: a frozen one is its own executable, else Python runs it.

    Python has to be started in `own_folder()`.
    """
    return [sys.executable, *words] if _is_frozen() else [sys.executable, "-m", "app", *words]


def own_folder() -> Path | None:
    """Where the program has to be started; None where that does not matter."""
    return None if _is_frozen() else _HERE.parent


def _is_frozen() -> bool:
    """Whether this is a build without an interpreter: those who make such builds have `sys.frozen` say so."""
    return bool(getattr(sys, "frozen", False))
