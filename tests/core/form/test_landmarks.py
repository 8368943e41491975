"""Block and body from the bust point to each landmark, where the answer is known, and on the demo."""

from __future__ import annotations

import numpy as np
import pytest

from core.body.body import complete
from core.form.cloth import cloth_on
from core.form.landmarks import BELOW, Body, Landmark, landmarks_on
from core.form.tape import taut_over
from core.pieces.cone import cone_of
from tests.samples import replayed
from tests.samples_stands import demo_stand

Values = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def _body() -> Body:
    return demo_stand("concert").body


def _marks() -> dict[str, Landmark]:
    done = replayed("concert")
    cone = cone_of(done.block.blocks["front"])
    return {mark.name: mark for mark in landmarks_on(_body(), done.block, cone, done.design.ease)}


def _arch(height: Values) -> tuple[Values, Values]:
    """A path in space over heights (N,) at steps of 1 mm along x, turned out of every plane, with its normals."""
    x = np.arange(float(len(height)))
    up = np.array([0.0, 0.6, 0.8])
    return np.column_stack((x, 0.0 * x, 0.0 * x)) + height[:, None] * up, np.tile(up, (len(height), 1))


def test_a_tape_over_a_hollow_runs_straight() -> None:
    """A dip of 20 mm under a chord of 100: the tape reads the chord."""
    dip = -20.0 * np.sin(np.linspace(0.0, np.pi, 101))
    assert taut_over(*_arch(dip)) == pytest.approx(100.0)


def test_a_tape_over_a_ridge_has_two_straight_parts() -> None:
    """Up 30 over 50 mm, and down again: twice the hypotenuse, whatever hollows lie on the slopes."""
    ridge = np.interp(np.arange(101.0), (0, 50, 100), (0, 30, 0))
    hollowed = ridge - np.where(ridge < 29.0, 3.0, 0.0) * (ridge > 1.0)
    assert taut_over(*_arch(hollowed)) == pytest.approx(2 * np.hypot(50.0, 30.0), abs=0.15)


@pytest.mark.parametrize(("name", "length"), [("side_neck", "neck_to_bust_point"), (BELOW, "front_waist_length")])
def test_the_body_is_as_far_as_the_tape_says(name: str, length: str) -> None:
    """To the side neck, and from the bust point down to the waist, the form is what was measured, within 2 mm."""
    values = complete(replayed("concert").design.body).values
    wanted = values[length] - (values["neck_to_bust_point"] if name == BELOW else 0.0)
    assert _marks()[name].on_body == pytest.approx(wanted, abs=2.0)


@pytest.mark.parametrize("name", ["neck_pit", "bust_line", "side_neck", BELOW, "waist_centre"])
def test_block_and_body_agree_where_the_tape_drafted_both(name: str) -> None:
    """At centre and neck the demo's block is the body, within the band of the form."""
    assert _marks()[name].bare == pytest.approx(_marks()[name].on_body, abs=3.0)


def test_ease_is_taken_off_where_it_was_put_in() -> None:
    """The underarm lies a quarter of the bust ease farther out and the armhole's ease lower than the body's own."""
    done = replayed("concert")
    block, ease = done.block.blocks["front"], done.design.ease
    (x, y), (bust_x, bust_y) = block.landmarks["underarm"], block.landmarks["bust_point"]
    mark = _marks()["underarm"]
    assert mark.on_block == pytest.approx(np.hypot(x - bust_x, y - bust_y))
    assert mark.bare == pytest.approx(np.hypot(x - ease.bust / 4 - bust_x, y + ease.armhole_depth - bust_y))


def test_the_side_seam_lies_where_the_back_block_ends() -> None:
    """Round from the centre back to the underarm the body measures what the back block does without its ease."""
    done = replayed("concert")
    cloth = cloth_on(_body(), done.block, done.design.ease)
    mark = next(one for one in cloth.landmarks if one.name == "underarm")
    z = _body().form.figure.high_bust_height
    _, _, (place,) = _body().rays.at(np.array([mark.phi]), np.array([mark.on_body]))
    t = np.linspace(np.pi, 0.5, 2000)
    level = _body().surface.places(t, np.full(2000, z))
    run = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(level, axis=0), axis=1))))
    wide = abs(done.block.blocks["back"].landmarks["underarm"][0]) - done.design.ease.bust / 4
    assert np.linalg.norm(level[int(np.argmin(np.abs(run - wide)))] - place) < 6.0
