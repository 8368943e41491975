"""The marks of a ruler: which divisions of the user's unit are far enough apart to read at this zoom."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import Final

import msgspec

from core.units import MM_PER, Unit

LEAST_GAP: Final = 5.0
"""Pixels between neighbouring marks: closer ones run together."""

LEAST_LABEL_GAP: Final = 46.0
"""Pixels between numbers."""

_INCHES: Final = tuple(Fraction(1, n) for n in (32, 16, 8, 4, 2)) + tuple(
    Fraction(n) for n in (1, 2, 6, 12, 24, 60, 120)
)
_DECIMALS: Final = tuple(
    Fraction(n) * scale for scale in (Fraction(1, 100), Fraction(1, 10), 1, 10, 100) for n in (1, 2, 5)
)


class Tick(msgspec.Struct, frozen=True):
    """A mark at a pixel along the ruler; `rank` 0 is the longest and carries `text`."""

    pixel: float
    rank: int
    text: str = ""


def ticks(first: float, scale: float, size: float, *, unit: Unit, apart: float = LEAST_LABEL_GAP) -> list[Tick]:
    """The marks of a ruler of `size` pixels that begins at `first` mm, at `scale` pixels a mm, in rising order.

    Numbers are in the unit: inches, centimetres, or millimetres; they stand `apart` pixels or farther from each other.
    """
    per_unit = MM_PER[unit] * scale
    fine = _least(unit, LEAST_GAP / per_unit)
    coarse = _least(unit, apart / per_unit, multiple_of=fine)
    numbered, longer = int(coarse / fine), int(_between(unit, fine, coarse) / fine)
    step = float(fine) * MM_PER[unit]
    found = []
    for index in range(ceil(first / step), floor((first + size / scale) / step) + 1):
        rank = 0 if index % numbered == 0 else 1 if index % longer == 0 else 2
        found.append(Tick((index * step - first) * scale, rank, _text(index * fine) if rank == 0 else ""))
    return found


def _steps(unit: Unit) -> tuple[Fraction, ...]:
    return _INCHES if unit == "in" else _DECIMALS


def _least(unit: Unit, wanted: float, *, multiple_of: Fraction | None = None) -> Fraction:
    """The smallest step that is at least `wanted` units, and a multiple of a finer one."""
    for step in _steps(unit):
        if step >= wanted and (multiple_of is None or step % multiple_of == 0):
            return step
    last = multiple_of or _steps(unit)[-1]
    return last * ceil(Fraction(wanted) / last)


def _between(unit: Unit, fine: Fraction, coarse: Fraction) -> Fraction:
    """A step between the finest marks and the numbered ones that divides the latter: their half or fifth."""
    inside = [step for step in _steps(unit) if fine < step < coarse and coarse % step == 0 and step % fine == 0]
    return inside[-1] if inside else coarse


def _text(value: Fraction) -> str:
    """`7 1/2` for halves and finer parts that are powers of two, decimals for others."""
    if value.denominator == 1:
        return str(value.numerator)
    if value.denominator in (2, 4, 8, 16, 32):
        whole, part = divmod(abs(value), 1)
        words = f"{whole} {part}" if whole else str(part)
        return f"-{words}" if value < 0 else words
    return f"{float(value):g}"
