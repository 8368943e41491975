"""Cutting lines that the mitred road cannot draw: hollows tighter than the allowance, runs swallowed by neighbours.

The law is measured by shapely (`outlines.faults`), the places come from plane geometry.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin, sqrt, tan

import numpy as np
import pytest
from shapely import LineString, Polygon, points

from core.geometry import offset
from core.geometry.corners import meeting
from core.geometry.margins import Margin, moved
from core.geometry.offset import offset_loop
from core.geometry.placement import mirrored
from core.geometry.polyline import Points, as_points
from tests.core.geometry.outlines import faults

LINE = 12.7
"""Half an inch, the allowance of most runs below."""


def lawful(*margins: Margin) -> Points:
    """The cutting line, after asserting the law."""
    loop = offset_loop(margins)
    assert faults(list(margins), loop) == []
    return loop


def sides(*corners: tuple[float, float], by: list[float]) -> list[Margin]:
    """A polygon's sides as margins."""
    around = [*corners, corners[0]]
    return [Margin(as_points(side), d) for side, d in zip(pairwise(around), by, strict=True)]


def scoop(left: float, right: float, top: float) -> Points:
    """A half round hollow in a lower edge, from left to right, up to a height above y = 0 (half an ellipse)."""
    angles = np.linspace(pi, 0.0, 61)
    middle, half = 0.5 * (left + right), 0.5 * (right - left)
    arc = np.column_stack((middle + half * np.cos(angles), top * np.sin(angles)))
    arc[0], arc[-1] = (left, 0.0), (right, 0.0)
    return as_points(arc)


def scooped(by: float, *, fold: bool, left: float = LINE, lower: float = LINE) -> list[Margin]:
    """A rectangle of 200 x 100 with a scoop of 16 mm in its lower edge, its left side perhaps on the fold."""
    below = sides((108, 0), (200, 0), (200, 100), (0, 100), (0, 0), (92, 0), by=[LINE, LINE, LINE, left, lower, by])
    upright = Margin(below[3].points, 0.0 if fold else left, fold=fold)
    return [Margin(scoop(92, 108, 30), by), *below[:3], upright, below[4]]


def test_a_scoop_narrower_than_its_allowances_is_closed_over() -> None:
    """Both walls lie 8 mm from the middle, so at 12.7 mm each no opening is left: the cutting line runs below it."""
    loop = lawful(*scooped(LINE, fold=False))
    assert Polygon(loop).contains(Polygon(scoop(92, 108, 30)))
    assert loop[:, 1].min() == pytest.approx(-LINE)


def test_nothing_lies_beyond_the_fold_of_a_piece_with_a_tight_hollow() -> None:
    """The union of strips is cut off along the fold too, and lacks nothing on the fold's own side."""
    loop = lawful(*scooped(LINE, fold=True))
    assert loop[:, 0].min() == pytest.approx(0.0, abs=1e-3)
    assert Polygon(loop).area == pytest.approx((200 + LINE) * (100 + 2 * LINE), rel=1e-3)


def test_a_bare_run_keeps_nothing_beside_a_tight_hollow() -> None:
    """The left side has no allowance: there the cutting line is the stitching line."""
    loop = lawful(*scooped(LINE, fold=False, left=0.0))
    assert loop[:, 0].min() == pytest.approx(0.0, abs=1e-3)


def test_a_run_of_one_millimetre_keeps_it_beside_a_tight_hollow() -> None:
    """However little it is."""
    loop = lawful(*scooped(LINE, fold=False, left=1.0, lower=1.0))
    assert loop[:, 0].min() == pytest.approx(-1.0, abs=1e-3)
    assert np.abs(loop[loop[:, 0] < 80.0] - (-1.0, -1.0)).sum(axis=1).min() < 1e-3


@pytest.mark.parametrize("seen_in_mirror", [False, True])
def test_in_a_hollow_corner_each_strip_keeps_its_own_distance(*, seen_in_mirror: bool) -> None:
    """A lower edge at 12.7 mm falls by 30 degrees and goes on at 3: the step is square to the edge, in its corner."""
    slope = (100 * cos(pi / 6), -50.0)
    edges = sides((-54, 0), (0, 0), slope, (slope[0], 100), (-150, 100), (-150, 0), (-70, 0), by=[LINE] * 7)[:6]
    margins = [*edges[:1], Margin(edges[1].points, 3.0), *edges[2:], Margin(scoop(-70, -54, 30), LINE)]
    flip = 1.0
    if seen_in_mirror:
        flip = -1.0
        margins = [Margin(mirrored(margin.points), margin.distance) for margin in margins[::-1]]
    loop = lawful(*margins)
    for place in ((0.0, -LINE), (0.0, -3.0 / cos(pi / 6))):
        assert np.hypot(*(loop * (flip, 1.0) - place).T).min() < 1e-3


@pytest.mark.parametrize("short", [10.0, 13.5])
def test_a_short_run_at_the_fold_before_a_hollow_keeps_to_its_side(short: float) -> None:
    """A fall of 40 degrees, then of 70: the fold's line meets the first beyond where it meets the second.

    That is by 12.7 tan 40 less 12.7 tan 15 degrees beyond the first's own start and before its end: 4 mm and half a
    millimetre. On the fold lies the second's line, which goes down from 12.7 mm square beside its start.
    """
    start = short * np.array((cos(2 * pi / 9), -sin(2 * pi / 9)))
    down = np.array((cos(7 * pi / 18), -sin(7 * pi / 18)))
    end = start + 80.0 * down
    corners = [(0, 200), (0, 0), tuple(start), tuple(end), (end[0] + 80.0, end[1]), (end[0] + 80.0, 200)]
    fold, *rest = sides(*corners, by=[0.0, *[LINE] * 5])
    loop = offset_loop([Margin(fold.points, 0.0, fold=True), *rest])
    beside = start + LINE * np.array((down[1], -down[0]))
    assert loop[:, 0].min() == pytest.approx(0.0, abs=1e-3)
    assert np.hypot(*(loop - (0.0, beside[1] - beside[0] / down[0] * down[1])).T).min() < 1e-3
    assert Polygon(loop).buffer(1e-3).contains(Polygon(np.array([(0.0, 0.0), start, (0.0, beside[1])])))


def round_piece(seed: int) -> list[Margin]:
    """Four to seven runs round a point, straight, hollow, bulging or waved, in chords of unequal length."""
    chance = np.random.default_rng(seed)
    count = int(chance.integers(4, 8))
    turns = (np.arange(count) + chance.uniform(-0.3, 0.3, count)) * 2 * pi / count
    corners = chance.uniform(80, 220, (count, 1)) * np.column_stack((np.cos(turns), np.sin(turns)))
    margins = []
    for start, stop in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        share = np.linspace(0.0, 1.0, int(chance.integers(3, 16))) ** 1.2
        bulge, wave = chance.choice([-0.06, 0.0, 0.08, 0.15]), chance.choice([-0.03, 0.0, 0.03])
        off = bulge * 4 * share * (1 - share) + wave * np.sin(2 * pi * share)
        along = stop - start
        run = start + share[:, None] * along + off[:, None] * (along[1], -along[0])
        run[0], run[-1] = start, stop
        margins.append(Margin(as_points(run), float(chance.choice([0.0, 3.0, 6.0, 12.7]))))
    return margins


def test_both_roads_lead_to_the_same_line() -> None:
    """The union of strips, where the moved runs themselves make a clean loop with no two distances in a hollow."""
    compared = 0
    for seed in range(30):
        runs = [moved(margins, k) for margins in [round_piece(seed)] for k in range(len(margins))]
        pairs = list(zip(runs, [*runs[1:], runs[0]], strict=True))
        met = [meeting(first, second) for first, second in pairs]
        even = all(a.margin.distance == b.margin.distance or offset._turns_out(a, b) for a, b in pairs)
        clean = offset._mitred(runs, met) if even else None
        if clean is not None:
            united = offset._united(runs, met)
            assert Polygon(clean).symmetric_difference(Polygon(united)).area < 0.05, f"seed {seed}"
            compared += 1
    assert compared > 10


def test_a_bare_hollow_stays_open() -> None:
    """With no allowance in the scoop the cut follows it."""
    loop = lawful(*scooped(0.0, fold=False))
    assert not Polygon(loop).contains(Polygon(scoop(95, 105, 25)))


def chamfered(short: float, by: float) -> list[Margin]:
    """An L whose inner corner is cut at 45 degrees by a run of some length, all with one allowance."""
    leg = short / sqrt(2.0)
    corners = [(0, 0), (200, 0), (200, 60), (60 + leg, 60), (60, 60 + leg), (60, 200), (0, 200)]
    return sides(*corners, by=[by] * 7)


@pytest.mark.parametrize("more", [30.0, 1e-10, 0.0, -1e-10, -1.0, -9.0])
def test_a_run_in_a_hollow_corner_shrinks_to_nothing(more: float) -> None:
    """Each end of it loses a tan 22.5 degrees; once that is more than all of it, its neighbours meet without it.

    The lines of the two long runs meet at (60 + a, 60 + a); the short one's own line passes there when it is
    2 a tan 22.5 degrees long.
    """
    loop = lawful(*chamfered(2.0 * LINE * tan(pi / 8) + more, LINE))
    inner = loop[(loop > 50.0).all(axis=1) & (loop < 190.0).all(axis=1)]
    if more > 1.0:
        assert np.hypot(*np.diff(inner, axis=0).T) == pytest.approx([more])
    else:
        assert inner == pytest.approx(np.full_like(inner, 60.0 + LINE), abs=1e-3)


def hat(width: float) -> list[Margin]:
    """A piece with a tight hollow, and above it a flat top of some width between two bare slopes of 45 degrees."""
    left, right = 100.0 - 0.5 * width, 100.0 + 0.5 * width
    around = sides((108, 0), (200, 0), (right, 200 - right), (left, left), (0, 0), (92, 0), by=[LINE] * 6)
    slopes = [Margin(around[k].points, 0.0) for k in (1, 3)]
    return [Margin(scoop(92, 108, 30), LINE), around[0], slopes[0], around[2], slopes[1], around[4]]


def test_bare_slopes_run_on_and_cut_the_top_between_them() -> None:
    """At 135 degrees each takes its height off the length of the top's cutting line: 80 mm less twice 12.7."""
    loop = lawful(*hat(80.0))
    above = loop[loop[:, 1] > 65.0]
    assert above == pytest.approx(np.array([(100 + 40 - LINE, 60 + LINE), (60 + LINE, 60 + LINE)]), abs=1e-3)


def test_a_top_that_slopes_would_cut_away_keeps_its_allowance() -> None:
    """Of 20 mm nothing would be left: there is a square step at both ends instead."""
    loop = lawful(*hat(20.0))
    above = loop[loop[:, 1] > 65.0]
    wanted = [(110, 90), (110, 90 + LINE), (90, 90 + LINE), (90, 90)]
    assert above == pytest.approx(np.array(wanted, dtype=np.float64), abs=1e-3)


@pytest.mark.parametrize("along", [20.0, 4.0, 2.0])
def test_a_short_run_at_the_fold_keeps_its_allowance_and_stays_on_its_side(along: float) -> None:
    """A fall of 30 degrees at the fold, whose own line comes to the fold 7.3 mm on: perhaps beyond the run's end.

    Two lines at 12.7 mm meet a tan 15 degrees before the run's end; left of the fold that is cut off.
    """
    fall = along * tan(pi / 6)
    fold, *rest = sides((0, 200), (0, 0), (along, -fall), (200, -fall), (200, 200), by=[0.0, *[LINE] * 4])
    loop = offset_loop([Margin(fold.points, 0.0, fold=True), *rest])
    assert loop[:, 0].min() == pytest.approx(0.0, abs=1e-3)
    meet = along - LINE * tan(pi / 12)
    lowest = min(LINE / cos(pi / 6), fall + LINE)
    for place in ((0.0, -lowest), (max(meet, 0.0), -fall - LINE)):
        assert np.hypot(*(loop - place).T).min() < 1e-3


@pytest.mark.parametrize("turn", [1.0, 7.0])
def test_a_round_side_stays_round_where_strips_are_united(turn: float) -> None:
    """Half a circle of 100 mm over a lower edge with a tight hollow: 112.7 mm outside it, however coarse its chords.

    Between two strips that turn away from each other there is a wedge, out to where both their lines meet.
    """
    count = round(180.0 / turn)
    angles = np.linspace(0.0, pi, count + 1)
    arc = 100.0 * np.column_stack((np.cos(angles), np.sin(angles)))
    arc[0], arc[-1] = (100.0, 0.0), (-100.0, 0.0)
    lower = sides((-100, 0), (-8, 0), (8, 0), (100, 0), by=[LINE] * 4)
    loop = lawful(Margin(as_points(arc), LINE), lower[0], Margin(scoop(-8, 8, 30), LINE), lower[2])
    above = points(loop[loop[:, 1] > 1.0])
    off = np.asarray(LineString(arc).distance(above))
    assert off.min() == pytest.approx(LINE, abs=1e-3)
    assert off.max() == pytest.approx(LINE / cos(pi / count / 2), abs=1e-3)
    assert len(off) >= count - 2


def test_a_spike_is_cut_off_square_also_where_strips_are_united() -> None:
    """A corner of 20 degrees beside a tight hollow: no nearer than the allowance, no farther than twice it."""
    top = 200 * tan(pi / 9)
    hollow = scoop(92, 108, 20)
    margins = sides((108, 0), (200, 0), (200, top), (0, 0), (92, 0), by=[LINE] * 5)[:4]
    loop = lawful(Margin(hollow, LINE), *margins)
    assert np.hypot(*loop.T).min() >= LINE - 1e-3
    assert (loop @ (cos(pi / 18), sin(pi / 18))).min() == pytest.approx(-2.0 * LINE, abs=1e-3)
