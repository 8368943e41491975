"""JSON documents that commands write."""

from __future__ import annotations

import json


def as_json(document: object) -> bytes:
    """A document as one line of UTF-8 JSON. A number that is none would be a fault of ours: ValueError."""
    return (json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":")) + "\n").encode()
