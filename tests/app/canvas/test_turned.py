"""What lies turned on the table is drawn where it lies, and read upright."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QColor

from app.canvas.laid import laid
from app.canvas.pairs import Pair
from app.canvas.paths import Frame
from app.theme import theme_for
from core.geometry.placement import Placement
from tests.app.at_table import AtTable, first_steps
from tests.paper_block import front

PLACEMENTS = st.builds(Placement, st.floats(-pi, pi), st.floats(-500.0, 500.0), st.floats(-500.0, 500.0))


@given(PLACEMENTS, st.floats(0.05, 20.0))
def test_a_turned_frame_draws_where_the_placement_lays(place: Placement, scale: float) -> None:
    """A piece drawn in its own frame comes to the pixels of its places on the table, point by point and as a path."""
    table, item = Frame(scale, 120.0, 340.0), laid(front(), place)
    own = table.moved(place)
    for at in item.shown.landmarks.values():
        seen, meant = own.point(at), table.point(item.to_table(at))
        assert (seen.x(), seen.y()) == pytest.approx((meant.x(), meant.y()), abs=1e-6)
    assert np.abs(own.pixels(item.shown.loop) - table.pixels(item.on_table(item.shown.loop))).max() < 1e-6


@given(PLACEMENTS, st.floats(-pi, pi))
def test_ways_and_places_go_there_and_back(place: Placement, way: float) -> None:
    """A place goes to the table and back to itself; a way on the table, on the piece, points there still."""
    item = laid(front(), place)
    assert item.to_piece(item.to_table((90.0, 180.0))) == pytest.approx((90.0, 180.0), abs=1e-6)
    dx, dy = item.way_on_piece(np.cos(way), np.sin(way))
    here, there = item.to_table((0.0, 0.0)), item.to_table((dx, dy))
    assert (there[0] - here[0], there[1] - here[1]) == pytest.approx((np.cos(way), np.sin(way)), abs=1e-9)


@pytest.mark.parametrize("end", [0, 1])
def test_cloth_is_seen_where_a_turned_piece_lies(end: int) -> None:
    """Beside the turned back's bust level its tint is seen; where it lay before, the table top."""
    at, theme = AtTable(first_steps(2)), theme_for("light")
    at.table.set_grid(is_on=False)
    before = at.on("back", (-40.0, 100.0))
    at.table.lay_together(Pair("shoulder", end, turns_first=True))
    at.table.fit_all()
    at.settle()
    picture, ratio = at.table.grab().toImage(), at.table.devicePixelRatioF()

    def colour(place: tuple[float, float]) -> QColor:
        pixel = at.pixel(place)
        return picture.pixelColor(round(pixel.x() * ratio), round(pixel.y() * ratio))

    item = at.table.scene.piece("back")
    assert item is not None
    assert abs(item.place.angle) > 1.0
    x, y = item.shown.landmarks["bust_line"]
    assert colour(item.to_table((x - 12.0, y + 14.0))) == QColor(theme.main)
    assert colour(before) == QColor(theme.table)


def test_the_marks_that_carry_the_style_picture_turn_with_the_block() -> None:
    """A picture lies by the landmarks of its block: where the uncut back is turned, they are turned with it."""
    at = AtTable(first_steps(2))
    at.table.lay_together(Pair("side"))
    item = at.table.scene.piece("back")
    assert item is not None
    assert item.place.angle != 0.0
    drafted = at.session.replay.garment.blocks["back"].landmarks
    marks = at.table.scene.block_marks("back")
    assert set(marks) == set(drafted)
    for name, place in drafted.items():
        assert marks[name] == pytest.approx(item.to_table(place))
