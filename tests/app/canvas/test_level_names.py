"""Where the names of levels stand on a piece."""

from __future__ import annotations

from app.canvas.piece_marks import name_place
from core.geometry.planar import distance_into
from core.geometry.polyline import as_points, point_at
from tests.app.at_table import AtTable, first_steps

CLEAR = 30.0


def test_the_name_of_a_line_that_runs_by_the_outline_stands_away_from_it() -> None:
    """A wide bust circle comes near the fold, where another word stands: its name goes to its far side."""
    front = AtTable(first_steps(0)).piece("front")
    ring = as_points([(150.0, 150.0), (80.0, 200.0), (5.0, 150.0), (80.0, 100.0), (150.0, 150.0)])
    at = point_at(ring, name_place(front, ring, CLEAR))
    assert distance_into(front.loop, at) >= CLEAR


def test_a_line_that_is_near_the_outline_all_along_has_its_name_where_it_is_usual() -> None:
    """No place is better than another there."""
    front = AtTable(first_steps(0)).piece("front")
    line = as_points([(4.0, 100.0), (4.0, 200.0)])
    assert name_place(front, line, CLEAR) == 62.0
