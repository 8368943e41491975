"""Finished girths of the block."""

from __future__ import annotations

from math import cos, radians, tan

import pytest
from msgspec.structs import replace

from core.body.body import complete
from core.checks.girths import as_worked, girths, level_length
from core.design.design import Design
from core.pieces.records import Dart
from core.steps.take_in import Level, TakeIn
from tests.paper_block import front
from tests.samples import design, replayed

UP, ANGLE = 80.0, radians(12.0)


def upright_dart(x: float) -> Dart:
    """A dart whose middle stands upright, its pivot 80 mm over the level y = 100, opening downwards by 12 degrees."""
    low, half = 180.0, 180.0 * tan(ANGLE / 2)
    return Dart("d", (x, low), ((x - half, 0.0), (x + half, 0.0)), "waist_dart", (x, low))


def test_a_level_is_measured_with_the_dart_closed() -> None:
    """Straight across an upright dart 80 mm below its pivot, the gap of 2 · 80 · tan 6 degrees does not count."""
    piece = replace(front(), darts=(upright_dart(100.0),))
    gap = 2 * UP * tan(ANGLE / 2)
    assert level_length(piece, (0.0, 100.0), (200.0, 100.0)) == pytest.approx(200.0 - gap)


def test_two_darts_count_each_once() -> None:
    """Whichever of them comes first in the piece's list."""
    gap = 2 * UP * tan(ANGLE / 2)
    for order in ((60.0, 150.0), (150.0, 60.0)):
        piece = replace(front(), darts=tuple(upright_dart(x) for x in order))
        assert level_length(piece, (0.0, 100.0), (200.0, 100.0)) == pytest.approx(200.0 - 2 * gap)


def test_a_slanting_way_goes_on_at_the_same_distance_from_the_pivot() -> None:
    """It leaves the near leg where it meets it, and starts again as far from the pivot on the other."""
    dart = upright_dart(100.0)
    piece = replace(front(), darts=(dart,))
    slope = 0.3
    x = (100.0 - UP * tan(ANGLE / 2)) / (1 - slope * tan(ANGLE / 2))
    near = (x, 100.0 + slope * x)
    reach = (180.0 - near[1]) / cos(ANGLE / 2)
    far = (100.0 + reach * (100.0 - x) / reach, near[1])
    first = x * (1 + slope**2) ** 0.5
    second = ((200.0 - far[0]) ** 2 + (160.0 - far[1]) ** 2) ** 0.5
    assert level_length(piece, (0.0, 100.0), (200.0, 160.0)) == pytest.approx(first + second)


def test_a_dart_beside_the_level_does_not_count() -> None:
    """A level over the pivot is just straight."""
    piece = replace(front(), darts=(upright_dart(100.0),))
    assert level_length(piece, (0.0, 190.0), (200.0, 190.0)) == pytest.approx(200.0)


@pytest.mark.parametrize("name", ["block", "concert"])
def test_bust_and_waist_are_the_body_and_the_ease(name: str) -> None:
    """Bust and waist of the block are what was asked for, within 1 mm after truing (cutting.md 20)."""
    made: Design = design(name)
    rows = {row.name: row for row in girths(replayed(name).block, complete(made.body), made.ease)}
    for level, ease in (("bust", made.ease.bust), ("waist", made.ease.waist)):
        assert rows[level].finished == pytest.approx(made.body.measurements[level] + ease, abs=1.0)
        assert rows[level].ease == pytest.approx(ease, abs=1.0)
        assert rows[level].wanted == ease
    assert list(rows) == ["upper bust", "bust", "under-bust", "waist"]
    assert rows["upper bust"].body == made.body.measurements["high_bust"]
    assert rows["under-bust"].ease > 0.0


def test_what_is_taken_in_shows_in_the_girths() -> None:
    """1/4 in off each side of the side seam at the waist, left and right: 1 in less round, and nothing at the bust."""
    made, replay = design("concert"), replayed("concert")
    step = TakeIn("t", "side", (Level("waist", 6.35, 6.35), Level("bust_line", 0.0, 0.0)))
    body = complete(made.body)
    before, after = (
        {row.name: row.finished for row in as_worked(girths(replay.block, body, made.ease), worked)}
        for worked in (replay.garment, step.apply(replay.garment).garment)
    )
    assert before["waist"] - after["waist"] == pytest.approx(25.4, abs=0.2)
    assert before["under-bust"] - after["under-bust"] > 5.0
    assert before["bust"] == pytest.approx(after["bust"], abs=0.2)


@pytest.mark.parametrize("name", ["concert", "stage", "skater"])
def test_panels_together_measure_what_the_block_did(name: str) -> None:
    """Cut into panels and not taken in at a level, the bodice is as large there as its block, trims apart."""
    made, replay = design(name), replayed(name)
    body = complete(made.body)
    of_block = {row.name: row.finished for row in girths(replay.block, body, made.ease)}
    for row in as_worked(girths(replay.block, body, made.ease), replay.garment):
        assert row.finished == pytest.approx(of_block[row.name], abs=0.3)
