"""The form solved from the tape: readings, laws of size and symmetry, refusals."""

from __future__ import annotations

import re
from functools import cache

import msgspec
import numpy as np
import pytest
from shapely import LineString, MultiPoint

from core.body.body import Body, complete
from core.body.shape import Shape
from core.errors import Refusal
from core.form.rays import Rays, rays_from
from core.form.solving import READ, Form, readings, solved
from core.form.surface import bridged, skin
from tests.benchmarks.form import grid
from tests.demo_designs import CONCERT_BODY
from tests.samples_bodies import EXTREMES, bodies, extreme_body
from tests.samples_stands import demo_stand


def _concert() -> Form:
    return demo_stand("concert").body.form


@cache
def _larger() -> Form:
    """The demo's figure with every length 1.1 times as long."""
    lengths = {k: v if k == "shoulder_slope_deg" else v * 1.1 for k, v in complete(CONCERT_BODY).values.items()}
    return solved(complete(Body("Larger", "mm", {k: float(v) for k, v in lengths.items()})))


@cache
def _fullest() -> Form:
    return solved(complete(extreme_body("largest bust over under-bust")))


def test_every_reading_is_matched() -> None:
    """Girths and lengths read on the demo's form are the client's to a tenth of a millimetre."""
    values = complete(CONCERT_BODY).values
    assert readings(_concert().sections) == pytest.approx([values[id_] for id_ in READ], abs=0.1)


def test_girths_agree_with_another_convex_hull() -> None:
    """The bust and the waist, measured round the whole section by another library's hull."""
    form = _concert()
    for id_, z in (("bust", form.bust_point[1]), ("waist", 0.0)):
        hull = MultiPoint(form.sections.whole_section(z)).convex_hull.length
        assert hull == pytest.approx(form.figure.of(id_), abs=0.2)


def test_centre_lengths_end_at_pit_and_nape() -> None:
    """The taut tape down the centre back, as another library measures the convex hull's side, reads her length."""
    form = _concert()
    profile = form.sections.centre_profile(form.nape_height, is_back=True)
    hull = MultiPoint([*profile, (0.0, -1e4), (profile[-1][0], -1e4)]).convex_hull.boundary
    order = sorted({place for place in hull.coords if place[1] > -9e3})
    assert LineString(order).length == pytest.approx(form.figure.of("back_waist_length"), abs=0.1)


@pytest.mark.parametrize("case", list(EXTREMES)[1:4:2])
def test_women_at_the_edges_of_the_survey_have_a_form(case: str) -> None:
    """The largest bust and the narrowest span: every reading within 0.1 mm."""
    measured = complete(extreme_body(case))
    form = solved(measured)
    assert readings(form.sections) == pytest.approx([measured.values[id_] for id_ in READ], abs=0.1)


@pytest.mark.parametrize("body", [*grid()[7::18], *bodies()[::10][3::25]], ids=lambda body: body.name)
def test_sizes_and_women_have_a_form_or_are_refused_by_name(body: Body) -> None:
    """A sample of what the benchmark tries: ninety sizes, and every tenth woman of the survey."""
    measured = complete(body)
    try:
        form = solved(measured)
    except Refusal as refusal:
        assert re.search(r"has both this .* \(\d+ mm.*\) and this .* \(\d+ mm", refusal.sentence)  # noqa: PT017
    else:
        assert readings(form.sections) == pytest.approx([measured.values[id_] for id_ in READ], abs=0.1)


def test_a_body_twice_as_large_has_a_form_twice_as_large() -> None:
    """Scaling every length by s scales the surface by s, so every angle stays."""
    s, large, small = 1.1, _larger(), _concert()
    assert large.figure.unknowns.mound == pytest.approx(s * small.figure.unknowns.mound, rel=1e-3)
    assert large.bust_point[1] == pytest.approx(s * small.bust_point[1], rel=1e-3)


def _tip_radius(form: Form) -> float:
    """The radius (mm) of the side view's outline at the bust point: of the circle through it and 6 mm up and down."""
    z = form.bust_point[1] + np.array([-6.0, 0.0, 6.0])
    t = np.linspace(0.0, np.pi / 2, 200)
    out = form.sections.places(t[:, None], z[None, :])[1].max(axis=0)
    sagitta = out[1] - (out[0] + out[2]) / 2.0
    return float((6.0**2 + sagitta**2) / (2.0 * sagitta))


def test_a_very_full_bust_is_round_from_the_side() -> None:
    """Its outline is no sharper at the bust point than a ball of 25 mm, even where bust and ribs differ most."""
    assert _tip_radius(_fullest()) > 25.0


def test_shoulders_are_round_from_the_front() -> None:
    """Over 8 mm about the shoulder's end the outline turns as on a ball of 10 mm at least, and not in a corner."""
    form = _concert()
    z = np.linspace(form.figure.high_bust_height, form.figure.unknowns.side_neck_height, 400)
    x = form.sections.places(np.full(400, np.pi / 2), z)[0]
    turn = np.unwrap(np.arctan2(np.gradient(z), np.gradient(x)))
    along = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(x), np.diff(z)))))
    assert max(np.abs(np.interp(along + 8.0, along, turn) - turn)[along < along[-1] - 8.0]) < 8.0 / 10.0


def test_every_angle_of_a_larger_body_is_the_same() -> None:
    """The dart that an edge wants at 1.1 times the distance on a body 1.1 times as large."""
    s, large = 1.1, _larger()
    surface, small = bridged(large.sections), _rays(is_bridged=True)
    wanted = rays_from(surface, large.bust_point_at(surface), 130.0)
    for r in (50.0, 80.0, 110.0):
        here = np.interp(r, small.r, small.dart_wanted())
        assert np.interp(s * r, wanted.r, wanted.dart_wanted()) == pytest.approx(here, abs=np.radians(0.3))


def test_the_right_half_mirrors_the_left() -> None:
    """Beyond the centre front the surface runs on as its own mirror image, smoothly: x turns its sign, y does not."""
    surface = skin(_concert().sections)
    t, z = np.tile(np.linspace(0.02, 0.6, 30), 5), np.repeat(np.linspace(-80.0, 300.0, 5), 30)
    left, right = surface.places(t, z), surface.places(-t, z)
    assert right == pytest.approx(left * (-1.0, 1.0, 1.0), abs=0.02)
    assert surface.slopes(np.zeros(5), np.linspace(-80.0, 300.0, 5)).by_t[:, 1] == pytest.approx(0.0, abs=0.1)


def test_fuller_below_lowers_the_mound_and_keeps_the_tape() -> None:
    """A choice of shape changes the surface above the bust point, not a reading."""
    below = solved(complete(CONCERT_BODY), Shape(fullness="below"))
    assert readings(below.sections) == pytest.approx(readings(_concert().sections), abs=0.2)
    assert below.figure.reaches()[0] < _concert().figure.reaches()[0]


def test_tapes_that_contradict_each_other_are_both_named() -> None:
    """A bust point 35 mm over the waist, by the tape: it lies too low for the armhole and the lengths above it."""
    values = dict(CONCERT_BODY.measurements) | {"front_waist_length": 360.0, "neck_to_bust_point": 325.0}
    with pytest.raises(Refusal, match=r"both this side neck to bust point \(325 mm\) and this front waist length"):
        solved(complete(msgspec.structs.replace(CONCERT_BODY, measurements=values)))


@cache
def _rays(*, is_bridged: bool) -> Rays:
    form = _concert()
    surface = bridged(form.sections) if is_bridged else skin(form.sections)
    return rays_from(surface, form.bust_point_at(surface), 130.0)


def test_dart_wanted_is_the_running_mean_of_the_curvature_inside() -> None:
    """d*(r) = (1/r) times the integral of 2 pi - C'(r): Gauss and Bonnet on the solved form (Kint itself is not)."""
    rays = _rays(is_bridged=False)
    inside = 2 * np.pi - np.gradient(rays.circumference(), rays.r)
    mean = np.array([np.trapezoid(inside[: k + 1], rays.r[: k + 1]) / rays.r[k] for k in (20, 40, 60)])
    assert rays.dart_wanted()[[20, 40, 60]] == pytest.approx(mean, abs=np.radians(0.5))


def test_an_edge_that_hugs_the_hollow_wants_more_dart_than_one_that_bridges_it() -> None:
    """At every distance on the breast the skin bends more than the surface stretched over the hollow."""
    hugging, bridging = _rays(is_bridged=False).dart_wanted(), _rays(is_bridged=True).dart_wanted()
    assert (hugging[10:60] >= bridging[10:60]).all()


def test_more_bust_wants_more_dart() -> None:
    """Ten millimetres more bust, all else equal, raise the dart at 100 mm by several degrees."""
    values = dict(CONCERT_BODY.measurements)
    values["bust"] += 10.0
    form = solved(complete(msgspec.structs.replace(CONCERT_BODY, measurements=values)))
    surface = bridged(form.sections)
    more = rays_from(surface, form.bust_point_at(surface), 104.0).dart_wanted()[50]
    assert 2.0 < np.degrees(more - _rays(is_bridged=True).dart_wanted()[50]) < 10.0
