"""What the reader of records finds wrong, and where in the design, in a dressmaker's words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

_KINDS: Final = {
    "float": "a number",
    "int": "a whole number",
    "str": "a text",
    "bool": "yes or no",
    "array": "a list",
    "object": "a group of named values",
    "null": "nothing",
}
_PATH: Final = re.compile(r" - at `\$([^`]*)`\Z")
_PART: Final = re.compile(r"\.(\w+)|\[(\d+|\.\.\.)\]")
_WRONG: Final = re.compile(r"Expected `(?P<want>[\w| ]+)`(?:, got `(?P<got>\w+)`)?(?P<bound>.*)", re.DOTALL)
_UNKNOWN: Final = re.compile(r"Object contains unknown field `(.*)`", re.DOTALL)
_MISSING: Final = re.compile(r"Object missing required field `(.*)`", re.DOTALL)
_VALUE: Final = re.compile(r"Invalid (?:enum )?value '?(.*?)'?", re.DOTALL)
_LONGEST: Final = 40
_OF_ONE: Final = {
    "steps": "step",
    "fabrics": "fabric",
    "pictures": "picture",
    "points": "point",
    "darts": "dart",
    "edges": "edge",
}


def said(message: str, design: object) -> str:
    """Half a sentence about "it" from the reader's message about a design in plain lists and dicts."""
    found = _PATH.search(message)
    what, path = (message[: found.start()], found[1]) if found else (message, "")
    where = _where(_PART.findall(path), design)
    return f"{where or 'its design'} {_complaint(what)}"


def _complaint(what: str) -> str:
    """What is wrong there, after the place that it is said of."""
    if found := _UNKNOWN.fullmatch(what):
        return f"has an entry “{_shown(found[1])}” that this version does not know"
    if found := _MISSING.fullmatch(what):
        return f"lacks its {_spoken(found[1])}"
    if found := _WRONG.fullmatch(what):
        want = " or ".join(_KINDS.get(kind.strip(), "another value") for kind in found["want"].split("|"))
        if found["got"]:
            return f"should be {want} and is {_KINDS.get(found['got'], 'something else')}"
        return f"is {want} outside what is possible there"
    if found := _VALUE.fullmatch(what):
        return f"is “{_shown(found[1])}”, which this version does not know"
    return "does not read as it should"


def _where(parts: Sequence[tuple[str, str]], design: object) -> str:
    """The place as words: `its step 3 (cut-1): point 2: x`."""
    words: list[str] = []
    here: object = design
    last = ""
    for field, index in parts:
        if field:
            here, last = here.get(field) if isinstance(here, dict) else None, field
            words.append(_spoken(field))
        elif index == "...":
            words.append("one of the values")
            here = None
        else:
            here = here[int(index)] if isinstance(here, list | tuple) else None
            words[-1] = f"{_OF_ONE.get(last, words[-1] + ',')} {int(index) + 1}{_named(here)}"
    return f"its {': '.join(words)}" if words else ""


def _named(entry: object) -> str:
    """The id or the name of an entry of a list, where it has one."""
    name = (entry.get("id") or entry.get("name")) if isinstance(entry, dict) else None
    return f" (“{_shown(name)}”)" if isinstance(name, str) else ""


def _spoken(field: str) -> str:
    return _shown(field).replace("_", " ")


def _shown(text: str) -> str:
    plain = "".join(c if c.isprintable() else "?" for c in text)
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 1] + "…"
