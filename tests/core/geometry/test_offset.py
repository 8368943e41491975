"""The cutting line's law: every run keeps at least its distance, and exactly that where hollows and neighbours allow.

Distances are measured by shapely, which has no part in the mitred road.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LinearRing, LineString, Polygon
from shapely.geometry import Point as PlanePoint

from core.geometry.margins import EndKind, Margin
from core.geometry.offset import offset_loop
from core.geometry.placement import reflected
from core.geometry.polyline import Points, as_points
from tests.core.geometry.outlines import faults, is_outline, outlines

SLACK = 0.05


def loop_of(*margins: Margin) -> Points:
    """The offset loop, after asserting that it closes and is simple and counter-clockwise."""
    loop = offset_loop(margins)
    ring = LinearRing(loop)
    assert (loop[0] == loop[-1]).all()
    assert ring.is_simple
    assert ring.is_ccw
    return loop


def straight(*corners: tuple[float, float], by: list[float]) -> list[Margin]:
    """A polygon's sides as margins."""
    around = [*corners, corners[0]]
    return [Margin(as_points(side), d) for side, d in zip(pairwise(around), by, strict=True)]


def has(loop: Points, *places: tuple[float, float]) -> None:
    """Assert that each place is a corner of the loop."""
    for place in places:
        assert np.hypot(*(loop - place).T).min() == pytest.approx(0.0, abs=1e-6)


def test_a_square_gets_mitred_corners() -> None:
    """Round a square of 100 mm at 10 mm lies the square of 120 mm: area 14400 mm²."""
    loop = loop_of(*straight((0, 0), (100, 0), (100, 100), (0, 100), by=[10.0] * 4))
    assert Polygon(loop).area == pytest.approx(14400.0)


def test_each_side_keeps_its_own_distance() -> None:
    """Corners lie where the sides' own lines meet."""
    loop = loop_of(*straight((0, 0), (100, 0), (100, 50), (0, 50), by=[12.7, 6.0, 0.0, 3.0]))
    has(loop, (106.0, -12.7), (106.0, 50.0), (-3.0, 50.0), (-3.0, -12.7))


def test_nothing_anywhere_is_the_outline_itself() -> None:
    """With no allowance the cutting line is the stitching line."""
    loop = loop_of(*straight((0, 0), (100, 0), (60, 80), by=[0.0] * 3))
    assert Polygon(loop).symmetric_difference(Polygon([(0, 0), (100, 0), (60, 80)])).area < 1e-9


def test_an_edge_without_allowance_goes_straight_on_beside_one_with() -> None:
    """At a corner of 60 degrees the bare edge's line runs on by a / sin 60 degrees to the neighbour's line."""
    height = 50 * sqrt(3)
    loop = loop_of(*straight((0, 0), (100, 0), (50, height), by=[0.0, 12.7, 12.7]))
    on = 12.7 / sin(pi / 3)
    has(loop, (100 + on, 0.0), (-on, 0.0))
    assert loop[:, 1].min() == pytest.approx(0.0, abs=1e-9)


def test_a_bare_edge_cuts_its_neighbours_allowance_off_at_an_obtuse_corner() -> None:
    """At 135 degrees the bare edge's line, run on, meets the neighbour's line a / tan 45 degrees along it."""
    loop = loop_of(*straight((0, 0), (100, 0), (150, 50), (0, 100), by=[0.0, 12.7, 12.7, 12.7]))
    has(loop, (100 + 12.7 * sqrt(2), 0.0))


def test_a_hollow_corner_is_a_plain_meeting() -> None:
    """In the inner corner of an L the two lines meet at once: its area is that of an L of 125.4 mm, 65.4 wide."""
    shape = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (40.0, 40.0), (40.0, 100.0), (0.0, 100.0)]
    loop = loop_of(*straight(*shape, by=[12.7] * 6))
    has(loop, (52.7, 52.7))
    assert Polygon(loop).area == pytest.approx(125.4 * 65.4 + 65.4 * 60.0)


def test_where_edges_hardly_turn_a_square_step_joins_two_distances() -> None:
    """Between 12.7 mm and none on one straight line there is a square step, not a taper."""
    loop = loop_of(*straight((0, 0), (50, 0), (100, 0), (100, 50), (0, 50), by=[0.0, 12.7, 12.7, 12.7, 12.7]))
    has(loop, (50.0, 0.0), (50.0, -12.7))


def test_a_very_sharp_corner_is_cut_off_square() -> None:
    """At a corner of 20 degrees the mitre would stick out 73 mm; the loop stays within 30, and no nearer than 12.7."""
    loop = loop_of(*straight((0, 0), (300, 0), (300, 300 * tan(pi / 9)), by=[12.7] * 3))
    tip = PlanePoint(0, 0)
    assert LinearRing(loop).distance(tip) >= 12.7
    assert loop[:, 0].min() > -30.0


def test_what_is_cut_on_the_fold_ends_on_the_fold() -> None:
    """Nothing lies beyond the fold's line, whether its neighbours meet it square or in a deep V."""
    fold = Margin(as_points([(0, 200), (0, 0)]), 0.0, fold=True)
    hem = Margin(as_points([(0, 0), (150, 0)]), 12.7)
    side = Margin(as_points([(150, 0), (150, 300)]), 12.7)
    neck = Margin(as_points([(150, 300), (0, 200)]), 12.7)
    loop = loop_of(fold, hem, side, neck)
    assert loop[:, 0].min() == pytest.approx(0.0, abs=1e-9)
    # The V's line meets the fold above the outline by a / sin of the angle between them.
    slope = 12.7 / (150 / np.hypot(150, 100))
    has(loop, (0.0, -12.7), (0.0, 200 + slope))


def test_a_deep_v_at_the_fold_has_its_whole_allowance() -> None:
    """However sharp the V, its cutting line runs on to the fold: at 5 degrees 146 mm above the point."""
    angle = pi / 36
    top = (200 * sin(angle), 100 + 200 * cos(angle))
    fold = Margin(as_points([(0, 100), (0, 0)]), 0.0, fold=True)
    rest = straight((0, 0), (200, 0), (200, 400), top, (0, 100), by=[12.7] * 4 + [0.0])[:4]
    loop = loop_of(fold, *rest)
    has(loop, (0.0, 100 + 12.7 / sin(angle)))


def test_a_circle_is_moved_by_its_radius() -> None:
    """Round a circle of 80 mm at 12.7 mm lies a circle of 92.7 mm, whatever chords it is drawn in."""
    angles = np.linspace(0, 2 * pi, 721)
    circle = as_points(80 * np.column_stack((np.cos(angles), np.sin(angles))))
    loop = loop_of(Margin(circle[:361], 12.7), Margin(circle[360:], 12.7))
    assert np.hypot(*loop.T) == pytest.approx(92.7, abs=0.01)


@pytest.mark.parametrize(("radius", "wanted"), [(30.0, 17.3), (12.0, -12.7)])
def test_a_hollow_is_followed_until_it_is_tighter_than_the_allowance(radius: float, wanted: float) -> None:
    """A half round hollow of 30 mm leaves one of 17.3; one of 12 is filled, its rims' mitres meeting."""
    angles = np.linspace(pi, 0, 181)
    arc = np.column_stack((100 + radius * np.cos(angles), radius * np.sin(angles)))
    arc[0], arc[-1] = (100 - radius, 0.0), (100 + radius, 0.0)
    hollow = as_points(arc)
    corners = [(100 + radius, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0), (0.0, 0.0), (100 - radius, 0.0)]
    loop = loop_of(Margin(hollow, 12.7), *(Margin(as_points(pair), 12.7) for pair in pairwise(corners)))
    assert LinearRing(loop).distance(LineString(hollow)) >= 12.7 - SLACK
    middle = LinearRing(loop).intersection(LineString([(100, -50), (100, 50)]))
    assert middle.centroid.y == pytest.approx(wanted, abs=0.05)


@st.composite
def smooth_outlines(draw: st.DrawFn) -> list[Margin]:
    """A closed smooth curve about the origin in three to six runs, each with its own allowance, some without."""
    waves = draw(st.lists(st.tuples(st.floats(-0.09, 0.09), st.floats(0, 2 * pi)), min_size=1, max_size=4))
    angles = np.linspace(0, 2 * pi, 601)
    radius = 150 * (1 + sum(a * np.cos((k + 2) * angles + p) for k, (a, p) in enumerate(waves)))
    ring = np.column_stack((radius * np.cos(angles), radius * np.sin(angles)))
    ring[-1] = ring[0]
    cuts = sorted({0, 600, *draw(st.lists(st.integers(20, 580), min_size=2, max_size=5))})
    allowances = st.sampled_from([0.0, 3.0, 6.0, 12.7, 15.9, 25.4])
    return [Margin(as_points(ring[a : b + 1]), draw(allowances)) for a, b in pairwise(cuts)]


@given(smooth_outlines())
def test_the_law_of_allowances(margins: list[Margin]) -> None:
    """Every point outside a run is at least its allowance away from it, and exactly where nothing hinders.

    Hindered is what lies near a corner to a run with a smaller allowance, or in a hollow, or near another run.
    """
    loop = loop_of(*margins)
    line = LineString(loop)
    outline = Polygon(np.vstack([margin.points for margin in margins]))
    assert Polygon(loop).buffer(1e-6).contains(outline)
    for index, margin in enumerate(margins):
        neighbours = (margins[index - 1], margins[(index + 1) % len(margins)])
        inner = _away_from_ends(margin, 4 * max(m.distance for m in (margin, *neighbours)) + 1.0)
        if inner is None:
            continue
        assert line.distance(inner) >= margin.distance - SLACK
        others = [LineString(other.points) for other in margins if other is not margin]
        _equal_where_free(inner, margin.distance, line, others)


def _away_from_ends(margin: Margin, reach: float) -> LineString | None:
    whole = LineString(margin.points)
    steps = [whole.interpolate(s) for s in np.arange(reach, whole.length - reach, 2.0)]
    return LineString(steps) if len(steps) > 2 else None


def _equal_where_free(inner: LineString, distance: float, line: LineString, others: list[LineString]) -> None:
    """Where a run bulges outwards and no other is near, the cutting line is exactly the allowance away."""
    points = np.array(inner.coords)
    for before, here, after in zip(points, points[1:], points[2:], strict=False):
        (ax, ay), (bx, by) = here - before, after - here
        bulges = ax * by - ay * bx > 0.0
        place = PlanePoint(here)
        if bulges and all(other.distance(place) > 60.0 for other in others):
            assert line.distance(place) == pytest.approx(distance, abs=SLACK)


def test_a_flat_corner_is_stepped_and_a_sharper_one_tapered() -> None:
    """Beside a bare edge, 12.7 mm would taper off over 47 mm at a corner of 165 degrees: there is a square step.

    At 140 degrees it tapers over 12.7 / tan 40 degrees, 15 mm, along the bare edge's continuation.
    """
    for inner, wanted in ((165.0, None), (140.0, 12.7 / sin(pi * 40 / 180))):
        turn = pi * (180.0 - inner) / 180.0
        end = (100.0 + 100.0 * cos(turn), 100.0 * sin(turn))
        loop = loop_of(*straight((0, 0), (100, 0), end, (0, 120), by=[0.0, 12.7, 12.7, 12.7]))
        if wanted is None:
            has(loop, (100.0, 0.0), (100.0 + 12.7 * sin(turn), -12.7 * cos(turn)))
        else:
            has(loop, (100.0 + wanted, 0.0))


@pytest.mark.parametrize("first", range(5))
def test_a_step_of_half_a_millimetre_has_both_its_corners(first: int) -> None:
    """Where a straight edge goes on with less, whichever run of the outline is named first."""
    margins = straight((0, 0), (50, 0), (100, 0), (100, 50), (0, 50), by=[12.7, 12.2, 6.0, 6.0, 6.0])
    loop = loop_of(*margins[first:], *margins[:first])
    has(loop, (50.0, -12.7), (50.0, -12.2))


@given(outlines())
def test_the_law_of_allowances_on_pieces_with_corners(margins: list[Margin]) -> None:
    """Corners, waves with tight hollows, every end mitred, squared or mirrored: the law holds and nothing crosses.

    `python -m tests.benchmarks.allowances` tries a thousand.
    """
    assume(is_outline(margins))
    assert faults(margins, offset_loop(margins)) == []


SLOPE = pi / 3
"""Inner angle of the leaning corner below."""


def leaning(end: EndKind, angle: float = SLOPE) -> Points:
    """The cutting line of a piece on y >= 0 whose lower edge ends at (100, 0) in a corner of an inner angle."""
    side = (100.0 - 120.0 * cos(angle), 120.0 * sin(angle))
    lower, *rest = straight((0, 0), (100, 0), side, (-40.0, side[1]), by=[12.7, 10.0, 10.0, 10.0])
    return loop_of(Margin(lower.points, lower.distance, ends=("mitred", end)), *rest)


def test_a_squared_end_stands_square_to_its_seam() -> None:
    """It begins where the seam's own line meets the neighbour's cutting line: 10 / sin 60 degrees beyond the corner."""
    on = 100.0 + 10.0 / sin(SLOPE)
    has(leaning("squared"), (on, 0.0), (on, -12.7))


def test_squared_ends_of_two_mates_lie_on_each_other() -> None:
    """Inner angles of 60 and 120 degrees make a straight edge across the seam; both allowances end at one place.

    Laid right sides together the mate is mirrored, so its end stands at the same distance beyond the corner.
    """
    ends = [loop[loop[:, 1] < -12.6][:, 0].max() for loop in (leaning("squared"), leaning("squared", pi - SLOPE))]
    assert ends[0] == pytest.approx(ends[1], abs=1e-6)
    mitred = [loop[loop[:, 1] < -12.6][:, 0].max() for loop in (leaning("mitred"), leaning("mitred", pi - SLOPE))]
    assert abs(mitred[0] - mitred[1]) > 10.0  # what squaring mends


@pytest.mark.parametrize("angle", [SLOPE, pi / 2, pi - SLOPE])
def test_a_hem_turned_up_lies_on_the_piece(angle: float) -> None:
    """Its mirrored end, folded over the hem line, lies along the side's cutting line."""
    loop = leaning("mirrored", angle)
    side = LineString([(100.0 + 10.0 / sin(angle), 0.0), (100.0 + 10.0 / sin(angle) - 50.0 / np.tan(angle), 50.0)])
    allowance = loop[(loop[:, 1] < 1e-6) & (loop[:, 0] > 100.5)]
    assert allowance[:, 1].min() == pytest.approx(-12.7)
    for place in reflected(as_points(allowance), (0.0, 0.0), (1.0, 0.0)):
        assert side.distance(PlanePoint(place)) == pytest.approx(0.0, abs=1e-6)
