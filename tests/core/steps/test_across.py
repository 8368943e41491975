"""Across: where the piece across a taken-in seam can give as much."""

from __future__ import annotations

from math import atan2, pi

import pytest

from core.design.replay import replay
from core.geometry.polyline import point_at, tangent_at
from core.pieces.places import resolved_point
from core.pieces.seams import match
from core.steps.across import end_across, hinge_across, pieces_across
from tests.demo_designs import concert

GARMENT = replay(concert()).garment
PRINCESS = match(GARMENT, GARMENT.seam("front.princess"))


def test_the_yoke_lies_across_the_princess_seam() -> None:
    """At its upper end; nothing is sewn to its lower one, the waist."""
    assert [piece.name for piece in pieces_across(GARMENT, PRINCESS)] == ["front yoke"]
    assert hinge_across(GARMENT, PRINCESS, at_last=True) is None
    assert end_across(GARMENT, PRINCESS, at_last=True) == ""


def test_a_fold_is_proposed_square_to_the_edge_that_gives() -> None:
    """From where the seam meets the sheer line to the outline of the yoke opposite, at a right angle."""
    hinge = hinge_across(GARMENT, PRINCESS, at_last=False)
    assert hinge is not None
    yoke = GARMENT.piece("front yoke")
    edge = yoke.edge("sheer_line").points
    across = match(GARMENT, GARMENT.seam("front.sheer_line"))
    # The seam meets the sheer line where the centre front's share of it ends, counted from the centre front.
    from_centre = across.b[0].edge.length
    here = from_centre if not across.a[0].reversed else across.a[0].edge.length - from_centre
    start, end = point_at(edge, here), resolved_point(GARMENT, yoke, hinge)
    fold, way = atan2(end[1] - start[1], end[0] - start[0]), tangent_at(edge, here)
    assert (fold - way) % pi == pytest.approx(pi / 2, abs=0.02)


def test_it_gives_at_the_end_that_is_not_on_the_fold() -> None:
    """The sheer line runs from the centre front, a fold, to the armhole."""
    assert end_across(GARMENT, PRINCESS, at_last=False) == "armhole"
