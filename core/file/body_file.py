"""A client's body from a file: one written for it, or a saved design's."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from core.body.body import Body, read_body
from core.errors import Refusal
from core.file.gates import Unfit, read_bytes
from core.file.naming import shown_folder, shown_name
from core.file.reader import read_design

DESIGN: Final = ".sheer"


def body_in(path: Path) -> Body:
    """The body in a body file, or the one that a saved design is for. Refusal, naming the file, for what is neither."""
    if path.suffix.casefold() == DESIGN:
        return read_design(path).body
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
