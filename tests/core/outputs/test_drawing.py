"""The device-free drawing."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from core.geometry.placement import Placement
from core.geometry.polyline import as_points, length
from core.outputs.drawing import ROLES, Drawing, Fill, Stroke, Text, box_loop
from core.outputs.pens import PENS

SQUARE = Stroke(box_loop((0.0, 0.0, 10.0, 10.0)), "cutting line", closed=True)


def test_every_role_has_a_pen() -> None:
    """No stroke can turn up that paper does not know how to draw; lines are no finer than 0.3 mm."""
    assert set(PENS) == set(ROLES)
    assert min(pen.width for pen in PENS.values()) >= 0.3


def test_a_drawing_is_placed_with_its_texts() -> None:
    """A quarter turn and a shift: places turn, texts turn with them."""
    drawing = Drawing((SQUARE, Text((10.0, 0.0), 3.0, "x"))).placed(Placement(pi / 2, 100.0, 0.0))
    stroke, text = drawing.items
    assert isinstance(stroke, Stroke)
    assert isinstance(text, Text)
    assert stroke.points[1].tolist() == pytest.approx([100.0, 10.0])
    assert text.at == pytest.approx((100.0, 10.0))
    assert text.angle == pytest.approx(pi / 2)


def test_a_drawing_is_scaled_with_its_texts() -> None:
    """Half the size, letters and all."""
    stroke, text = Drawing((SQUARE, Text((10.0, 4.0), 3.0, "x"))).scaled(0.5).items
    assert isinstance(stroke, Stroke)
    assert isinstance(text, Text)
    assert length(stroke.points) == pytest.approx(15.0)
    assert (text.at, text.height) == ((5.0, 2.0), 1.5)


def test_strokes_are_cut_at_a_box() -> None:
    """Of a square that sticks out of the box on the right, the three sides' parts inside are left: 5 + 10 + 5 mm."""
    inside = Drawing((SQUARE,)).inside((-5.0, -5.0, 5.0, 15.0))
    assert sum(length(stroke.points) for stroke in inside.strokes()) == pytest.approx(20.0)
    assert max(stroke.points[:, 0].max() for stroke in inside.strokes()) == pytest.approx(5.0)
    assert {stroke.role for stroke in inside.strokes()} == {"cutting line"}


def test_what_lies_inside_stays_as_it_is() -> None:
    """The same object, closed as it was; what lies outside is gone."""
    box = (-1.0, -1.0, 11.0, 11.0)
    far = Stroke(as_points([(50.0, 50.0), (60.0, 60.0)]), "dart")
    assert Drawing((SQUARE, far)).inside(box).items == (SQUARE,)


def test_texts_reach_into_a_box_by_their_width() -> None:
    """A text that begins outside and ends inside is kept whole; fills are left out."""
    text = Text((-2.0, 5.0), 4.0, "abcdefgh", anchor="start")
    away = Text((-30.0, 5.0), 4.0, "abc", anchor="start")
    fill = Fill(box_loop((0.0, 0.0, 5.0, 5.0)), "glue strip")
    assert Drawing((text, away, fill)).inside((0.0, 0.0, 10.0, 10.0)).items == (text,)


@pytest.mark.parametrize(("anchor", "left"), [("start", 0.0), ("middle", -0.5), ("end", -1.0)])
def test_a_text_lies_as_it_is_anchored(anchor: str, left: float) -> None:
    """Its box begins at, before or wholly before its place."""
    text = Text((0.0, 0.0), 5.0, "seam", anchor=anchor)  # type: ignore[arg-type] # the three anchors as plain strings
    assert text.box[:, 0].min() == pytest.approx(left * text.width)
    assert np.ptp(text.box[:, 0]) == pytest.approx(text.width)
