"""What a file must get past before its text is taken for a design.

Python's JSON reader takes NaN, 1e400, a key twice and half a surrogate pair without a word, and how deep it reads
depends on its version; so each has a gate of its own here, and what takes long is only done once the cheap gates are
passed. A gate that shuts raises `Unfit` with half a sentence about "it"; the reader adds which file that was.
"""

from __future__ import annotations

import json
import os
import re
import stat
from math import isfinite
from pathlib import Path
from typing import Any, Final, NoReturn

from core.design.kept_lay import FARTHEST

LARGEST_FILE: Final = 10 * 1024 * 1024
"""Bytes; a large design has some hundred thousand."""
DEEPEST: Final = 64
"""Lists and objects inside each other; a design has about ten."""
MOST_MARKS: Final = 1_000_000
"""Quotes, commas and opening brackets: a bound on the work and the memory that parsing can take."""
MOST_ENTRIES: Final = 2_000
"""Entries of one list or object: points of a line, steps of a design."""
FEWER: Final = {"points": 500, "steps": 500}
"""What takes time to work out may be fewer still: points of a curve, steps of a design. A bodice has ten of each; with
these numbers the whole is read and worked out in under two seconds."""
LONGEST_TEXT: Final = 10_000
LONGEST_IMAGE: Final = 4_000_008
"""Characters of a picture, which stands in the text as base64 (RFC 4648): four for every three of its bytes."""
LONGEST_NUMBER: Final = 40
"""Characters; the longest that a double needs is 24."""
LARGEST_NUMBER: Final = 10_000.0
"""Every number of a design is a length in mm, an angle in degrees, a share or a count: none comes near ten metres."""
LARGER: Final = {"lays": FARTHEST}
"""What may hold larger ones: a cloth is longer than a garment."""

_READ_ONLY: Final = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
"""Not blocking, for opening a pipe that nobody writes to would wait for ever."""
_STRING_OR_BRACKET: Final = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+"?|[\[\]{}]', re.DOTALL)
"""A whole string (to the end of the text where it is not closed), or a bracket outside strings. Possessive: linear."""
_BASE64: Final = re.compile("[A-Za-z0-9+/]*+={0,2}")
_HALF_PAIR: Final = re.compile("[\ud800-\udfff]")


class Unfit(Exception):
    """What keeps bytes from being read as a design, as half a sentence that begins with "it" or "its"."""


class Foreign(Unfit):
    """It never was a design."""


def read_bytes(path: Path, most: int = LARGEST_FILE + 1) -> bytes:
    """The bytes of a regular file, `most` at most. Unfit for anything else; OSError as the system says."""
    descriptor = os.open(path, _READ_ONLY)
    try:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise Foreign("it is a folder or a device and not a file")
        with os.fdopen(descriptor, "rb", closefd=False) as file:
            return file.read(most)
    finally:
        os.close(descriptor)


def parsed(data: bytes) -> object:
    """What the JSON text in these bytes says, of plain lists, dicts, texts and finite numbers. Unfit otherwise."""
    text = _decoded(data)
    _refuse_too_much(text)
    _refuse_depth(text)
    try:
        value = json.loads(
            text, object_pairs_hook=_each_once, parse_constant=_no_number, parse_float=_real, parse_int=_whole
        )
    except json.JSONDecodeError as error:
        raise Unfit(f"it is cut short or damaged at line {error.lineno}") from error
    _refuse_within(value)
    return value


def _decoded(data: bytes) -> str:
    if not data:
        raise Unfit("it is empty")
    if len(data) > LARGEST_FILE:
        raise Unfit(f"it is larger than {LARGEST_FILE // 1024**2} MiB, which no design is")
    if data.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise Foreign("it begins with a byte order mark, so another program wrote it")
    if b"\0" in data:
        raise Unfit("it holds zero bytes, so it is damaged or no text")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise Unfit(f"it is not UTF-8 text (byte {error.start} cannot be read)") from error


def _refuse_too_much(text: str) -> None:
    if sum(text.count(mark) for mark in '",[{') > MOST_MARKS:
        raise Unfit("it holds far more than a design can")


def _refuse_depth(text: str) -> None:
    depth = 0
    for found in _STRING_OR_BRACKET.finditer(text):
        mark = found[0]
        depth += (mark in "[{") - (mark in "]}")
        if depth > DEEPEST:
            raise Unfit(f"it is nested more than {DEEPEST} deep, which no design is")


# --------------------------------------------------------------------------------------------------------------
# while parsing


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Unfit(f"it gives {_quoted(twice)} twice in one place")
    return fields


def _no_number(word: str) -> NoReturn:
    raise Unfit(f"it holds {word}, which is not a number")


def _real(digits: str) -> float:
    number = float(digits) if len(digits) <= LONGEST_NUMBER else float("inf")
    return _believable(number, digits)


def _whole(digits: str) -> int:
    number = int(digits) if len(digits) <= LONGEST_NUMBER else float("inf")
    return int(_believable(number, digits))


def _believable(number: float, digits: str) -> float:
    """A number that something in a design could be; what may be as large as that is known after parsing."""
    if not isfinite(number) or abs(number) > max(LARGER.values()):
        raise _too_large(digits)
    return number


def _too_large(digits: str) -> Unfit:
    return Unfit(f"it holds the number {_shortened(digits)}, and nothing in a garment is over 10 m")


# --------------------------------------------------------------------------------------------------------------
# after parsing


def _refuse_within(value: object, largest: float = LARGEST_NUMBER) -> None:
    """Refuse text that could not be written again, too large numbers, too long lists and texts, at any depth."""
    if isinstance(value, str):
        _refuse_text(value)
    elif isinstance(value, float | int):
        if abs(value) > largest:
            raise _too_large(f"{value:.15g}")
    elif isinstance(value, list | dict):
        if len(value) > MOST_ENTRIES:
            raise Unfit(f"it holds a list of {len(value)} entries, more than the {MOST_ENTRIES} that a design may have")
        for entry in value:
            _refuse_within(entry, largest)
        for name, entry in value.items() if isinstance(value, dict) else ():
            if name in FEWER and isinstance(entry, list) and len(entry) > FEWER[name]:
                raise Unfit(f"it is too complex: {len(entry)} {name} in one list, where {FEWER[name]} are the most")
            if name == "image" and isinstance(entry, str):
                _refuse_image(entry)
            else:
                _refuse_within(entry, LARGER.get(name, largest) if isinstance(entry, list) else largest)


def _refuse_image(text: str) -> None:
    if len(text) > LONGEST_IMAGE or not _BASE64.fullmatch(text):
        raise Unfit("it holds a picture that is too large or damaged")


def _refuse_text(text: str) -> None:
    if len(text) > LONGEST_TEXT:
        raise Unfit(f"it holds a text of {len(text)} characters, more than the {LONGEST_TEXT} that a design may have")
    if "\0" in text or _HALF_PAIR.search(text):
        raise Unfit("it holds a character that is none (a zero, or half of a surrogate pair)")


def _quoted(text: str) -> str:
    return f"“{''.join(c if c.isprintable() else '?' for c in _shortened(text))}”"


def _shortened(text: str) -> str:
    return text if len(text) <= LONGEST_NUMBER else text[: LONGEST_NUMBER - 1] + "…"
