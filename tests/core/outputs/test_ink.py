"""Finding the emptiest place."""

from __future__ import annotations

import numpy as np
import pytest

from core.geometry.polyline import as_points
from core.outputs.drawing import Drawing, Stroke, Text, box_loop
from core.outputs.ink import ink_of
from core.outputs.papers import PAPERS
from core.outputs.squares import squares

PAGE = (10.0, 10.0, 200.0, 287.0)


def line(*points: tuple[float, float]) -> Stroke:
    """A cutting line."""
    return Stroke(as_points(points), "cutting line")


def test_ink_is_the_length_of_lines() -> None:
    """A line of 100 mm is 100 of ink, however it lies, to the length of a station."""
    for way in ((100.0, 0.0), (60.0, 80.0)):
        drawn = Drawing((line((50.5, 50.5), (50.5 + way[0], 50.5 + way[1])),))
        assert ink_of(drawn, PAGE).amount.sum() == pytest.approx(100.0, abs=1.5)


def test_what_lies_outside_does_not_count() -> None:
    """Of a line through the border only what is inside."""
    assert ink_of(Drawing((line((-40.0, 100.5), (60.0, 100.5)),)), PAGE).amount.sum() == pytest.approx(50.0, abs=1.5)


def test_the_emptiest_place_has_no_ink() -> None:
    """With the left half of the page full of lines, a box of 90 mm goes into the right half."""
    full = Drawing(tuple(line((10.0, y), (104.0, y)) for y in np.arange(12.0, 285.0, 3.0)))
    x, y = ink_of(full, PAGE).emptiest((90.0, 90.0), PAGE)
    assert x >= 104.0
    assert x + 90.0 <= PAGE[2]
    assert PAGE[1] <= y <= PAGE[3] - 90.0


def test_words_are_worse_to_draw_over_than_lines() -> None:
    """Between a line and a text as long, the box goes over the line."""
    drawn = Drawing((line((10.0, 60.0), (200.0, 60.0)), Text((105.0, 240.0), 12.0, "a" * 27)))
    _, y = ink_of(drawn, (10.0, 10.0, 200.0, 287.0)).emptiest((190.0, 150.0), (10.0, 10.0, 200.0, 287.0))
    assert y + 150.0 < 240.0 - 3.0


def test_the_words_of_the_squares_find_an_empty_place_too() -> None:
    """A page of lines but for one field of 60 mm: the squares are put where their words lie in that field."""
    field = (120.0, 140.0, 185.0, 190.0)
    lines = [line((10.0, y), (200.0, y)) for y in np.arange(12.0, 285.0, 4.0) if not field[1] < y < field[3]]
    lines += [line((10.0, y), (field[0], y)) for y in np.arange(field[1], field[3], 4.0)]
    lines += [line((field[2], y), (200.0, y)) for y in np.arange(field[1], field[3], 4.0)]
    drawing = squares(ink_of(Drawing(tuple(lines)), PAGE), PAPERS["a4"], "B3", ())
    corners = np.vstack([text.box for text in drawing.texts()])
    assert corners[:, 0].min() >= field[0]
    assert corners[:, 1].min() >= field[1]
    assert corners[:, 1].max() <= field[3]


def test_the_squares_share_a_corner() -> None:
    """Solid 100 mm, dashed 4 in = 101.6 mm, both inside the page, whatever lies there."""
    frame = Drawing((Stroke(box_loop((60.0, 60.0, 150.0, 200.0)), "cutting line", closed=True),))
    solid, dashed = squares(ink_of(frame, PAGE), PAPERS["a4"], "A1", ()).strokes()
    assert np.ptp(solid.points, axis=0).tolist() == pytest.approx([100.0, 100.0])
    assert np.ptp(dashed.points, axis=0).tolist() == pytest.approx([101.6, 101.6])
    assert (solid.points[0] == dashed.points[0]).all()
