"""Rulers read in the user's unit at every zoom."""

from __future__ import annotations

import itertools

import pytest

from app.canvas.ticks import LEAST_GAP, LEAST_LABEL_GAP, ticks
from core.units import MM_PER, UNITS, Unit


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("scale", [0.19, 0.5, 1.0, 3.78, 20.0, 242.0])
def test_marks_are_apart_and_numbers_stand_where_they_say(unit: Unit, scale: float) -> None:
    """No two marks run together, no two numbers; a number n stands n units from 0."""
    found = ticks(-137.0, scale, 1500.0, unit=unit)
    gaps = [b.pixel - a.pixel for a, b in itertools.pairwise(found)]
    assert min(gaps) >= LEAST_GAP - 1e-9
    numbered = [tick for tick in found if tick.text]
    assert numbered
    assert all(b.pixel - a.pixel >= LEAST_LABEL_GAP - 1e-9 for a, b in itertools.pairwise(numbered))
    for tick in numbered:
        assert _value(tick.text) * MM_PER[unit] == pytest.approx(-137.0 + tick.pixel / scale, abs=1e-6)


def _value(text: str) -> float:
    sign = -1.0 if text.startswith("-") else 1.0
    parts = [part.split("/") for part in text.removeprefix("-").split()]
    return sign * sum(float(part[0]) / float(part[1]) if len(part) == 2 else float(part[0]) for part in parts)


def test_inches_are_divided_by_two_as_on_a_tape() -> None:
    """Near by, an inch shows its eighths or finer: 96 pixels an inch hold sixteenths (6 pixels)."""
    found = ticks(0.0, 96 / 25.4, 96.0, unit="in")
    assert len(found) == 17
    assert [tick.text for tick in found if tick.rank == 0] == ["0", "1/2", "1"]
