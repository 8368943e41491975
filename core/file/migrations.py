"""Older files brought up to the schema of this version, one schema at a time.

A migration is a pure function of a design in plain lists and dicts: it alters nothing and returns a new one. It is
written once, with the schema that made it needful, and never changed again: files of that schema exist.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final, TypeAlias

Plain: TypeAlias = dict[str, Any]
Migration: TypeAlias = Callable[[Plain], Plain]

MIGRATIONS: Final[Sequence[Migration]] = ()
"""The n-th takes a design of schema n (from 1) to schema n + 1. There is one schema so far."""


def migrated(design: Plain, schema: int, migrations: Sequence[Migration] = MIGRATIONS) -> Plain:
    """The design, of an older schema or of this one, as this version would have saved it."""
    for migration in migrations[schema - 1 :]:
        design = migration(design)
    return design
