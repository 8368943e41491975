"""Verdicts: a word and a sign each, so that no one depends on a colour."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final, Literal, TypeAlias, get_args

from core.geometry.tolerances import CHECK, EXACT, GOOD

Verdict: TypeAlias = Literal["exact", "good", "check", "wrong"]

VERDICTS: Final[tuple[Verdict, ...]] = get_args(Verdict)
"""From best to worst."""

SIGNS: Final[Mapping[Verdict, str]] = {"exact": "=", "good": "≈", "check": "?", "wrong": "≠"}


def verdict(difference: float) -> Verdict:
    """The verdict on a seam difference in mm, whichever side is the longer; not a number is wrong.

    House values (trade.md D3): no standard gives any.
    """
    off = abs(difference)
    if off <= EXACT:
        return "exact"
    if off <= GOOD:
        return "good"
    return "check" if off <= CHECK else "wrong"


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The worst of several verdicts; exact for none."""
    return max(verdicts, key=VERDICTS.index, default="exact")
