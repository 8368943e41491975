"""The cloth round the bust point as a cone."""

from __future__ import annotations

from math import degrees, hypot, pi, radians

import numpy as np
import pytest

from core.geometry.polyline import as_points
from core.pieces.cone import cone_of, open_wedges
from core.steps.pivot import Pivot
from tests.core.laws.sample_steps import garments
from tests.paper_block import BUST_POINT, garment


def test_the_cloth_is_the_full_turn_less_both_darts() -> None:
    """The paper block has darts of 12 and 15 degrees: 333 are left (Gauss-Bonnet, a cone)."""
    cone = cone_of(garment().piece("front"))
    assert degrees(cone.cloth) == pytest.approx(333.0, abs=1e-9)
    assert degrees(cone.intake) == pytest.approx(27.0, abs=1e-9)


def test_level_towards_the_centre_front_is_nothing_and_up_is_a_quarter() -> None:
    """By hand: 40 mm towards the centre, 40 up beside the dart, 40 below beside the dart."""
    cone = cone_of(garment().piece("front"))
    x, y = BUST_POINT
    wedges = open_wedges(garment().piece("front"), BUST_POINT)
    radii, closed = cone.polar(as_points(((x - 40, y), (x - 30, y + 40), (x - 30, y - 40))), wedges)
    assert radii.tolist() == pytest.approx([40.0, 50.0, 50.0])
    assert np.degrees(closed).tolist() == pytest.approx([0.0, 53.130102, -53.130102], abs=1e-5)


@pytest.mark.parametrize("figure", garments())
def test_a_pivot_moves_no_place_on_the_cone(figure: str) -> None:
    """Marks of the block keep their polar places when the shoulder dart is turned into the waist dart."""
    start = garments()[figure]
    after = Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart").apply(start).garment
    cone = cone_of(start.piece("front"))
    for name in ("front.bust_line", "front.under_bust_line"):
        if not any(line.name == name for line in start.piece("front").lines):
            continue
        places = []
        for piece in (start.piece("front"), after.piece("front")):
            stretches = piece.line(name).stretches
            points = as_points([stretches[0][0], stretches[-1][-1]])
            places.append(cone.polar(points, open_wedges(piece, cone.centre)))
        assert places[1][0] == pytest.approx(places[0][0], abs=1e-6)
        assert places[1][1] == pytest.approx(places[0][1], abs=1e-9)


def test_places_are_the_other_way_from_polar() -> None:
    """There and back, on the block with both darts open."""
    piece = garment().piece("front")
    cone = cone_of(piece)
    wedges = open_wedges(piece, cone.centre)
    closed = np.linspace(cone.low + 0.01, cone.high - 0.01, 37)
    places = cone.places(np.full(37, 66.0), closed, wedges)
    assert all(hypot(x - BUST_POINT[0], y - BUST_POINT[1]) == pytest.approx(66.0) for x, y in places.tolist())
    assert cone.polar(places, wedges)[1] == pytest.approx(closed, abs=1e-9)


def test_straight_over_the_point_leaves_as_much_cloth_on_either_side() -> None:
    """`top` and `down` are half the cloth apart and lie equally far off both darts."""
    cone = cone_of(garment().piece("front"))
    assert cone.top - cone.down == pytest.approx((2 * pi - radians(27.0)) / 2)
    assert cone.up - cone.top == pytest.approx(cone.down - cone.low)
