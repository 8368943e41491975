"""The envelope of a saved design: what it is, by which schema, a digest of the design, and the design.

The digest is the SHA-256 of the *canonical* JSON of the design: keys sorted, no spaces, UTF-8, floats as Python's repr.
It is there because about one flipped bit in five still parses and moves a point without a word.
"""

from __future__ import annotations

import hashlib
import json
import re
from typing import Any, Final

from core.file.gates import Foreign, Unfit
from core.file.migrations import MIGRATIONS, migrated

FORMAT: Final = "sheerwright"
SCHEMA: Final = 1 + len(MIGRATIONS)
"""The schema this version writes. Older ones are read for ever; a newer one is not guessed at."""
_FIELDS: Final = ("format", "schema", "digest", "design")
_HEAD: Final = re.compile(rb'\s*\{\s*"format"\s*:\s*"sheerwright"\s*,\s*"schema"\s*:\s*(\d{1,9})\b')


class Newer(Unfit):
    """The envelope states a schema that this version does not know. `design` is what it holds, unless it is damaged."""

    def __init__(self, schema: int, design: object = None) -> None:
        super().__init__(f"it was saved by a newer Sheerwright (file schema {schema}; this one knows {SCHEMA})")
        self.schema = schema
        self.design = design


def canonical(design: object) -> bytes:
    """The canonical JSON of a design in plain lists and dicts. ValueError for NaN, infinity or half a character."""
    text = json.dumps(design, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return text.encode()


def digest(design: object) -> str:
    """SHA-256 of the canonical JSON, in lower-case hexadecimal."""
    return hashlib.sha256(canonical(design)).hexdigest()


def sealed(design: object) -> bytes:
    """The bytes of a file that holds this design, indented so that a person can read and compare it."""
    whole = {"format": FORMAT, "schema": SCHEMA, "digest": digest(design), "design": design}
    return (json.dumps(whole, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def unsealed(whole: object) -> dict[str, Any]:
    """The design inside a parsed envelope, its digest verified, in the schema of this version.

    Newer for a newer schema, Unfit for all else.
    """
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise Foreign("it is not a Sheerwright design")
    schema = _schema(whole)
    for name in _FIELDS:
        if name not in whole:
            raise Unfit(f"its envelope has no “{name}”")
    if len(whole) > len(_FIELDS):
        raise Unfit("its envelope holds a field that this version does not know")
    design = whole["design"]
    if not isinstance(design, dict) or whole["digest"] != digest(design):
        raise Unfit("it was damaged or altered after it was saved (its digest does not fit what it holds)")
    return migrated(design, schema)


def stated_schema(head: bytes) -> int:
    """The schema that the first bytes of a file state, 0 where they state none: what no save may go back behind."""
    found = _HEAD.match(head)
    return int(found[1]) if found else 0


def _schema(whole: dict[str, Any]) -> int:
    schema = whole.get("schema")
    # True equals 1 in Python, and so does 1.0; neither was ever written.
    if type(schema) is not int or schema < 1:
        raise Unfit("its envelope states no file schema")
    if schema > SCHEMA:
        undamaged = whole.get("digest") == digest(whole.get("design"))
        raise Newer(schema, whole.get("design") if undamaged else None)
    return schema
