"""Fair curves: against METAPOST's own `..`, against circles and lines, and against their own promises."""

from __future__ import annotations

import shutil
import subprocess
from itertools import pairwise
from math import cos, pi, radians, sin, tau
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.curve import bezier_points, curve_controls, fair_curve
from core.geometry.polyline import Point, Points, length
from core.geometry.tolerances import CHORD_ERROR

# What METAPOST makes of these paths: every line is one control point. Run as
#     mpost -numbersystem=double -interaction=batchmode curves.mp
# and the lines that start with "at" in curves.log are METAPOST_PRINTS below (MetaPost 2.02, TeX Live 2022/Debian).
METAPOST_SOURCE = """
def at(expr z) = message "at " & decimal xpart z & " " & decimal ypart z; enddef;
def tell(expr p) =
  for i = 0 upto length p - 1:
    at(point i of p); at(postcontrol i of p); at(precontrol (i+1) of p); at(point i+1 of p);
  endfor
enddef;
tell((0,0)..(100,20)..(130,90)..(60,150)..(10,120)..(-20,40));
tell((0,0){dir 30}..(100,20)..(130,90)..(60,150)..{dir 200}(10,120));
tell((0,0){dir 90}..(60,-80)..(200,-20));
tell((0,0)..(60,0){curl 1}..{curl 1}(60,80)..(10,120)..(-40,100));
tell((0,0)..(60,80)..(3,1)..(80,0)..(81,0));
tell((0,0){dir 60}..(100,0));
tell((0,0)..{dir -100}(100,0));
tell((0,0){dir 60}..{dir -100}(100,0));
end
"""

METAPOST_PRINTS = """
at 0 0
at 34.52557387580044 -11.472367968462253
at 72.542688717900461 -3.8689450000422489
at 100 20
at 100 20
at 120.36243849050946 37.701293451612472
at 132.91585741625647 63.288739262994071
at 130 90
at 130 90
at 126.06354641853571 126.06062402345006
at 95.434096731631683 153.54862012555012
at 60 150
at 60 150
at 39.921228344726451 147.98917032563656
at 22.952657999266588 135.52685879875185
at 10 120
at 10 120
at -8.7700715574333685 97.499579566507663
at -19.347037737687717 69.294336419162732
at -20 40
at 0 0
at 30.244464500811812 17.461649721039777
at 69.862888321527123 2.3067089450581406
at 100 20
at 100 20
at 123.69894183478004 33.913485806153702
at 133.43331696995048 62.338051972459617
at 130 90
at 130 90
at 125.21088089033751 128.58553261136726
at 94.239729834740501 159.04286470345016
at 60 150
at 60 150
at 40.890561503450087 144.9531124305814
at 28.491757187855153 126.73044919565736
at 10 120
at 0 0
at 0 53.245804619458369
at 57.57983887349247 -5.2792688709340894
at 60 -80
at 60 -80
at 65.168235924844467 -239.56556062412145
at 311.98317429688484 -133.78772989324699
at 200 -20
at 0 0
at 20 7.4014868308343765e-17
at 40 -7.4014868308343765e-17
at 60 0
at 60 0
at 60 26.666666666666668
at 60 53.333333333333329
at 60 80
at 60 80
at 52.639688159893723 101.99884571571239
at 33.077966711937862 117.64822287407708
at 10 120
at 10 120
at -8.9370880371491523 121.92979784715254
at -27.617831315962718 114.45750053562712
at -40 100
at 0 0
at -288.08317164975495 -71.691273299434229
at 48.160334305525488 376.63340130760628
at 60 80
at 60 80
at 61.346360835766149 46.26800076905419
at -16.548457371738341 42.540516284751426
at 3 1
at 3 1
at 16.369032188605253 -27.409223744939304
at 51.542567617259252 -0.3933519933045222
at 80 0
at 80 0
at 80.333317413132065 0.0046072698019699624
at 80.666682586867935 0.0046072698019699624
at 81 0
at 0 0
at 22.222222222222229 38.490017945975048
at 77.777777777777771 38.490017945975048
at 100 0
at 0 0
at -14.009220848706866 79.450239506280653
at 114.00922084870686 79.450239506280653
at 100 0
at 0 0
at 36.389928940232203 63.029205808303225
at 106.87286993171188 38.977982292314778
at 100 0
"""

# The same paths as METAPOST_SOURCE asks for, in the words of this project.
PATHS: tuple[tuple[list[Point], dict[str, Any]], ...] = (
    ([(0, 0), (100, 20), (130, 90), (60, 150), (10, 120), (-20, 40)], {}),
    (
        [(0, 0), (100, 20), (130, 90), (60, 150), (10, 120)],
        {"start_direction": radians(30), "end_direction": radians(200)},
    ),
    ([(0, 0), (60, -80), (200, -20)], {"start_direction": radians(90)}),
    ([(0, 0), (60, 0), (60, 80), (10, 120), (-40, 100)], {"corners": [False, True, True, False, False]}),
    ([(0, 0), (60, 80), (3, 1), (80, 0), (81, 0)], {}),
    ([(0, 0), (100, 0)], {"start_direction": radians(60)}),
    ([(0, 0), (100, 0)], {"end_direction": radians(-100)}),
    ([(0, 0), (100, 0)], {"start_direction": radians(60), "end_direction": radians(-100)}),
)


def run_metapost(folder: Path) -> str:
    """The "at" lines that METAPOST prints for the source above."""
    (folder / "curves.mp").write_text(METAPOST_SOURCE, encoding="ascii")
    command = ["mpost", "-numbersystem=double", "-interaction=batchmode", "curves.mp"]
    subprocess.run(command, cwd=folder, check=True, capture_output=True, timeout=60)
    printed = (folder / "curves.log").read_text(encoding="latin-1")
    return "\n".join(line.rstrip(" )") for line in printed.splitlines() if line.startswith("at "))


def printed_points(lines: str) -> Points:
    """The printed control points, shape (N, 2)."""
    return np.array([[float(word) for word in line.split()[1:]] for line in lines.strip().splitlines()])


def drawn_controls() -> Points:
    """This project's control points for the same paths, one after the other, shape (N, 2)."""
    return np.vstack([curve_controls(points, **options).reshape(-1, 2) for points, options in PATHS])


def bernstein(control: Points, t: Points) -> Points:
    """The cubic Bezier curve by its definition."""
    s = 1 - t
    weights = np.stack((s**3, 3 * t * s**2, 3 * t**2 * s, t**3), axis=1)
    return weights @ control


def gaps_to(polyline: Points, places: Points) -> Points:
    """Distance from each place to the polyline."""
    start, span = polyline[:-1], np.diff(polyline, axis=0)
    away = places[:, None, :] - start
    share = np.clip((away * span).sum(axis=2) / (span**2).sum(axis=1), 0, 1)
    return np.asarray(np.hypot(*(away - share[..., None] * span).transpose(2, 0, 1)).min(axis=1))


def on_circle(count: int, radius: float, sweep: float = tau) -> list[Point]:
    """`count` points evenly spaced over `sweep` radians, the last at the end of the sweep."""
    angles = [sweep * i / (count - 1) for i in range(count)]
    return [(radius * cos(a), radius * sin(a)) for a in angles]


coordinate = st.floats(-300, 300).map(lambda value: round(value, 3))
placed_points = st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=8).filter(
    lambda points: all(np.hypot(a[0] - b[0], a[1] - b[1]) > 1 for a, b in pairwise(points))
)


def test_control_points_are_those_of_metapost() -> None:
    """The control points of eight paths agree with the stored METAPOST printout to nine digits."""
    np.testing.assert_allclose(drawn_controls(), printed_points(METAPOST_PRINTS), rtol=1e-9, atol=1e-9)


def test_stored_printout_is_what_metapost_prints(tmp_path: Path) -> None:
    """Where METAPOST is installed, it prints the stored values again; elsewhere the stored ones stand alone."""
    printed = METAPOST_PRINTS if shutil.which("mpost") is None else run_metapost(tmp_path)
    np.testing.assert_allclose(drawn_controls(), printed_points(printed), rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize(
    ("count", "relative_error"),
    [
        # a quarter circle by the usual cubic arc is 2.7253e-4 r out (M. Goldapp, CAGD 8, 1991; figure from memory)
        (5, 2.7254e-4),
        # eighths: the error falls with the sixth power of the angle, 2.7253e-4 / 64 (analytic)
        (9, 4.3e-6),
    ],
)
def test_points_of_a_circle_give_that_circle(count: int, relative_error: float) -> None:
    """Points evenly spaced on a circle give the circle back, within the known error of cubic arcs, at free ends too."""
    radius = 1000.0
    spans = curve_controls(on_circle(count, radius))
    places = np.vstack([bernstein(span, np.linspace(0, 1, 201)) for span in spans])
    error = np.abs(np.hypot(*places.T) / radius - 1)
    assert 0.9 * relative_error < error.max() < relative_error


def test_a_drawn_circle_has_the_length_of_a_circle() -> None:
    """Half a circle through five points measures pi r: chords of 0.01 mm lose less than 0.01 % at a neckline's size."""
    drawn = fair_curve(on_circle(5, 90.0, pi))
    assert length(drawn) == pytest.approx(90 * pi, rel=1e-4)


def test_points_on_a_line_give_the_line() -> None:
    """Collinear points, however spaced, give only themselves: no vertex is added and none leaves the line."""
    points: list[Point] = [(0.0, 0.0), (30.0, 10.0), (33.0, 11.0), (150.0, 50.0)]
    drawn = fair_curve(points)
    assert np.abs(drawn @ (1.0, -3.0)).max() < 1e-9
    assert length(drawn) == pytest.approx(np.hypot(150, 50), abs=1e-9)


def test_two_points_give_a_straight_line() -> None:
    """With free ends there is nothing to bend for."""
    assert fair_curve([(1.0, 2.0), (7.0, -5.0)]).tolist() == [[1.0, 2.0], [7.0, -5.0]]


def test_a_corner_point_frees_the_curve_on_both_sides() -> None:
    """At a corner the curve breaks into the two curves that each side would be alone."""
    points: list[Point] = [(0, 0), (60, 20), (90, 90), (140, 60), (200, 80)]
    whole = fair_curve(points, corners=[False, False, True, False, False])
    left, right = fair_curve(points[:3]), fair_curve(points[2:])
    np.testing.assert_array_equal(whole, np.vstack((left, right[1:])))


def test_directions_hold_at_the_ends_and_not_at_corners() -> None:
    """Each side of a corner is the curve that it would be alone, with the direction of its own end of the whole."""
    points: list[Point] = [(0, 0), (60, 20), (90, 90), (140, 60), (200, 80)]
    whole = fair_curve(points, corners=[False, False, True, False, False], start_direction=1.2, end_direction=-0.4)
    left, right = fair_curve(points[:3], start_direction=1.2), fair_curve(points[2:], end_direction=-0.4)
    np.testing.assert_array_equal(whole, np.vstack((left, right[1:])))


def test_a_span_that_turns_back_has_arms_of_four_chords() -> None:
    """No longer ones, as METAPOST bounds them (section 116 of "METAFONT: The Program", from memory)."""
    for away in (0.0, 0.02):
        (span,) = curve_controls([(0, 0), (100, 0)], start_direction=pi - away, end_direction=away - pi)
        assert np.hypot(*(span[1] - span[0])) == pytest.approx(400.0)
        assert np.hypot(*(span[3] - span[2])) == pytest.approx(400.0)


def test_corner_marks_at_the_ends_change_nothing() -> None:
    """Only inner points can be corners; given directions at the ends still hold."""
    points: list[Point] = [(0, 0), (60, 20), (90, 90)]
    marked = fair_curve(points, corners=[True, False, True], start_direction=1.0)
    np.testing.assert_array_equal(marked, fair_curve(points, start_direction=1.0))


def test_given_end_directions_are_met() -> None:
    """The curve leaves and arrives along the given directions."""
    points: list[Point] = [(0, 0), (40, 60), (120, 70)]
    spans = curve_controls(points, start_direction=radians(90), end_direction=radians(-20))
    leaving, arriving = spans[0][1] - spans[0][0], spans[-1][3] - spans[-1][2]
    assert np.arctan2(leaving[1], leaving[0]) == pytest.approx(radians(90), abs=1e-12)
    assert np.arctan2(arriving[1], arriving[0]) == pytest.approx(radians(-20), abs=1e-12)


@given(placed_points)
def test_every_placed_point_is_a_vertex(points: list[Point]) -> None:
    """Placed points come back bit for bit, in their order."""
    drawn = [tuple(row) for row in fair_curve(points).tolist()]
    where = -1
    for point in points:
        where = drawn.index(point, where + 1)
    assert drawn[0] == points[0]
    assert drawn[-1] == points[-1]


@given(placed_points)
def test_chords_leave_the_curve_by_no_more_than_the_chord_error(points: list[Point]) -> None:
    """Every place of the true curve is within 0.01 mm of the polyline."""
    drawn = fair_curve(points)
    places = np.vstack([bernstein(span, np.linspace(0, 1, 101)) for span in curve_controls(points)])
    assert gaps_to(drawn, places).max() <= CHORD_ERROR * (1 + 1e-6)


@given(placed_points)
def test_a_smooth_curve_has_no_corner(points: list[Point]) -> None:
    """Arriving and leaving directions agree at every inner point."""
    spans = curve_controls(points)
    arriving, leaving = spans[:-1, 3] - spans[:-1, 2], spans[1:, 1] - spans[1:, 0]
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    assert np.all(np.abs(cross) <= 1e-9 * np.hypot(*arriving.T) * np.hypot(*leaving.T) + 1e-12)


def test_a_coarser_chord_error_gives_fewer_vertices() -> None:
    """The chord error asked for is the one that is used."""
    points: list[Point] = [(0, 0), (60, 90), (150, 20)]
    assert len(fair_curve(points, chord_error=0.5)) < len(fair_curve(points)) / 5


def test_a_bezier_curve_is_drawn_between_its_ends() -> None:
    """One span: ends exact, chords within the chord error of the curve's definition."""
    control = np.array([(0.1, 0.2), (30.0, 90.0), (100.0, -40.0), (150.3, 20.7)])
    drawn = bezier_points(control)
    assert drawn[0].tolist() == [0.1, 0.2]
    assert drawn[-1].tolist() == [150.3, 20.7]
    assert gaps_to(drawn, bernstein(control, np.linspace(0, 1, 1001))).max() <= CHORD_ERROR


def test_the_polyline_cannot_be_altered() -> None:
    """Curves are shared between records, so they are read-only."""
    drawn = fair_curve([(0, 0), (60, 90), (150, 20)])
    with pytest.raises(ValueError, match="read-only"):
        drawn[0] = 1.0


@pytest.mark.parametrize(
    ("points", "options", "words"),
    [
        ([(0, 0), (5, 5), (5, 5), (9, 0)], {}, "points 2 and 3 of the curve lie on one another"),
        ([(0, 0), (0, 0)], {}, "points 1 and 2 of the curve lie on one another"),
        ([(0, 0)], {}, "at least two points"),
        ([(0, 0), (float("nan"), 1)], {}, "not a finite number"),
        ([(0, 0), (1, float("inf"))], {}, "not a finite number"),
        ([(0, 0), (5, 5)], {"corners": [True]}, "1 corner marks for 2 points"),
        ([(0, 0), (5, 5)], {"start_direction": float("nan")}, "direction is not a finite number"),
        ([(0, 0), (5, 5)], {"end_direction": float("inf")}, "direction is not a finite number"),
        ([(0, 0), (5, 5)], {"chord_error": 0.0}, "chord error is not a positive number"),
    ],
)
def test_points_that_make_no_curve_are_refused(points: list[Point], options: dict[str, Any], words: str) -> None:
    """Coincident neighbours, lone points and numbers that are not finite are named in the error."""
    with pytest.raises(ValueError, match=words):
        fair_curve(points, **options)


def test_a_bezier_curve_wants_four_control_points() -> None:
    """Anything but four points is an error that says so."""
    with pytest.raises(ValueError, match="4 control points, not 3"):
        bezier_points([(0, 0), (1, 1), (2, 0)])
