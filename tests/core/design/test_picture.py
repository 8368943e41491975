"""A picture of the style is laid over the block by its pins: exactly where it can be, never sheared, never mirrored."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest

from core.design.picture import Pin, StylePicture, laid_picture
from core.errors import Refusal

MARKS = {"neck_pit": (0.0, 340.0), "shoulder_point": (180.0, 400.0), "bust_point": (95.0, 160.0), "waist": (0.0, 0.0)}
ASPECT = 0.75


def seen(turn_deg: float = 0.0, across: float = 1.0, *, names: tuple[str, ...] = tuple(MARKS)) -> StylePicture:
    """A picture in which the block's landmarks are seen turned and stretched by known amounts, 1000 mm high."""
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    pins = []
    for name in names:
        x, y = MARKS[name]
        px, py = x / 1000 / across, y / 1000
        px, py = c * px - s * py, s * px + c * py
        pins.append(Pin(name, (px + 0.3) / ASPECT, 0.6 - py))
    return StylePicture(b"", pins=tuple(pins))


def places(picture: StylePicture) -> list[tuple[float, float]]:
    """Where the laid picture shows each of its pins, in mm."""
    laying = laid_picture(picture, ASPECT, MARKS)
    assert laying is not None
    return [
        tuple(float(v) for v in laying.matrix @ (pin.x * ASPECT, -pin.y, 1.0))  # type: ignore[misc]
        for pin in picture.pins
    ]


@pytest.mark.parametrize("across", [0.8, 1.0, 1.25])
def test_a_picture_too_wide_or_too_narrow_lies_exactly(across: float) -> None:
    """Width and height are scaled apart, so a sketch with the wrong proportions still meets every landmark."""
    picture = seen(across=across)
    wanted = [MARKS[pin.landmark] for pin in picture.pins]
    assert np.allclose(places(picture), wanted, atol=1e-6)


def test_a_tilted_picture_is_turned_upright() -> None:
    """A photograph that was held 10 degrees askew meets every landmark, by turning alone."""
    picture = seen(10.0)
    assert np.allclose(places(picture), [MARKS[pin.landmark] for pin in picture.pins], atol=1e-6)
    laying = laid_picture(picture, ASPECT, MARKS)
    assert laying is not None
    assert laying.off < 1e-6


def test_two_pins_turn_and_scale() -> None:
    """Two pins are met exactly; one lays nothing."""
    picture = seen(5.0, names=("neck_pit", "waist"))
    assert np.allclose(places(picture), [MARKS["neck_pit"], MARKS["waist"]], atol=1e-6)
    assert laid_picture(seen(names=("waist",)), ASPECT, MARKS) is None


def test_what_fits_least_is_told() -> None:
    """With one pin 3 % of the height off, the worst pin is off by something between a fifth of that and all of it."""
    picture = seen()
    wrong = Pin("bust_point", picture.pins[2].x, picture.pins[2].y + 0.03)
    laying = laid_picture(StylePicture(b"", pins=(*picture.pins[:2], wrong, picture.pins[3])), ASPECT, MARKS)
    assert laying is not None
    assert 6.0 < laying.off < 30.0


def test_a_mirrored_picture_is_refused() -> None:
    """The wearer's left is on the right of a picture from in front; pins the other way round are named."""
    picture = seen()
    mirrored = tuple(Pin(pin.landmark, 1.0 - pin.x, pin.y) for pin in picture.pins)
    with pytest.raises(Refusal, match="other way round"):
        laid_picture(StylePicture(b"", pins=mirrored), ASPECT, MARKS)


def test_pins_on_one_spot_are_refused() -> None:
    """Nothing can be laid by pins that were never moved apart."""
    pins = tuple(Pin(name, 0.5, 0.5) for name in MARKS)
    with pytest.raises(Refusal, match="on one spot"):
        laid_picture(StylePicture(b"", pins=pins), ASPECT, MARKS)
