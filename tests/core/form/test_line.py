"""A line laid on the form, where the answer can be worked out by hand, and on the demos."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from core.form.cloth import Cloth, Ways, cloth_on
from core.form.landmarks import Body, Landmark
from core.form.line import BAND, FAR_BAND, Excess, banded, excess_of, excesses, line_on
from core.form.picture import ACROSS, UPWARDS, filled
from core.form.rays import Rays
from core.form.shown import Fitter, cell_areas
from core.form.surface import surface_through
from core.form.words import _part
from core.geometry.polyline import point_at
from core.pieces.cone import Cone, Values
from core.pieces.records import Garment
from core.steps.mapping import landmarks_of
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from tests.samples import replayed
from tests.samples_stands import demo_stand

HALF_APEX = np.radians(60.0)
WHOLE = 2.0 * np.pi * np.sin(HALF_APEX)
"""The cloth (radians) of a cone of 60 degrees half apex angle."""


def _cone_rays() -> Rays:
    """Rays on a round cone with its apex at the bust point: the generators, at equal directions."""
    phi, r = np.linspace(0.0, 2 * np.pi, 2881)[:-1], np.linspace(0.0, 120.0, 61)
    out = r[None, :] * np.sin(HALF_APEX) + 0.0 * phi[:, None]
    places = np.stack((out * np.cos(phi[:, None]), out * np.sin(phi[:, None]), r * np.cos(HALF_APEX) + 0 * out), axis=2)
    return Rays(phi, r, 0 * out, 0 * out, places)


def _on_cone(radii: Values, psi: Values) -> tuple[Values, Values]:
    """Lengths along a line of the flat cloth, and its places on the cone that the cloth matches."""
    flat = np.column_stack((radii * np.cos(psi), radii * np.sin(psi)))
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(flat, axis=0), axis=1))))
    _, _, places = _cone_rays().at(psi / WHOLE * 2 * np.pi, radii)
    return along, places


@pytest.mark.parametrize("swing", [0.0, 12.0, 30.0])
def test_cloth_that_matches_its_cone_has_no_excess(swing: float) -> None:
    """Whatever line is drawn on it: cone and flat cloth are isometric."""
    psi = np.linspace(0.3, 3.0, 1500)
    along, places = _on_cone(70.0 + swing * np.sin(5.0 * psi), psi)
    assert excess_of(along, places).sum() == pytest.approx(0.0, abs=0.05)


def test_ease_laid_on_the_rim_reads_as_itself() -> None:
    """Seven millimetres added evenly to the cloth of a rim are seven millimetres of excess."""
    psi = np.linspace(0.3, 3.0, 1500)
    along, places = _on_cone(np.full(1500, 80.0), psi)
    eased = along * (1.0 + 7.0 / along[-1])
    assert excess_of(eased, places).sum() == pytest.approx(7.0, abs=0.05)


def _on_matching_cone(spare: float) -> Cloth:
    """A cloth of so many radians more than the cone of 60 degrees that it is laid on, spread evenly round."""
    half = (WHOLE + spare) / 2.0
    ways = Ways(np.array([-half, half]), np.array([-np.pi, np.pi]))
    form = demo_stand("concert").body.form
    body = Body(form, demo_stand("concert").skin, _cone_rays())
    return Cloth(body, Cone((0.0, 0.0), 0.0, -half, half), (), ways, ways)


def _excess_on(cloth: Cloth, radii: Values, closed: Values) -> float:
    flat = np.column_stack((radii * np.cos(closed), radii * np.sin(closed)))
    along = np.concatenate(([0.0], np.cumsum(np.linalg.norm(np.diff(flat, axis=0), axis=1))))
    return float(excess_of(along, cloth.laid(radii, closed)[2]).sum())


@pytest.mark.parametrize("seed", range(4))
def test_a_block_that_matches_has_no_excess_for_any_line(seed: int) -> None:
    """Drawn at random between 30 and 110 mm from the point, through the block's own map: cone on cone is nothing."""
    knots = np.random.default_rng(seed).uniform(30.0, 110.0, 6)
    closed = np.linspace(-1.8, 1.9, 1500)
    radii = np.interp(closed, np.linspace(-1.8, 1.9, 6), knots)
    assert _excess_on(_on_matching_cone(0.0), radii, closed) == pytest.approx(0.0, abs=0.15)


@pytest.mark.parametrize("r", [40.0, 70.0, 100.0])
def test_cloth_to_spare_is_read_at_every_distance(r: float) -> None:
    """Eight degrees more cloth than the cone has: half round at r, that is r times half of it (form.md F7)."""
    spare = np.radians(8.0)
    closed = np.linspace(-(WHOLE + spare) / 4.0, (WHOLE + spare) / 4.0, 1500)
    read = _excess_on(_on_matching_cone(spare), np.full(1500, r), closed)
    assert read == pytest.approx(r * spare / 2.0, abs=0.05)


@pytest.mark.parametrize("into", ["front.waist_dart", "front.shoulder_dart"])
def test_turning_a_dart_changes_no_number(into: str) -> None:
    """A line drawn on the block, then a dart turned about the bust point: on her it lies and fits as it did."""
    block = replayed("block").block
    where, other = block.piece("front").landmarks["bust_point"], {"front.waist_dart", "front.shoulder_dart"} - {into}
    shoulder = block.piece("front").edge("shoulder.2")
    end = point_at(shoulder.points, shoulder.length / 2)
    middle = ((where[0] - 60, where[1] + 60), (where[0] - 30, where[1] + 80))
    points = tuple(LinePoint(float(x), float(y)) for x, y in ((0.0, where[1] + 50), *middle, end))
    drawn = StyleLine("line", "front", "front.sheer_line", points, landmarks_of(block.piece("front")))
    before = drawn.apply(block).garment
    after = Pivot("turn", "front", other.pop(), into=into).apply(before).garment
    lines = [line_on(cloth_on(demo_stand("block").body, garment), (garment,)) for garment in (before, after)]
    assert lines[0] is not None
    assert lines[1] is not None
    assert lines[1].places == pytest.approx(lines[0].places, abs=0.05)
    assert lines[1].excess.sum() == pytest.approx(lines[0].excess.sum(), abs=0.05)


def test_stand_off_of_a_known_excess() -> None:
    """Chord 100, excess 5 and 10: 13.7 and 19.4 mm, by the arc's series s = c + 8 h² / 3 c."""
    assert Excess("above the bust", 9.0, 5.0, 100.0).stands_off == pytest.approx(13.69, abs=0.01)
    assert Excess("above the bust", 9.0, 10.0, 100.0).stands_off == pytest.approx(19.36, abs=0.01)
    assert Excess("above the bust", 0.0, -4.0, 100.0).stands_off == 0.0


def test_an_excess_is_said_with_its_band() -> None:
    """In millimetres with the band, and in inches where she works in them."""
    assert banded(18.0, "in") == "18 ± 8 mm, 23/32 in"
    assert banded(18.0, "cm") == "18 ± 8 mm"
    assert banded(-0.3, "cm") == "0 ± 8 mm"
    assert banded(-0.6, "in") == "-1 ± 8 mm, -1/32 in"
    assert banded(-0.45, "in") == "0 ± 8 mm, 0 in"


def test_less_is_known_far_from_the_bust_point() -> None:
    """A part that lies farther than 90 mm off on the whole has the wider band, and says it."""
    cloth = cloth_on(demo_stand("concert").body, replayed("concert").garment)
    line = line_on(cloth, _garments("concert"))
    assert line is not None
    near, far = (excesses(cloth, replace(line, radii=np.full(len(line.radii), r)), 0.0)[0] for r in (80.0, 100.0))
    assert (near.band, far.band) == (BAND, FAR_BAND)
    assert f"± {FAR_BAND:.0f} mm" in _part(far, 0.0, "mm")


def _garments(name: str) -> tuple[Garment, ...]:
    done = replayed(name)
    return (done.block, *(stage.garment for stage in done.stages))


@pytest.mark.parametrize("name", ["concert"])
def test_the_line_lies_as_far_from_the_bust_point_as_on_the_block(name: str) -> None:
    """Along rays cloth and body agree, so the nearest distance on the form is the flat one."""
    cloth = cloth_on(demo_stand(name).body, replayed(name).garment)
    line = line_on(cloth, _garments(name))
    assert line is not None
    straight = np.linalg.norm(line.places - demo_stand(name).bust_point, axis=1)
    assert (straight <= line.radii + 0.5).all()
    assert straight.min() > 0.85 * line.radii.min()


def test_block_and_body_agree_at_the_pit_and_the_centre() -> None:
    """The tape drafted both: from the bust point, pit and centre front are as far on the block as on the form."""
    cloth = cloth_on(demo_stand("concert").body, replayed("concert").garment)
    marks = {mark.name: mark for mark in cloth.landmarks}
    for name in ("neck_pit", "bust_line"):
        assert marks[name].on_body == pytest.approx(marks[name].on_block, abs=6.0)


def test_nothing_is_quoted_near_the_armhole() -> None:
    """The end of the demo's line at the armhole is not judged, its end at the centre front is."""
    line = line_on(cloth_on(demo_stand("concert").body, replayed("concert").garment), _garments("concert"))
    assert line is not None
    at_centre = int(np.argmin(np.abs(line.t)))
    assert line.is_quoted[at_centre]
    assert not line.is_quoted[len(line.t) - 1 - at_centre]


def test_what_is_said_of_the_demo() -> None:
    """Distance, share, depth, and sums with bands."""
    laid = Fitter(demo_stand("concert")).laid(_garments("concert"), replayed("concert").design.ease, "mm")
    told = "\n".join(laid.sentences)
    for words in ("66 mm of the bust point", "which is covered", "of the breast", "pit of the neck", "± 5 mm"):
        assert words.lower() in told.lower()


def test_contouring_is_advised_only_where_the_whole_line_has_too_much() -> None:
    """Twelve too many in one part: contour, unless another part has twelve too few; so for a pull."""
    much = Excess("towards the armhole", 20.0, 12.0, 60.0)
    assert "so contour it there" in _part(much, 14.0, "mm")
    assert "eased along" in _part(much, 0.0, "mm")
    tight = Excess("above the bust", -9.0, -17.0, 60.0)
    assert "pull tight" in _part(tight, -14.0, "mm")
    assert "eased along" in _part(tight, 0.0, "mm")


def _taken_in(by: float) -> tuple[Garment, ...]:
    """The demo with its princess seam taken in at the sheer line, half a side, and eased across."""
    done = replayed("concert")
    levels = (Level("sheer_line", by / 2, by / 2), Level("bust_point", 0.0, 0.0))
    step = TakeIn("take-in-1", "front.princess", levels, across="ease")
    return (*_garments("concert"), step.apply(done.garment).garment)


def test_taking_a_seam_in_draws_the_line_together_and_leaves_her_as_she_is() -> None:
    """Nine millimetres taken in are nine less of cloth at the seam, on the same places of the body."""
    cloth = cloth_on(demo_stand("concert").body, replayed("concert").garment)
    before, after = line_on(cloth, _garments("concert")), line_on(cloth, _taken_in(9.0))
    assert before is not None
    assert after is not None
    assert (after.places == before.places).all()
    less = before.along - after.along
    assert less[-1] == pytest.approx(9.0, abs=0.05)
    seam = replayed("concert").garment.piece("centre front").edge("sheer_line").length
    assert np.interp([seam - 31.0, seam, seam + 31.0], before.along, less) == pytest.approx([0.0, 4.5, 9.0], abs=0.1)
    assert after.excess.sum() == pytest.approx(before.excess.sum() - 9.0, abs=0.05)


def test_a_block_without_a_line_says_what_to_do() -> None:
    """No line, no numbers."""
    done = replayed("concert")
    laid = Fitter(demo_stand("concert")).laid((done.block,), done.design.ease, "in")
    assert laid.line is None
    assert "Draw a sheer line" in laid.sentences[0]


def test_area_of_cells_and_filled_loops_on_a_cylinder() -> None:
    """A rectangle in t and z on a round cylinder: its area is R times the angle times the height."""
    t, z = np.linspace(0.0, np.pi, 61), np.linspace(0.0, 400.0, 81)
    surface = surface_through(t, z, (120 * np.sin(t)[:, None] + 0 * z, 120 * np.cos(t)[:, None] + 0 * z))
    inside = filled(np.array([0.2, 1.4, 1.4, 0.2]), np.array([100.0, 100.0, 250.0, 250.0]), surface)
    assert inside.shape == (ACROSS, UPWARDS)
    assert cell_areas(surface)[inside].sum() == pytest.approx(120.0 * 1.2 * 150.0, rel=0.005)


def test_sums_leave_out_what_is_not_quoted() -> None:
    """The lengths of the parts add up to the quoted part of the line, or less where a part is too short to say."""
    cloth = cloth_on(demo_stand("concert").body, replayed("concert").garment)
    line = line_on(cloth, _garments("concert"))
    assert line is not None
    quoted = np.diff(line.along)[line.is_quoted[1:] & line.is_quoted[:-1]].sum()
    assert sum(part.long for part in excesses(cloth, line, 0.0)) == pytest.approx(quoted, abs=30.0)


def test_the_cloth_keeps_the_darts_of_the_block_to_itself() -> None:
    """From its lower dart once round to it again the map runs through the whole body and through all the cloth."""
    cloth: Cloth = cloth_on(demo_stand("concert").body, replayed("concert").garment)
    for ways in (cloth.near, cloth.far):
        assert ways.closed[-1] - ways.closed[0] == pytest.approx(cloth.cone.cloth)
        assert ways.phi[-1] - ways.phi[0] == pytest.approx(2 * np.pi)
    assert isinstance(cloth.cone, Cone)
    assert all(isinstance(mark, Landmark) for mark in cloth.landmarks)


def test_a_body_reaches_every_landmark() -> None:
    """The rays of a body come within 8 mm of its side neck point."""
    body: Body = demo_stand("concert").body
    form = body.form
    place = body.surface.places(np.array([np.pi / 2]), np.array([form.figure.unknowns.side_neck_height]))[0]
    assert body.rays.direction_of(place)[2] < 8.0
