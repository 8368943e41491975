"""What is shipped beside the code: the assets, and the version."""

from __future__ import annotations

from pathlib import Path

VERSION = "0.1.0"
"""The one place that states the version; the build reads it from here."""

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
