"""A cup on the form, where the wedge that its rim wants is known."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest
from msgspec.structs import replace
from scipy.integrate import quad

from core.checks.bust_depth import BAND
from core.form.cloth import cloth_on
from core.form.cup import CupFit, cup_fit, cup_fit_words, rim_dart
from core.form.landmarks import Body
from core.steps.cup import Cup
from tests.samples import replayed
from tests.samples_stands import demo_stand

TURN = np.linspace(0.0, 1.0, 1441)


@pytest.mark.parametrize("half_apex", [60.0, 70.0, 80.0])
@pytest.mark.parametrize("swing", [0.0, 12.0])
def test_a_cone_wants_its_own_dart_whatever_the_rim(half_apex: float, swing: float) -> None:
    """2 pi (1 - sin b), for a circle and for a rim that swings in and out: cloth and cone are isometric."""
    radii = 80.0 + swing * np.sin(3.0 * TURN * 2.0 * np.pi)
    out, up = radii * np.sin(np.radians(half_apex)), radii * np.cos(np.radians(half_apex))
    places = np.column_stack((out * np.cos(2 * np.pi * TURN), out * np.sin(2 * np.pi * TURN), up))
    long = float(np.linalg.norm(np.diff(places, axis=0), axis=1).sum())
    wanted = 2.0 * np.pi * (1.0 - np.sin(np.radians(half_apex)))
    assert rim_dart(radii, TURN, long) == pytest.approx(wanted, abs=2e-4)


@pytest.mark.parametrize("r", [40.0, 70.0, 100.0])
def test_a_cap_wants_what_its_radius_wants(r: float) -> None:
    """On a ball of 72 mm, 2 pi (1 - sin x / x) at x = r / R (handbooks of geometry)."""
    x = r / 72.0
    wanted = 2.0 * np.pi * (1.0 - np.sin(x) / x)
    assert rim_dart(np.full(1441, r), TURN, 2.0 * np.pi * 72.0 * np.sin(x)) == pytest.approx(wanted, abs=2e-4)


def test_beyond_a_mound_the_wedge_falls_with_distance() -> None:
    """On the flat round a mound of 55 by 90 mm, r times the angle is 2 pi (meridian - foot), by quadrature."""
    meridian = quad(lambda s: np.hypot(1.0, 4.0 * 55.0 * (1 - (s / 90) ** 2) * s / 90**2), 0.0, 90.0)[0]
    for beyond in (10.0, 40.0):
        r = meridian + beyond
        wanted = rim_dart(np.full(1441, r), TURN, 2.0 * np.pi * (90.0 + beyond))
        assert r * wanted == pytest.approx(2.0 * np.pi * (meridian - 90.0), abs=0.05)


def _body() -> Body:
    return demo_stand("concert").body


def _demo_fit(**changes: float) -> CupFit:
    done = replayed("concert")
    cloth = cloth_on(_body(), done.block, done.design.ease)
    step = next(stage.step for stage in done.stages if isinstance(stage.step, Cup))
    before = done.before(step.id)
    return cup_fit(cloth, msgspec.structs.replace(step, **changes).plan(before))


def test_tightening_by_what_is_said_makes_the_cup_lie_on_the_breast() -> None:
    """The demo's cup is too flat; tightened above and below by what it says, its seams take out what is wanted."""
    flat = _demo_fit()
    assert flat.verdict == "check"
    assert flat.wanted - flat.intake > BAND
    tight = _demo_fit(tighten_above=flat.tighten, tighten_below=flat.tighten)
    assert tight.wanted == pytest.approx(flat.wanted, abs=1.0)
    assert tight.intake == pytest.approx(flat.wanted, abs=4.0)
    assert tight.verdict == "good"


def test_the_rim_wants_what_circles_of_its_size_want() -> None:
    """The demo's rim against the circle of its mean radius on the same rays: within a few degrees."""
    fit, rays = _demo_fit(), _body().rays
    circle = np.degrees(np.interp(fit.radius, rays.r, rays.dart_wanted()))
    assert fit.wanted == pytest.approx(circle, abs=6.0)


def test_a_cup_is_said_with_angle_band_and_what_to_do() -> None:
    """Too flat, close, and too deep, each with its band and the way out."""
    flat, close, deep = (CupFit(90.0, 85.0, taken, 60.0, 80.0) for taken in (40.0, 52.0, 80.0))
    assert "60 ± 15 degrees" in cup_fit_words(flat, "mm")[0]
    assert "too long by 31.4 mm, ± 23.6 mm" in cup_fit_words(flat, "mm")[0]
    assert "tighten it by 15.7 mm above" in cup_fit_words(flat, "mm")[0]
    assert "lies on the breast" in cup_fit_words(close, "mm")[0]
    assert "stands out at the point" in cup_fit_words(deep, "mm")[0]
    assert "5 mm beyond the foot" in cup_fit_words(flat, "mm")[1]
    assert replace(flat, below=70.0).below < flat.foot
    assert "10 mm short of the foot" in cup_fit_words(replace(flat, below=70.0), "mm")[1]
