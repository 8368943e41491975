"""The picture of a form against areas."""

from __future__ import annotations

import numpy as np
import pytest

from core.form.picture import ACROSS, BARE, MAIN, SHEER, UPWARDS, coloured, filled, texture, tints, view_of
from core.form.shown import Fitter, garments_of
from core.form.surface import Surface, surface_through
from tests.samples import replayed
from tests.samples_stands import demo_stand

SIZE = (520, 720)


def _cylinder() -> Surface:
    t, z = np.linspace(0.0, np.pi, 61), np.linspace(-250.0, 450.0, 101)
    return surface_through(t, z, (150 * np.sin(t)[:, None] + 0 * z, 120 * np.cos(t)[:, None] + 0 * z))


def test_the_pixels_of_a_cloth_are_its_area_as_seen() -> None:
    """Sheer over t up to 1.2 and 200 mm of height: in front view 2 x 150 sin 1.2 wide, within 2 %."""
    surface = _cylinder()
    view = view_of(surface, 0.0, SIZE)
    everywhere = np.ones((ACROSS, UPWARDS), dtype=np.bool_)
    sheer = filled(np.array([-0.1, 1.2, 1.2, -0.1]), np.array([0.0, 0.0, 200.0, 200.0]), surface)
    worn = texture(everywhere, sheer).ravel()[view.cell]
    count = ((worn == SHEER) & (view.cell >= 0)).sum() / view.scale**2
    assert count == pytest.approx(2 * 150.0 * np.sin(1.2) * 200.0, rel=0.02)


@pytest.mark.parametrize("turn", [0.0, -0.7, -np.pi / 2, 2.0])
def test_the_form_has_no_holes_from_any_side(turn: float) -> None:
    """In every row the form is one run of pixels, as wide as an ellipse is from there."""
    view = view_of(_cylinder(), turn, SIZE)
    row = view.cell[360] >= 0
    assert np.abs(np.diff(row.astype(int))).sum() == 2
    wide = 2 * np.hypot(150.0 * np.cos(turn), 120.0 * np.sin(turn))
    assert row.sum() / view.scale == pytest.approx(wide, abs=4.0)


def test_left_and_right_mirror_each_other_from_the_front() -> None:
    """Seen from the front, what a pixel shows is what its mirror shows, but for the pixel on the edge."""
    cell = view_of(_cylinder(), 0.0, SIZE).cell
    assert (cell == cell[:, ::-1]).mean() > 0.97


def test_what_lies_behind_is_hidden() -> None:
    """The centre front is seen from the front, the centre back is not."""
    view = view_of(_cylinder(), 0.0, SIZE)
    assert view.is_seen(np.array([[0.0, 120.0, 100.0], [0.0, -120.0, 100.0]])).tolist() == [True, False]


def test_colouring_takes_each_cloth_from_its_picture() -> None:
    """Bare, main and sheer pixels each have the colour of the picture in that cloth alone."""
    surface = _cylinder()
    view = view_of(surface, 0.0, (130, 180))
    half = np.zeros((ACROSS, UPWARDS), dtype=np.bool_)
    half[:, 300:] = True
    upper = np.zeros_like(half)
    upper[:, 500:] = True
    pictures = tints(view, ("#d0b090", "#806080", "#f4f1ec", "#888888"), ("#ffffff", "#203040"))
    cloths = texture(half, upper)
    shown = coloured(view, cloths, pictures)
    assert set(np.unique(cloths)) == {BARE, MAIN, SHEER}
    for cloth in (BARE, MAIN, SHEER):
        here = (cloths.ravel()[view.cell] == cloth) & (view.cell >= 0)
        assert (shown[here] == pictures[cloth][here]).all()
    around = shown[view.cell < 0]
    assert set(around.tolist()) == {0xFFFFFFFF, 0xFF203040}
    assert (around == 0xFF203040).sum() < 4 * sum(shown.shape)


def test_the_sheer_seen_on_a_form_is_its_area_as_seen() -> None:
    """On the demo from the front: pixels of sheer against the cells' areas thrown on the picture, within 2 %."""
    done = replayed("concert")
    stand = demo_stand("concert")
    laid = Fitter(stand).laid(garments_of(done), done.design.ease, "mm")
    view = view_of(stand.skin, 0.0, SIZE)
    worn = laid.cloths.ravel()[view.cell]
    count = ((worn == SHEER) & (view.cell >= 0)).sum() / view.scale**2

    t = (np.arange(ACROSS) + 0.5) * np.pi / ACROSS
    z = stand.skin.low + (np.arange(UPWARDS) + 0.5) * (stand.skin.high - stand.skin.low) / UPWARDS
    thrown = stand.skin.x(t, z, dx=1).clip(0.0) * (np.pi / ACROSS) * (stand.skin.high - stand.skin.low) / UPWARDS
    seen = (laid.cloths == SHEER) & (t < np.pi / 2)[:, None]
    assert count == pytest.approx(2.0 * thrown[seen].sum(), rel=0.02)
