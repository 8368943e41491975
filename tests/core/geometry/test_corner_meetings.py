"""Where the moved lines of two neighbouring runs meet, against plane geometry, at every turn and in every direction."""

from __future__ import annotations

from itertools import product
from math import cos, radians, sin, tan
from typing import get_args

import numpy as np
import pytest
from msgspec.structs import replace
from numpy.typing import NDArray

from core.geometry.corners import BLUNT, HOLLOW, SQUARED, TAPER, Meeting, meeting
from core.geometry.margins import MITRE, EndKind, Margin, Moved, moved
from core.geometry.placement import mirrored, reflected
from core.geometry.polyline import as_points, length, point_at

TURNS = (2.0, 20.0, 29.9, 30.1, 44.0, 60.0, 89.0, 91.0, 120.0, 136.0, 140.9, 141.2, 149.9, 150.1, 165.0, 179.0)
"""From the way in which the first run reaches the corner to that in which the second leaves it, in degrees."""

DISTANCES = ((10.0, 10.0), (12.7, 6.0), (6.0, 12.7), (0.0, 10.0), (10.0, 0.0), (0.8, 10.0))

SIZES = ((600.0, 600.0), (600.0, 23.0), (23.0, 600.0))

CORNER, HEADING = np.array((31.0, -17.0)), radians(25.0)


def way(degrees: float) -> NDArray[np.float64]:
    """The direction so far to the left of the first run's."""
    return np.array((cos(HEADING + radians(degrees)), sin(HEADING + radians(degrees))))


def outside(degrees: float) -> NDArray[np.float64]:
    """The direction to the right of that: outside a counter-clockwise outline."""
    return way(degrees - 90.0)


def runs(turn: float, by: tuple[float, float], sizes: tuple[float, float] = SIZES[0]) -> list[Margin]:
    """Two straight runs of three points that meet in the corner with this turn, and one that closes the loop."""
    start, end = CORNER - sizes[0] * way(0), CORNER + sizes[1] * way(turn)
    return [
        Margin(as_points((start, 0.3 * CORNER + 0.7 * start, CORNER)), by[0]),
        Margin(as_points((CORNER, 0.6 * CORNER + 0.4 * end, end)), by[1]),
        Margin(as_points((end, start)), 0.0),
    ]


def pair(margins: list[Margin]) -> tuple[Moved, Moved]:
    """The first two of a loop's runs, moved."""
    return moved(margins, 0), moved(margins, 1)


def lines_meet(turn: float, by: tuple[float, float]) -> tuple[float, float, float]:
    """How far beyond the end of the first line, and beyond the start of the second, they meet, and how far off."""
    moves = by[0] * outside(0), by[1] * outside(turn)
    beyond, along = np.linalg.solve(np.column_stack((way(0), -way(turn))), moves[1] - moves[0])
    return float(beyond), float(along), float(np.hypot(*(moves[0] + beyond * way(0))))


@pytest.mark.parametrize("sizes", SIZES)
@pytest.mark.parametrize("by", DISTANCES)
def test_lines_meet_where_plane_geometry_says(by: tuple[float, float], sizes: tuple[float, float]) -> None:
    """Or, where that is too far off or beyond the middle of a run, each ends beside the corner, a sharp one cut square.

    A line that goes straight on and meets the other before that one's end may do so nearer by only.
    """
    for turn in (*TURNS, *(-turn for turn in TURNS)):
        first, second = pair(runs(turn, by, sizes))
        beyond, along, off = lines_meet(turn, by)
        found = meeting(first, second)
        tapers = (beyond < -1e-6 or along > 1e-6) if turn > 0.0 else (beyond > 1e-6 or along < -1e-6)
        most = (TAPER if tapers else MITRE if turn > 0.0 else HOLLOW) * max(by)
        if off <= most and beyond >= -0.5 * sizes[0] and along <= 0.5 * sizes[1]:
            assert (found.stop - first.stop, found.start - second.start) == pytest.approx((beyond, along), abs=1e-6)
            assert found.between == ()
        else:
            assert (found.stop, found.start) == (first.stop, second.start)
            assert len(found.between) == (2 if turn > 90.0 else 0)
        for place, degrees, distance in zip(found.between, (0.0, turn), by, strict=False):
            # On its own line, and in the cut that stands square to the halving line of the corner.
            assert (place - CORNER) @ outside(degrees) == pytest.approx(distance)
            assert (place - CORNER) @ outside(0.5 * turn) == pytest.approx(BLUNT * max(by))


@pytest.mark.parametrize("wanted", [TAPER, MITRE])
def test_the_farthest_meeting_is_met_and_none_beyond(wanted: float) -> None:
    """Beside a bare run the other's distance d meets it d / sin(turn) on; at equal ones, d / cos(turn / 2) out."""
    tapered = wanted == TAPER
    by = (0.0, 10.0) if tapered else (10.0, 10.0)
    turn = float(np.degrees(np.arcsin(1 / wanted) if tapered else 2.0 * np.arccos(1 / wanted)))
    for more, meets in ((0.0, True), (-1e-3, not tapered), (1e-3, tapered)):
        first, second = pair(runs(turn + more, by))
        assert (meeting(first, second).stop != first.stop) is meets


def own_end(turn: float, by: tuple[float, float], kind: EndKind) -> tuple[float, float]:
    """How far beyond the corner the first run meets the second's line, and how far on its own line ends (mm)."""
    foot = by[1] / sin(radians(turn))
    return foot, foot + (by[0] / tan(radians(turn)) if kind == "mirrored" else 0.0)


def can_end(turn: float, by: tuple[float, float], sizes: tuple[float, float], kind: EndKind) -> bool:
    """Whether the first of two runs can end so: both lines go on to three times the larger distance."""
    if turn <= 0.0 or by[0] == 0.0:
        return False
    foot, end = own_end(turn, by, kind)
    there = by[1] / tan(radians(turn))  # along the second's line, from its own start
    near = -0.5 * sizes[0] <= end <= MITRE * max(by) and there <= 0.5 * sizes[1]
    if kind == "squared":
        return near and foot <= SQUARED * max(by)
    # The second's line, from where the first one's way meets it to its own end, must be long enough to lean on.
    return near and foot <= MITRE * max(by) and by[0] / sin(radians(turn)) <= sizes[1] - there + MITRE * by[1]


@pytest.mark.parametrize("kind", ["squared", "mirrored"])
@pytest.mark.parametrize("sizes", SIZES)
@pytest.mark.parametrize("by", DISTANCES)
def test_an_end_stands_where_plane_geometry_says(
    by: tuple[float, float], sizes: tuple[float, float], kind: EndKind
) -> None:
    """From where the run, going on, meets the other's line; where it cannot stand the corner is mitred.

    Mirrored, the other's line is seen in the run: it leans the other way, as far out as the run's own line.
    """
    for turn in (*TURNS, -30.0, -90.0, -120.0):
        plain = runs(turn, by, sizes)
        first, second = pair([replace(plain[0], ends=("mitred", kind)), *plain[1:]])
        found = meeting(first, second)
        if not can_end(turn, by, sizes, kind):
            assert told(found) == pytest.approx(told(meeting(*pair(plain))), abs=1e-6)
            continue
        foot, end = own_end(turn, by, kind)
        assert np.array(found.between[-1]) == pytest.approx(CORNER + foot * way(0))
        if kind == "mirrored":
            folded = reflected(as_points(found.between), CORNER, CORNER + way(0))
            assert (folded - CORNER) @ outside(turn) == pytest.approx(by[1])
        assert found.stop - first.stop == pytest.approx(end)
        assert np.array(point_at(second.path, found.start)) == pytest.approx(CORNER + foot * way(0))


def told(met: Meeting) -> list[float]:
    """All numbers of a meeting in one list."""
    return [met.stop, met.start, *(number for place in met.between for number in place)]


@pytest.mark.parametrize("ends", list(product(get_args(EndKind), repeat=2)))
@pytest.mark.parametrize("by", DISTANCES)
def test_of_two_ends_the_first_that_can_be_is(by: tuple[float, float], ends: tuple[EndKind, EndKind]) -> None:
    """And the second run's end is what it would be for the first run of the piece seen in a mirror."""
    for turn in (30.0, 60.0, 91.0, 120.0, 141.2):
        plain = runs(turn, by)
        first, second = pair(
            [replace(plain[0], ends=("mitred", ends[0])), replace(plain[1], ends=(ends[1], "mitred")), plain[2]]
        )
        own = ends[0] != "mitred" and can_end(turn, by, SIZES[0], ends[0])
        mirror = [Margin(mirrored(margin.points), margin.distance) for margin in (plain[1], plain[0], plain[2])]
        if own:
            mirror[1] = replace(mirror[1], ends=(ends[0], "mitred"))
        else:
            mirror[0] = replace(mirror[0], ends=("mitred", ends[1]))
        seen = meeting(*pair(mirror))
        between = tuple((-x, y) for x, y in seen.between[::-1])
        back = Meeting(length(first.path) - seen.start, between, length(second.path) - seen.stop)
        assert told(meeting(first, second)) == pytest.approx(told(back), abs=1e-6)


@pytest.mark.parametrize(
    ("fold", "by", "turn"), [(0, (0.0, 10.0), 10.0), (1, (10.0, 0.0), 10.0), (0, (0.0, 10.0), -170.0)]
)
def test_at_a_fold_lines_meet_however_far(fold: int, by: tuple[float, float], turn: float) -> None:
    """57.6 mm off, six times the distance and beyond the middle of runs of 100 mm."""
    margins = [replace(margin, fold=index == fold) for index, margin in enumerate(runs(turn, by, (100.0, 100.0)))]
    first, second = pair(margins)
    found = meeting(first, second)
    beyond, along, off = lines_meet(turn, by)
    assert off > 57.0
    assert (found.stop - first.stop, found.start - second.start) == pytest.approx((beyond, along))
    assert found.between == ()


@pytest.mark.parametrize("fold", [0, 1])
@pytest.mark.parametrize("kind", ["squared", "mirrored"])
def test_beside_a_fold_no_end_is_squared_or_mirrored(fold: int, kind: EndKind) -> None:
    """Whichever of the two is the fold, at a corner of 120 degrees, where either end could be."""
    margins = [replace(margin, fold=index == fold) for index, margin in enumerate(runs(60.0, (6.0, 6.0)))]
    ended = [replace(margins[0], ends=("mitred", kind)), replace(margins[1], ends=(kind, "mitred")), margins[2]]
    assert told(meeting(*pair(ended))) == told(meeting(*pair(margins)))
