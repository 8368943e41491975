"""A run of an outline cut at the corners inside it."""

from __future__ import annotations

import numpy as np
import pytest

from core.geometry.margins import Margin, without_corners
from core.geometry.polyline import Points, as_points, joined

TURNS = (7.9, 8.1, -7.9, -8.1, 30.0, -35.0, 0.0, 90.0, -100.0, 150.0, -155.0, 175.0, -178.0, 3.0)
"""From each chord of a run to the next, in degrees."""


def turning() -> Points:
    """A run of chords of unequal length that turns so."""
    headings = np.radians(20.0 + np.cumsum([0.0, *TURNS]))
    lengths = 3.0 + np.arange(len(headings)) % 4
    chords = lengths[:, None] * np.column_stack((np.cos(headings), np.sin(headings)))
    return as_points(np.cumsum([(5.0, 7.0), *chords], axis=0))


def test_a_run_is_cut_where_it_turns_by_more_than_eight_degrees() -> None:
    """To either side, up to turning back; the parts follow one another and are all of the run."""
    run = turning()
    doubled = as_points(np.repeat(run, [1, 1, 1, 2, *[1] * (len(run) - 4)], axis=0))
    parts = without_corners(Margin(doubled, 6.0))
    corners = [run[k + 1].tolist() for k, turn in enumerate(TURNS) if abs(turn) > 8.0]
    assert [part.points[-1].tolist() for part in parts[:-1]] == corners
    assert [part.points[0].tolist() for part in parts[1:]] == corners
    assert joined([part.points for part in parts]).tolist() == run.tolist()


@pytest.mark.parametrize("fold", [False, True])
def test_only_the_ends_of_the_whole_run_end_in_its_way(*, fold: bool) -> None:
    """Where it was cut the parts are mitred; distance and fold are the run's own."""
    parts = without_corners(Margin(turning(), 6.0, fold, ("squared", "mirrored")))
    ends = [(part.ends[0], part.ends[1]) for part in parts]
    assert ends[0] == ("squared", "mitred")
    assert ends[-1] == ("mitred", "mirrored")
    assert set(ends[1:-1]) == {("mitred", "mitred")}
    assert {(part.distance, part.fold) for part in parts} == {(6.0, fold)}


def test_a_run_without_corners_stays_whole() -> None:
    """Its two ends are those of the one part."""
    run = as_points([(0, 0), (50, 0), (100, 5)])
    (part,) = without_corners(Margin(run, 6.0, ends=("mirrored", "squared")))
    assert part.points.tolist() == run.tolist()
    assert part.ends == ("mirrored", "squared")
