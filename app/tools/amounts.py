"""Amounts as a hand sets them: dragged to a ruler's marks, moved by arrow keys, typed."""

from __future__ import annotations

from math import hypot
from typing import Final

from PySide6.QtCore import Qt

from core.errors import Refusal
from core.geometry.polyline import Point
from core.units import Unit, parse_length

RULE: Final[dict[Unit, float]] = {"in": 25.4 / 32, "cm": 0.5, "mm": 0.5}
"""The finest marks of a ruler, in mm."""

LEAST: Final = 0.3
"""An arrow key that points this little along a way moves nothing (cosine)."""

DIGITS: Final = frozenset({*(Qt.Key(Qt.Key.Key_0.value + n) for n in range(10)), Qt.Key.Key_Period, Qt.Key.Key_Comma})
"""Keys that begin a length in a tool's field."""

BEGINS: Final = DIGITS | {Qt.Key.Key_Minus}
"""Keys that begin a number there, which may be less than nothing."""


def ruled(length: float, unit: Unit, *, free: bool) -> float:
    """A dragged length in mm at the nearest mark of a ruler, unless it is to be free (Alt)."""
    return length if free else round(length / RULE[unit]) * RULE[unit]


def tapped(dx: float, dy: float, way: Point) -> float:
    """How far (mm) an arrow key moves something that can only go along a way (unit vector), back being negative."""
    far = hypot(dx, dy)
    cosine = (dx * way[0] + dy * way[1]) / far
    return 0.0 if abs(cosine) < LEAST else far if cosine > 0 else -far


def along(place: Point, start: Point, way: Point) -> float:
    """How far a place lies from a start along a way (unit vector), in mm."""
    return (place[0] - start[0]) * way[0] + (place[1] - start[1]) * way[1]


def typed(text: str, unit: Unit) -> float:
    """The length in mm that was typed. Refusal for a text that is none, or less than nothing."""
    length = parse_length(text, unit)
    if length < 0.0:
        raise Refusal("Give a length of 0 or more.")
    return length
