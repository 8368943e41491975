"""The thin-plate map: affine maps and published figures reproduced, the fold kept, folding refused."""

from __future__ import annotations

from itertools import permutations
from math import log, radians

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from core.errors import Refusal
from core.geometry import thin_plate
from core.geometry.polyline import Point, Points, as_point, as_points
from core.geometry.thin_plate import landmark_map

# A front of plausible size: neck, shoulder, underarm, bust point, waist.
FRONT: dict[str, Point] = {
    "neck_pit": (0.0, 325.0),
    "side_neck": (70.0, 410.0),
    "shoulder_point": (185.0, 365.0),
    "underarm": (240.0, 200.0),
    "bust_point": (91.0, 170.0),
    "waist_centre": (0.0, 0.0),
    "waist_side": (195.0, 0.0),
}
BIGGER: dict[str, Point] = {
    "neck_pit": (0.0, 335.0),
    "side_neck": (75.0, 430.0),
    "shoulder_point": (188.0, 380.0),
    "underarm": (275.0, 190.0),
    "bust_point": (104.0, 150.0),
    "waist_centre": (0.0, 0.0),
    "waist_side": (230.0, 0.0),
}
DRAWN = as_points([(0.0, 250.0), (40.0, 230.0), (91.0, 170.0), (150.0, 190.0), (238.0, 205.0)])


def moved(landmarks: dict[str, Point], linear: Points, shift: Point) -> dict[str, Point]:
    """The landmarks under an affine map."""
    return {
        name: (float(x), float(y)) for name, (x, y) in zip(landmarks, places(landmarks) @ linear + shift, strict=True)
    }


def places(landmarks: dict[str, Point]) -> Points:
    """The landmarks as an array, in their order."""
    return as_points(list(landmarks.values()))


def test_every_landmark_goes_to_its_new_place() -> None:
    """The map meets all landmarks, with the fold and without."""
    for fold in (True, False):
        carried = landmark_map(FRONT, BIGGER, fold=fold)(places(FRONT))
        np.testing.assert_allclose(carried, places(BIGGER), atol=1e-8)


def test_equal_landmarks_give_back_the_very_same_points() -> None:
    """On the body it was drawn for nothing is computed, so that A, B, A is exact."""
    assert landmark_map(FRONT, dict(FRONT), fold=True)(DRAWN) is DRAWN


def test_only_common_landmarks_count() -> None:
    """A landmark that one of the two lacks does not move anything."""
    more = {**FRONT, "nape": (0.0, 420.0)}
    assert landmark_map(more, FRONT, fold=False)(DRAWN) is DRAWN
    assert landmark_map({}, FRONT, fold=False)(DRAWN) is DRAWN


turned_out = st.floats(0.7, 2)
sheared = st.floats(-0.5, 0.5)


@given(st.tuples(turned_out, sheared, sheared, turned_out), st.floats(-100, 100))
def test_affine_maps_are_reproduced(factors: tuple[float, float, float, float], shift: float) -> None:
    """Where the landmarks move by an affine map, all points do (Bookstein 1989: such a map has no bending)."""
    linear = np.array(factors).reshape(2, 2)
    carry = landmark_map(FRONT, moved(FRONT, linear, (shift, -shift)), fold=False)
    np.testing.assert_allclose(carry(DRAWN), DRAWN @ linear + (shift, -shift), atol=1e-7)


def test_affine_maps_that_keep_the_fold_are_reproduced() -> None:
    """Over a fold the affine maps left are a widening and a lengthening."""
    linear = np.diag((1.2, 0.9))
    carry = landmark_map(FRONT, moved(FRONT, linear, (0.0, 12.0)), fold=True)
    np.testing.assert_allclose(carry(DRAWN), DRAWN @ linear + (0.0, 12.0), atol=1e-7)


@pytest.mark.parametrize("fold", [False, True])
def test_a_published_bending_is_met(*, fold: bool) -> None:
    """Four landmarks of a diamond, the example of Bookstein 1989: y changes by 0.0902 (U1 - U2 + U3 - U4).

    With U = r² log r², c (8 ln 2 - 4 ln 2) = 0.25 gives c = 0.25 / (4 ln 2) = 0.0902, and at (2, 0) the change is
    c (9 ln 9 - 10 ln 5); at (0.5, 0), nearer than 1 to a landmark, c (2.25 ln 2.25 + 0.25 ln 0.25 - 2.5 ln 1.25).
    """
    old = {"top": (0.0, 1.0), "bottom": (0.0, -1.0), "right": (1.0, 0.0)}
    new = {"top": (0.0, 0.75), "bottom": (0.0, -1.25), "right": (1.0, 0.25)}
    if not fold:
        old["left"], new["left"] = (-1.0, 0.0), (-1.0, 0.25)
    c = 0.25 / (4 * log(2))
    near = c * (2.25 * log(2.25) + 0.25 * log(0.25) - 2.5 * log(1.25))
    carried = landmark_map(old, new, fold=fold)(as_points([(2.0, 0.0), (0.0, 0.0), (0.5, 0.0)]))
    np.testing.assert_allclose(carried, [(2.0, c * (9 * log(9) - 10 * log(5))), (0.0, 0.0), (0.5, near)], atol=1e-12)


def test_the_fold_stays_exactly() -> None:
    """Points on x = 0 stay there bit for bit."""
    on_fold = as_points([(0.0, y) for y in np.linspace(-20, 400, 43)])
    assert np.all(landmark_map(FRONT, BIGGER, fold=True)(on_fold)[:, 0] == 0.0)
    chance = np.random.default_rng(8)
    old = {f"mark {k}": as_point(place) for k, place in enumerate(chance.uniform((10, 0), (250, 400), (15, 2)))}
    new = {name: as_point(np.add(place, chance.uniform(-1.0, 1.0, 2))) for name, place in old.items()}
    assert np.all(landmark_map(old, new, fold=True)(on_fold)[:, 0] == 0.0)


def test_curves_stay_square_to_the_fold() -> None:
    """A short level step off the fold arrives level, to second order in the step."""
    steps = as_points([(0.0, 250.0), (0.01, 250.0)])
    (ax, ay), (bx, by) = landmark_map(FRONT, BIGGER, fold=True)(steps)
    assert abs(np.arctan2(by - ay, bx - ax)) < radians(0.01)


def test_the_back_is_carried_as_the_front_is() -> None:
    """On x <= 0 the map is the mirror image of the map on x >= 0."""
    flip = (-1.0, 1.0)
    back = {name: (-x, y) for name, (x, y) in FRONT.items()}
    bigger = {name: (-x, y) for name, (x, y) in BIGGER.items()}
    carried = landmark_map(back, bigger, fold=True)(as_points(DRAWN * flip))
    np.testing.assert_allclose(carried * flip, landmark_map(FRONT, BIGGER, fold=True)(DRAWN), atol=1e-9)


def test_three_landmarks_give_an_affine_map() -> None:
    """Three pairs fix six numbers: x' = 2x + y, y' = y + 10."""
    old = {"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (0.0, 50.0)}
    new = {"a": (0.0, 10.0), "b": (200.0, 10.0), "c": (50.0, 60.0)}
    carried = landmark_map(old, new, fold=False)(as_points([(30.0, 40.0), (300.0, -70.0)]))
    np.testing.assert_allclose(carried, [(100.0, 50.0), (530.0, -60.0)], atol=1e-9)


def test_two_landmarks_give_a_similarity() -> None:
    """A turn by a right angle and a doubling about the first landmark."""
    old = {"a": (10.0, 10.0), "b": (60.0, 10.0)}
    new = {"a": (10.0, 10.0), "b": (10.0, 110.0)}
    carried = landmark_map(old, new, fold=False)(as_points([(10.0, 30.0), (35.0, 10.0)]))
    np.testing.assert_allclose(carried, [(-30.0, 10.0), (10.0, 60.0)], atol=1e-9)


def test_landmarks_on_one_line_are_met_all_the_same() -> None:
    """Three in line, spread unevenly: each goes to its place, and the line's two ends set the size across.

    In whatever order they are named, what lies as far off the middle of the line as it is long stays where it is.
    """
    along = {"a": (0.0, 0.0), "b": (100.0, 120.0), "c": (200.0, 200.0)}
    beside = as_points([(100.0, 200.0), (100.0, -200.0)])
    for names in permutations(along):
        old, new = ({name: (along[name][k], 0.0) for name in names} for k in (0, 1))
        carry = landmark_map(old, new, fold=False)
        np.testing.assert_allclose(carry(places(old)), places(new), atol=1e-9)
        np.testing.assert_allclose(carry(beside), beside, atol=1e-9)


def test_landmarks_a_hair_off_one_line_are_on_it() -> None:
    """By a hundred-thousandth of a millimetre, which says nothing of what lies across: a doubling, a quarter turn.

    In whatever order they are named, the two ends of the line set the size.
    """
    pairs = {"a": ((0.0, 0.0), (0.0, 0.0)), "b": ((100.0, 1e-5), (1e-5, 200.0)), "c": ((200.0, 0.0), (0.0, 400.0))}
    for names in permutations(pairs):
        old, new = ({name: pairs[name][k] for name in names} for k in (0, 1))
        carried = landmark_map(old, new, fold=False)(as_points([(50.0, 30.0), (150.0, -80.0)]))
        np.testing.assert_allclose(carried, [(-60.0, 100.0), (160.0, 300.0)], atol=1e-2)


def test_one_landmark_gives_a_shift() -> None:
    """All points go along with the one landmark."""
    carried = landmark_map({"a": (10.0, 20.0)}, {"a": (13.0, 16.0)}, fold=False)(DRAWN)
    np.testing.assert_allclose(carried, DRAWN + np.array((3.0, -4.0)), atol=1e-9)


def test_one_landmark_on_the_fold_gives_a_shift_along_it() -> None:
    """The fold stays and everything moves down with the landmark."""
    carried = landmark_map({"a": (0.0, 20.0)}, {"a": (0.0, 16.0)}, fold=True)(DRAWN)
    np.testing.assert_allclose(carried, DRAWN + np.array((0.0, -4.0)), atol=1e-9)


def test_a_map_that_turns_paper_over_is_refused() -> None:
    """Two landmarks that change places would fold the paper between them; the refusal names one of them."""
    swapped = {**FRONT, "bust_point": FRONT["underarm"], "underarm": FRONT["bust_point"]}
    with pytest.raises(Refusal, match=r"near the \w+ ?\w* the paper would fold over itself, so draw it anew"):
        landmark_map(FRONT, swapped, fold=True)


def test_a_mirror_image_is_refused() -> None:
    """A landmark triangle turned over is a fold everywhere."""
    old = {"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (0.0, 50.0)}
    new = {"a": (0.0, 0.0), "b": (-100.0, 0.0), "c": (0.0, 50.0)}
    with pytest.raises(Refusal, match="fold over itself"):
        landmark_map(old, new, fold=False)


def test_a_point_outside_the_landmarks_is_refused_where_it_would_fold() -> None:
    """A map may be sound among its landmarks and turn over beside them: only what is drawn there is refused."""
    old = {"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (100.0, 100.0), "d": (0.0, 100.0), "middle": (50.0, 50.0)}
    new = {"a": (-30.0, 20.0), "b": (130.0, -50.0), "c": (60.0, 110.0), "d": (50.0, 150.0), "middle": (20.0, 10.0)}
    carry = landmark_map(old, new, fold=False)
    np.testing.assert_allclose(carry(places(old)), places(new), atol=1e-9)
    with pytest.raises(Refusal, match="near the d the paper would fold over itself"):
        carry(as_points([(50.0, 50.0), (40.0, 120.0)]))


def test_a_landmark_that_leaves_the_fold_is_refused() -> None:
    """A landmark on the fold must stay on it, one beside it must stay on its side."""
    for name, shown, place in (("neck_pit", "neck pit", (3.0, 335.0)), ("bust_point", "bust point", (-104.0, 150.0))):
        with pytest.raises(Refusal) as refused:
            landmark_map(FRONT, {**BIGGER, name: place}, fold=True)
        assert str(refused.value) == (
            f"The {shown} does not keep its side of the fold from one body to the other, so what was drawn cannot be "
            "carried over: draw it anew on this body."
        )


def test_landmarks_that_share_a_place_are_one() -> None:
    """Two names for one place on both bodies do no harm; parting ways is refused with both names."""
    old = {**FRONT, "bust_line": FRONT["bust_point"]}
    together = {**BIGGER, "bust_line": BIGGER["bust_point"]}
    np.testing.assert_array_equal(
        landmark_map(old, together, fold=True)(DRAWN), landmark_map(FRONT, BIGGER, fold=True)(DRAWN)
    )
    with pytest.raises(Refusal) as refused:
        landmark_map(old, {**BIGGER, "bust_line": (100.0, 160.0)}, fold=True)
    assert str(refused.value) == (
        "The bust point and the bust line lie on one another on the body this was drawn for and apart on this one, so "
        "it cannot be carried over: draw it anew on this body."
    )


def test_points_given_are_not_altered() -> None:
    """The answer is a new read-only array."""
    before = DRAWN.copy()
    carried = landmark_map(FRONT, BIGGER, fold=True)(DRAWN)
    np.testing.assert_array_equal(DRAWN, before)
    assert not carried.flags.writeable


def test_the_stretch_is_the_area_that_a_small_square_gets() -> None:
    """Against the map itself: squares of a thousandth of a millimetre round each place, measured once carried."""
    warp = thin_plate._solved(places(FRONT), places(BIGGER), fold=False)
    here = as_points([(40.0, 230.0), (91.0, 171.0), (91.0, 170.3), (150.0, 190.0), (300.0, -50.0)])
    a, b, c, d = (
        warp.carried(as_points(here + 0.0005 * np.array(off))) for off in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )
    (px, py), (qx, qy) = (c - a).T, (d - b).T
    np.testing.assert_allclose(warp.stretches(here), 0.5 * (px * qy - py * qx) / 0.001**2, rtol=1e-5)


def test_a_landmark_a_hair_off_the_fold_lies_on_it() -> None:
    """Rounding puts it on either side; it has kept its place."""
    old, new = ({**marks, "neck_pit": (off, marks["neck_pit"][1])} for marks, off in ((FRONT, 9e-7), (BIGGER, -9e-7)))
    carried = landmark_map(old, new, fold=True)(DRAWN)
    np.testing.assert_allclose(carried, landmark_map(FRONT, BIGGER, fold=True)(DRAWN), atol=1e-4)


@pytest.mark.parametrize("fold", [False, True])
def test_folds_are_looked_for_all_over_the_landmarks(*, fold: bool) -> None:
    """At places of their hull alone, with the stretch of the fold beside them; none of it is far from one of these."""
    landmarks = as_points([(20.0, 0.0), (120.0, 10.0), (60.0, 90.0)])
    looked_at = thin_plate._places_among(landmarks, fold=fold)
    hull = shapely.MultiPoint(np.vstack((landmarks, landmarks * (0.0, 1.0))) if fold else landmarks).convex_hull
    assert shapely.covers(hull.buffer(1e-9), shapely.points(looked_at)).all()
    left, low, right, high = hull.bounds
    grid = np.stack(np.meshgrid(np.linspace(left, right, 40), np.linspace(low, high, 40)), axis=-1).reshape(-1, 2)
    inside = grid[shapely.contains_xy(hull, grid[:, 0], grid[:, 1])]
    gaps = np.hypot(*(inside[:, None] - looked_at).transpose(2, 0, 1)).min(axis=1)
    assert gaps.max() < np.hypot(right - left, high - low) / 6.0
