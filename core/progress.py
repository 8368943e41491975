"""How far long work has come: told to whoever asks, who may stop the work by raising `core.errors.Cancelled`."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

Progress: TypeAlias = Callable[[int, int], None]
"""Called by the work with (parts done, parts in all)."""


def untold(_done: int, _total: int) -> None:
    """Nobody asks how far it is."""
