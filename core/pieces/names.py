"""Names as they are spoken: records carry "front.shoulder_dart", a sentence says "shoulder dart"."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import chain, count
from typing import Final

RIGHT: Final = "right"
"""The word before the names of what lies on the right half of an unfolded piece: "right.front.waist_dart"."""


def is_right(name: str) -> bool:
    """Whether a name is of the right half."""
    return RIGHT in name.split(".")[:-1]


def spoken(name: str) -> str:
    """The last word of a dotted name: "front.centre_front" is "centre front"; on the right half, "right side".

    A run of an edge keeps its number: "front.shoulder.2" is "shoulder 2".
    """
    half = f"{RIGHT} " if is_right(name) else ""
    whole, _, last = name.rpartition(".")
    if last.isdigit() and whole:
        return f"{spoken(whole)} {last}"
    return half + last.replace("_", " ")


def spoken_run(name: str) -> str:
    """An edge by the word that all its runs share: "shoulder.2" is "shoulder"."""
    whole, _, last = name.rpartition(".")
    return spoken(whole if last.isdigit() and whole else name)


def line_said(name: str) -> str:
    """A line as it is spoken: "front.sheer_line" is "front sheer line", "front.princess" "front princess line"."""
    full = spoken_in_full(name)
    return full if full.endswith(("line", "seam")) else f"{full} line"


def all_of(names: Sequence[str]) -> str:
    """Things one after the other as a sentence lists them: "the waist", "the waist, the side and the neck"."""
    *first, last = (f"the {name}" for name in names)
    return f"{', '.join(first)} and {last}" if first else last


def free_name(wanted: str, taken: Collection[str], *, joint: str = " ") -> str:
    """The name that is wanted, or where it is taken with the smallest number that frees it: "yoke", "yoke 2"."""
    names = chain((wanted,), (f"{wanted}{joint}{number}" for number in count(2)))
    return next(name for name in names if name not in taken)


def spoken_in_full(name: str) -> str:
    """The whole name, for where two pieces have a thing of that name: "front.princess" is "front princess"."""
    return name.replace(".", " ").replace("_", " ")
