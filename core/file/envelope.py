"""The envelope of a saved design: what it is, by which schema, a digest of the design, and the design.

The digest is the SHA-256 of the *canonical* JSON of the design: keys sorted, no spaces, UTF-8, floats as Python's repr.
It is there because about one flipped bit in five still parses and moves a point without a word.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any, Final

from core.file.gates import Foreign, Unfit

FORMAT: Final = "sheerwright"
SCHEMA: Final = 1
"""The schema this version writes. Older ones are read for ever; a newer one is not guessed at."""
_FIELDS: Final = ("format", "schema", "digest", "design")


class Newer(Unfit):
    """The envelope states a schema that this version does not know."""

    def __init__(self, schema: int) -> None:
        super().__init__(f"it was saved by a newer Sheerwright (file schema {schema}; this one knows {SCHEMA})")
        self.schema = schema


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
    """The design inside a parsed envelope, its digest verified. Newer for a newer schema, Unfit for all else."""
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise Foreign("it is not a Sheerwright design")
    _refuse_schema(whole.get("schema"))
    for name in _FIELDS:
        if name not in whole:
            raise Unfit(f"its envelope has no “{name}”")
    if len(whole) > len(_FIELDS):
        raise Unfit("its envelope holds a field that this version does not know")
    design = whole["design"]
    if not isinstance(design, dict) or whole["digest"] != digest(design):
        raise Unfit("it was damaged or altered after it was saved (its digest does not fit what it holds)")
    return design


def _refuse_schema(schema: object) -> None:
    # True equals 1 in Python, and so does 1.0; neither was ever written.
    if type(schema) is not int or schema < 1:
        raise Unfit("its envelope states no file schema")
    if schema > SCHEMA:
        raise Newer(schema)
