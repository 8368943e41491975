"""Ends that are squared or mirrored, at either end of a run, and the corners where that cannot be."""

from __future__ import annotations

from itertools import pairwise
from math import pi, sin, tan

import numpy as np
import pytest

from core.geometry.margins import EndKind, Margin
from core.geometry.offset import offset_loop
from core.geometry.polyline import Points, as_points

LOWER, OTHER = 12.7, 10.0
"""Allowances of the lower edge, whose ends are looked at, and of all the others."""

MITRED: tuple[EndKind, EndKind] = ("mitred", "mitred")


def piece(angle: float, ends: tuple[EndKind, EndKind], *, wide: float = 100.0, by: float = LOWER) -> Points:
    """The cutting line of a piece on y >= 0, symmetrical about x = 0, with this inner angle at both lower corners."""
    up = 60.0
    half = 0.5 * wide
    top = half - up / tan(angle)
    corners = [(-half, 0.0), (half, 0.0), (top, up), (-top, up), (-half, 0.0)]
    lower, *rest = [Margin(as_points(side), OTHER) for side in pairwise(corners)]
    return offset_loop([Margin(lower.points, by, ends=ends), *rest])


def lowest(loop: Points, by: float = LOWER) -> list[float]:
    """From where to where the loop runs at the lower allowance, in mm along the edge."""
    at = loop[np.abs(loop[:, 1] + by) < 1e-6][:, 0]
    return [float(at.min()), float(at.max())]


def ends_at(angle: float, kind: EndKind) -> float:
    """How far beyond its corner the lower cutting line ends, by plane geometry."""
    foot = OTHER / sin(angle)
    return {
        # Where the two cutting lines meet: along the neighbour's line from its foot down to the lower one.
        "mitred": foot + LOWER / tan(angle),
        "squared": foot,
        # As the neighbour's line runs above the edge, mirrored below it.
        "mirrored": foot - LOWER / tan(angle),
    }[kind]


@pytest.mark.parametrize("angle", [pi / 3, pi / 2, 2 * pi / 3])
@pytest.mark.parametrize("first", ["mitred", "squared", "mirrored"])
@pytest.mark.parametrize("last", ["mitred", "squared", "mirrored"])
def test_each_end_of_a_run_ends_in_its_own_way(angle: float, first: EndKind, last: EndKind) -> None:
    """Whatever the other one does; the neighbour's line begins where the end leaves it."""
    loop = piece(angle, (first, last))
    assert lowest(loop) == pytest.approx([-50.0 - ends_at(angle, first), 50.0 + ends_at(angle, last)])
    for kind, side in ((first, -1.0), (last, 1.0)):
        if kind != "mitred":
            foot = (side * (50.0 + OTHER / sin(angle)), 0.0)
            assert np.hypot(*(loop - foot).T).min() < 1e-6


@pytest.mark.parametrize("angle", [pi / 6, pi - pi / 6])
def test_a_squared_end_that_would_be_a_horn_is_mitred(angle: float) -> None:
    """At inner angles under 42 and over 138 degrees it would begin more than one and a half allowances beyond."""
    assert piece(angle, ("squared", "squared"), wide=300.0) == pytest.approx(piece(angle, MITRED, wide=300.0))


def test_a_bare_run_has_no_ends() -> None:
    """Nothing lies outside it that could be squared or mirrored."""
    bare = piece(pi / 3, MITRED, by=0.0)
    assert piece(pi / 3, ("squared", "mirrored"), by=0.0) == pytest.approx(bare)


def test_an_end_that_does_not_reach_its_own_run_is_mitred() -> None:
    """Leaning inwards by 12.7 tan 60 degrees at both ends, mirrored ends would cross on an edge of 12 mm."""
    ends: tuple[EndKind, EndKind] = ("mirrored", "mirrored")
    assert piece(5 * pi / 6, ends, wide=12.0) == pytest.approx(piece(5 * pi / 6, MITRED, wide=12.0))


def test_in_a_hollow_and_on_a_straight_run_ends_are_mitred() -> None:
    """The corner of an L, and a corner of 180 degrees."""
    corners = [(0, 0), (50, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100), (0, 0)]
    runs = [Margin(as_points(side), LOWER) for side in pairwise(corners)]
    plain = offset_loop(runs)
    for index in (0, 3):
        for kind in ("squared", "mirrored"):
            ended = [*runs]
            ended[index] = Margin(runs[index].points, LOWER, ends=("mitred", kind))
            assert offset_loop(ended) == pytest.approx(plain)


def test_at_a_fold_an_end_is_mitred() -> None:
    """What is cut on the fold is opened out: the run goes straight on over it."""
    corners = [(0, 80), (0, 0), (100, 0), (100, 80), (0, 80)]
    fold, lower, *rest = [Margin(as_points(side), LOWER) for side in pairwise(corners)]
    folded = Margin(fold.points, 0.0, fold=True)
    ended = Margin(lower.points, LOWER, ends=("mirrored", "mitred"))
    assert offset_loop([folded, ended, *rest]) == pytest.approx(offset_loop([folded, lower, *rest]))


def test_a_mirrored_end_follows_a_curved_neighbour() -> None:
    """A hem turned up under a round side lies on the side's own curve: points and mirror images at equal heights."""
    angles = np.linspace(-0.4, 0.4, 41)
    round_side = as_points(np.column_stack((20 + 100 * np.cos(angles), 39 + 100 * np.sin(angles))))
    bottom, top = float(round_side[0][1]), float(round_side[-1][1])
    corners = [tuple(round_side[-1]), (0.0, top), (0.0, bottom), tuple(round_side[0])]
    left = [Margin(as_points(side), OTHER) for side in pairwise(corners)]
    hem = Margin(left[2].points, LOWER, ends=("mitred", "mirrored"))
    loop = offset_loop([Margin(round_side, OTHER), left[0], left[1], hem])
    turned = loop[(loop[:, 1] < bottom - 1e-6) & (loop[:, 0] > 115.0)]
    middle = np.hypot(turned[:, 0] - 20.0, 2.0 * bottom - turned[:, 1] - 39.0)
    assert len(turned) > 3
    assert middle == pytest.approx(110.0, abs=0.02)
