"""Millimetres to pixels and back, zooming about a place, fitting."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.canvas.view import LEAST_ZOOM, MOST_ZOOM, View

PLACES = st.tuples(st.floats(-2000, 2000), st.floats(-2000, 2000))


def test_y_points_up_on_the_table_and_down_in_the_widget() -> None:
    """At 2 pixels a mm, with (10, 100) in the corner, a place 5 right of it and 30 below lies at (10, 60)."""
    view = View(zoom=2.0, true=1.0, left=10.0, top=100.0)
    assert view.to_pixels((15.0, 70.0)) == (10.0, 60.0)


@given(at=PLACES, zoom=st.floats(0.05, 64.0))
def test_there_and_back(at: tuple[float, float], zoom: float) -> None:
    """The place under the pixel of a place is that place."""
    view = View(zoom=zoom, left=-30.0, top=400.0)
    assert view.to_mm(view.to_pixels(at)) == pytest.approx(at, abs=1e-6)


@given(pixel=PLACES, factor=st.floats(0.01, 100.0))
def test_zooming_keeps_the_place_under_the_pointer(pixel: tuple[float, float], factor: float) -> None:
    """It moves by far less than half a pixel (desktop convention 8)."""
    view = View(left=-30.0, top=400.0)
    nearer = view.zoomed(factor, pixel)
    assert nearer.to_pixels(view.to_mm(pixel)) == pytest.approx(pixel, abs=0.01)


def test_zoom_is_clamped() -> None:
    """From 5 % to 6400 %, however the wheel is turned."""
    assert View().zoomed(1e9, (0, 0)).zoom == MOST_ZOOM == 64.0
    assert View().zoomed(1e-9, (0, 0)).zoom == LEAST_ZOOM == 0.05


def test_fitting_shows_the_whole_box_and_is_idempotent() -> None:
    """Every corner of the box lies inside the margin, and fitting again changes nothing."""
    box, size = (-300.0, -10.0, 280.0, 450.0), (800.0, 600.0)
    view = View().fitted(box, size, margin=40.0)
    corners = [view.to_pixels((box[0], box[1])), view.to_pixels((box[2], box[3]))]
    assert all(39.9 <= x <= 760.1 and 39.9 <= y <= 560.1 for x, y in corners)
    again = view.fitted(box, size, margin=40.0)
    assert (again.zoom, again.left, again.top) == pytest.approx((view.zoom, view.left, view.top))


def test_true_size_is_true() -> None:
    """At zoom 1 an inch is as many pixels as the screen has to the inch."""
    view = View(zoom=1.0, true=96 / 25.4)
    assert view.to_pixels((25.4, 0.0))[0] - view.to_pixels((0.0, 0.0))[0] == pytest.approx(96.0)
