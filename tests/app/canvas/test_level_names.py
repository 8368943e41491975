"""Where the names of levels stand on a piece."""

from __future__ import annotations

from itertools import combinations

import pytest
from PySide6.QtGui import QPainter, QPixmap

from app.canvas.piece_drawing import Sheet
from app.canvas.piece_marks import level_names, name_places
from core.geometry.planar import distance_into
from core.geometry.polyline import as_points, point_at
from tests.app.at_table import AtTable, first_steps

CLEAR = 30.0


def test_the_name_of_a_line_that_runs_by_the_outline_stands_away_from_it() -> None:
    """A wide bust circle comes near the fold, where another word stands: its name goes to its far side."""
    front = AtTable(first_steps(0)).piece("front")
    ring = as_points([(150.0, 150.0), (80.0, 200.0), (5.0, 150.0), (80.0, 100.0), (150.0, 150.0)])
    at = point_at(ring, name_places(front, ring, CLEAR)[0])
    assert distance_into(front.loop, at) >= CLEAR


def test_a_line_that_is_near_the_outline_all_along_has_its_name_where_it_is_usual() -> None:
    """No place is better than another there."""
    front = AtTable(first_steps(0)).piece("front")
    line = as_points([(4.0, 100.0), (4.0, 200.0)])
    assert name_places(front, line, CLEAR) == [62.0]


@pytest.mark.parametrize("size", [(1000, 760), (1900, 1000)])
def test_names_of_a_block_keep_off_its_own_name_and_one_another(size: tuple[int, int]) -> None:
    """The bust circle touches the level of the upper bust, so that their usual places lie close."""
    at = AtTable(first_steps(0), size=size)
    picture = QPixmap(at.table.size())
    with QPainter(picture) as painter:
        sheet = at.table.sheet(painter)
        for item in at.table.scene.laid:
            label = at.table.pictures.label_box(sheet, item)
            boxes = [
                label,
                *(
                    name.box
                    for name in level_names(
                        Sheet(painter, sheet.frame.moved(item.place), sheet.look), item.shown, label
                    )
                ),
            ]
            assert len(boxes) >= 4
            assert not any(a.intersects(b) for a, b in combinations(boxes, 2)), item.name
