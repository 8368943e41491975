"""Snapping names the place that the pointer means."""

from __future__ import annotations

import pytest

from app.canvas.snaps import Snap, nearest_end, snap
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.places import resolved_point
from tests.paper_block import BUST_POINT, front, garment


def snapped(at: Point, *, edges: bool = True, reach: float = 4.0) -> Snap | None:
    """What a pointer at a place of the paper front would snap to."""
    return snap(garment(), front(), at, reach, unit="mm", edges=edges)


def test_a_landmark_wins_over_everything_near() -> None:
    """2 mm off the bust point, it is the bust point."""
    found = snapped((92.0, 180.0))
    assert found is not None
    assert (found.name, found.at, found.landmark) == ("bust point", BUST_POINT, "bust_point")


def test_the_middle_of_an_edge_is_a_share_of_it() -> None:
    """Mid side of the paper front is (225, 105); it is stored as a share, so that it stays the middle."""
    found = snapped((226.0, 106.0))
    assert found is not None
    assert found.name == "mid side"
    assert found.place is not None
    assert found.place.share == 0.5
    assert found.at == pytest.approx((225.0, 105.0))


def test_elsewhere_on_an_edge_the_distance_is_named() -> None:
    """On the fold 30 mm above the waist: named, with its distance in the user's unit, and found again there."""
    found = snapped((1.0, 30.0))
    assert found is not None
    assert found.name == "centre front, 30 mm from the waist"
    assert found.place is not None
    assert resolved_point(garment(), front(), found.place) == pytest.approx((0.0, 30.0))


def test_dart_bases_are_passed_over() -> None:
    """Over the open waist dart one snaps to a leg's end, never into the gap (cutting.md 8)."""
    waist_dart = front().dart("front.waist_dart")
    middle = ((waist_dart.legs[0][0] + waist_dart.legs[1][0]) / 2, 0.0)
    found = snapped(middle, reach=30.0)
    assert found is not None
    assert min(gap(found.at, leg) for leg in waist_dart.legs) < 1e-6


def test_an_inner_point_snaps_to_landmarks_only() -> None:
    """A point of a line that happens to lie near an edge is not drawn onto it."""
    assert snapped((1.0, 30.0), edges=False) is None
    assert snapped((91.0, 180.0), edges=False) is not None


def test_out_of_reach_nothing_is_meant() -> None:
    """In the middle of the cloth a point is just where it was put."""
    assert snapped((40.0, 250.0)) is None


def test_an_end_goes_to_the_nearest_edge_however_far() -> None:
    """The end of a line runs along the outline under the pointer."""
    found = nearest_end(garment(), front(), (30.0, 100.0), unit="mm")
    assert found.at == pytest.approx((0.0, 100.0))
    assert found.place is not None
