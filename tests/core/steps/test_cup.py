"""The cup: its seams, rim, match line, layers and refusals."""

from __future__ import annotations

from itertools import pairwise
from math import degrees, radians

import numpy as np
import pytest
from msgspec.structs import replace

from core.blocks.draft import draft
from core.blocks.ease import Ease
from core.body.body import complete
from core.design.replay import replay
from core.errors import Refusal
from core.geometry.placement import angle_between, gap
from core.geometry.planar import is_simple_loop
from core.geometry.polyline import Points, length
from core.pieces.cup_pieces import CROSS_SEAM, MATCH_LINE, TURNING_LINE
from core.pieces.cup_shape import angle_of
from core.pieces.records import Garment, Piece
from core.pieces.seams import match, matches
from core.steps.cup import Cup
from tests.core.laws.sample_steps import garments
from tests.demo_designs import concert
from tests.paper_block import BUST_POINT, front, garment
from tests.samples_bodies import bodies

TWO = Cup("k", (8, 9), turning=0.0)
THREE = Cup("k", (7, 8, 9), parts=3, turning=0.0)


def cups(found: Garment) -> list[Piece]:
    """The pieces of the cup itself."""
    return [piece for piece in found.pieces.values() if piece.block == "cup" and piece.fabric == "cup"]


def sides(piece: Piece) -> list[list[tuple[float, float]]]:
    """A piece's two seam edges, each from the bust point out."""
    found = []
    for edge in (edge for edge in piece.edges if edge.kind == "seam"):
        points = [(float(x), float(y)) for x, y in edge.points]
        found.append(points if gap(points[0], BUST_POINT) < gap(points[-1], BUST_POINT) else points[::-1])
    return found


@pytest.mark.parametrize("step", [TWO, THREE], ids=["two", "three"])
def test_at_the_rim_the_seams_take_out_the_darts_of_the_block(step: Cup) -> None:
    """The pieces' angles there fill the full turn less both darts: 360 - 27 (a cone, Gauss-Bonnet)."""
    found = cups(step.apply(garment()).garment)
    spans = [angle_between(BUST_POINT, *(side[-1] for side in sides(piece))) for piece in found]
    assert sum(degrees(span) % 360 if degrees(span) % 360 < 185 else 360 - degrees(span) % 360 for span in spans) == (
        pytest.approx(333.0, abs=1e-6)
    )


@pytest.mark.parametrize("step", [TWO, THREE], ids=["two", "three"])
def test_at_the_bust_point_nothing_is_taken_out_and_no_seam_has_a_corner(step: Cup) -> None:
    """The pieces' corners there add up to 360 degrees: no point. A half cup and the upper cup run straight through."""
    total = 0.0
    for piece in cups(step.apply(garment()).garment):
        first, last = sides(piece)
        corner = degrees(angle_between(BUST_POINT, first[1], last[1])) % 360
        corner = min(corner, 360 - corner)
        total += corner
        if piece.name in ("inner cup", "outer cup", "upper cup"):
            assert corner == pytest.approx(180.0, abs=1.0)
    assert total == pytest.approx(360.0, abs=1.5)


def test_half_way_to_the_rounding_three_quarters_are_taken_out() -> None:
    """The stated rule 1 - (1 - u)², read back from the pieces: 27 degrees from 40 mm on, 20.25 at 20 mm."""
    found = cups(replace_step(TWO, rounding=40.0).apply(garment()).garment)
    for radius, taken in ((60.0, 27.0), (40.0, 27.0), (20.0, 20.25)):
        cloth = sum(span_at(piece, radius) for piece in found)
        assert 360.0 - cloth == pytest.approx(taken, abs=0.05)


def span_at(piece: Piece, radius: float) -> float:
    """The angle in degrees between both seam edges where they pass a radius, over the piece."""
    ways = []
    for side in sides(piece):
        radii = [gap(p, BUST_POINT) for p in side]
        angles = np.unwrap([np.arctan2(p[1] - BUST_POINT[1], p[0] - BUST_POINT[0]) for p in side[1:]])
        ways.append(float(np.interp(radius, radii[1:], angles)))
    span = degrees(ways[1] - ways[0]) % 360
    return min(span, 360 - span)


def replace_step(step: Cup, **changes: object) -> Cup:
    """The step with other amounts."""
    values = {name: getattr(step, name) for name in step.__struct_fields__} | changes
    return Cup(**values)


def test_a_rounded_seam_is_as_long_as_its_curve() -> None:
    """Against the arc length of the polar curve with half-angle (w/2)(2u - u²), by 20,000 chords, within 0.01 mm."""
    radius, rounding, share = 82.7, 40.0, radians(27.0) / 2
    after = replace_step(TWO, rounding=rounding).apply(garment()).garment
    r = np.linspace(0.0, radius, 20_001)
    slope = np.where(r < rounding, share / 2 * (2 - 2 * r / rounding) / rounding, 0.0)
    exact = float(np.trapezoid(np.sqrt(1.0 + (r * slope) ** 2), r))
    assert length(after.piece("inner cup").edge("upper_seam").points) == pytest.approx(exact, abs=0.01)


@pytest.mark.parametrize("figure", garments())
@pytest.mark.parametrize("parts", [2, 3])
def test_mates_are_equal_on_every_figure(figure: str, parts: int) -> None:
    """Cross seam, vertical seam and the seams of lining and foam, tightened and not: within 0.2 mm (design law)."""
    numbers = (41, 42, 43)[:parts]
    for above, below in ((0.0, 0.0), (9.0, 21.0)):
        step = Cup("k", numbers, parts=parts, tighten_above=above, tighten_below=below, lining=True, foam=True)  # type: ignore[arg-type] # 2 and 3 are the parts there are
        found = [m for m in matches(step.apply(garments()[figure]).garment) if "cup" in m.seam.name]
        assert len(found) == (3 if parts == 2 else 6)
        assert all(abs(m.difference) <= 0.2 and m.a and m.b for m in found)


def first_block(number: int) -> Garment:
    """The block of a woman of the survey, or of the first after her whose block can be drafted."""
    for body in bodies()[number:]:
        try:
            return draft(complete(body), Ease())
        except Refusal:
            continue
    raise AssertionError("no block can be drafted")


@pytest.mark.parametrize("number", range(0, len(bodies()), max(len(bodies()) // 6, 1)))
def test_cups_can_be_drafted_on_women_of_the_survey(number: int) -> None:
    """Two pieces and three: outlines simple, none past the centre front, mates equal within 0.2 mm."""
    start = first_block(number)
    for step in (Cup("k", (8, 9), lining=True), Cup("k", (7, 8, 9), parts=3, foam=True)):
        after = step.apply(start).garment
        assert all(abs(m.difference) <= 0.2 for m in matches(after) if "cup" in m.seam.name)
        assert all(is_simple_loop(piece.loop) for piece in cups(after))
    inner = Cup("k", (8, 9)).apply(start).garment.piece("inner cup")
    assert float(inner.loop[:, 0].min()) >= -0.02


def test_the_under_curve_of_a_three_piece_cup_meets_both_lower_parts() -> None:
    """Side a of the cross seam is the upper part, side b both lower ones, equal part by part (trade.md E)."""
    after = THREE.apply(garment()).garment
    cross = match(after, after.seam(CROSS_SEAM))
    assert [link.piece.name for link in cross.a] == ["upper cup", "upper cup"]
    assert [link.piece.name for link in cross.b] == ["inner lower cup", "outer lower cup"]
    assert [link.edge.length for link in cross.a] == pytest.approx([link.edge.length for link in cross.b])


def test_the_rim_lies_underlap_beyond_the_bust_circle() -> None:
    """The paper block's circle has 70 mm; with 10 mm of underlap the whole rim is 80 mm from the bust point."""
    for step in (replace_step(TWO, underlap=10.0), replace_step(THREE, underlap=10.0)):
        for piece in cups(step.apply(garment()).garment):
            for edge in (edge for edge in piece.edges if edge.kind == "hem"):
                assert all(gap(BUST_POINT, p) == pytest.approx(80.0, abs=0.05) for p in edge.points)


def test_typed_levels_are_measured_from_the_side_neck() -> None:
    """Top at 7 in and bottom at 12 in with 1/2 in more for turning, on one figure (common practice, no source)."""
    level = gap(front().landmarks["side_neck"], BUST_POINT)
    step = Cup("k", (8, 9), top=177.8, bottom=304.8, turning=12.7)
    after = step.apply(garment()).garment.piece("inner cup")
    ends = {name: max(gap(p, BUST_POINT) for p in after.edge(name).points) for name in ("upper_seam", "under_seam")}
    assert ends["upper_seam"] == pytest.approx(level - 177.8)
    assert ends["under_seam"] == pytest.approx(304.8 + 12.7 - level)
    turned = after.line(TURNING_LINE).stretches[0]
    assert min(gap(turned[0], BUST_POINT), gap(turned[-1], BUST_POINT)) == pytest.approx(304.8 - level, abs=0.01)


def test_reaches_are_met_and_the_centre_front_is_not_passed() -> None:
    """A typed outer reach is met; a bust circle wider than half the span is drawn in at the centre front."""
    after = replace_step(TWO, outer=95.0).apply(garment()).garment.piece("outer cup")
    assert max(gap(p, BUST_POINT) for p in after.edge("outer_upper_edge").points) == pytest.approx(95.0, abs=1e-6)
    wide = replace_step(TWO, underlap=45.0).apply(garment()).garment.piece("inner cup")
    assert float(wide.loop[:, 0].min()) >= -0.01
    assert float(wide.loop[:, 0].min()) == pytest.approx(0.0, abs=0.5)


def test_tightening_takes_out_as_much_at_the_rim() -> None:
    """1/2 in above at a radius of 82.7 mm is 8.81 degrees: 2 asin(12.7 / 165.4); the whole intake grows by it."""
    assert degrees(angle_of(12.7, 82.7)) == pytest.approx(8.807, abs=0.001)
    loose, tight = (cups(step.apply(garment()).garment) for step in (TWO, replace_step(TWO, tighten_above=12.7)))
    spans = [sum(span_at(piece, 80.0) for piece in found) for found in (loose, tight)]
    assert spans[0] - spans[1] == pytest.approx(8.807, abs=0.01)


def concert_cup(step: Cup) -> tuple[list[Points], Garment]:
    """The concert demo with another cup, and the stretches of the match line."""
    design = concert().without_step("cup-1").with_step(step)
    after = replay(design)
    assert after.refused is None
    lines = [line for piece in cups(after.garment) for line in piece.lines if line.name == MATCH_LINE]
    return [stretch for line in lines for stretch in line.stretches], after.garment


@pytest.mark.parametrize("step", [Cup("cup-1", (6, 7)), Cup("cup-1", (6, 7, 8), parts=3)], ids=["two", "three"])
def test_the_match_line_is_as_long_as_the_opening(step: Cup) -> None:
    """A cup with no more than the block's darts lies on the block's cone: both are equal where seams are straight."""
    stretches, after = concert_cup(replace_step(step, rounding=30.0))
    plan = replace_step(step, rounding=30.0).plan(after)
    assert plan.cover is not None
    assert sum(map(length, stretches)) == pytest.approx(plan.cover.length, abs=0.05)


def test_the_match_line_runs_on_over_the_cup_seam() -> None:
    """Both stretches meet the seam at the same distance from the bust point."""
    stretches, _ = concert_cup(Cup("cup-1", (6, 7)))
    centre = replay(concert()).block.piece("front").landmarks["bust_point"]
    first, second = stretches
    assert gap(first[-1], centre) == pytest.approx(gap(second[0], centre), abs=1e-6)


def test_the_match_line_follows_the_sheer_line() -> None:
    """At every vertex as far from the bust point as the edge of the opening, also after a pivot and a cut."""
    stretches, after = concert_cup(Cup("cup-1", (6, 7, 8), parts=3))
    centre = replay(concert()).block.piece("front").landmarks["bust_point"]
    edge = after.piece("front yoke").edge("sheer_line").points
    drawn = np.hypot(*(edge - centre).T)
    lying = np.concatenate([np.hypot(*(stretch - centre).T) for stretch in stretches])
    assert lying.min() == pytest.approx(drawn.min(), abs=0.05)


def test_lining_is_the_cup_and_foam_the_cup_without_turning_or_hems() -> None:
    """Foam is cut to its edges: no hem, and 1/2 in less below (edges butted)."""
    after = Cup("k", (8, 9), lining=True, foam=True).apply(garment()).garment
    cup, lining, foam = (after.piece(name) for name in ("inner cup", "lining inner cup", "foam inner cup"))
    assert (lining.loop == cup.loop).all()
    assert (lining.fabric, foam.fabric) == ("lining", "foam")
    under = [max(gap(p, BUST_POINT) for p in piece.edge("under_seam").points) for piece in (cup, foam)]
    assert under[0] - under[1] == pytest.approx(12.7)
    assert {edge.kind for edge in foam.edges} == {"seam", "raw"}
    layers = [piece for piece in after.pieces.values() if piece.block == "cup"]
    assert len({piece.number for piece in layers}) == 6
    assert {piece.cut for piece in layers} == {"pair"}  # left and right are mirror images (trade.md E)


def test_the_rim_is_smooth() -> None:
    """Its direction turns by under 5 degrees from chord to chord, levels and reaches typed or not."""
    step = Cup("k", (8, 9), top=190.0, bottom=300.0, inner=72.0, outer=96.0)
    for piece in cups(step.apply(garment()).garment):
        for edge in (edge for edge in piece.edges if edge.kind != "seam"):
            ways = np.unwrap(np.arctan2(*np.diff(edge.points, axis=0).T[::-1]))
            assert max(abs(b - a) for a, b in pairwise(ways.tolist())) < radians(5.0)


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (Cup("k", (8, 9), top=300.0), "top lies"),
        (Cup("k", (8, 9), bottom=100.0), "bottom lies"),
        (Cup("k", (8, 9), top=300.0, bottom=200.0), "top is under the bottom"),
        (Cup("k", (8, 8)), "two names and numbers"),
        (Cup("k", (8, 9), parts=3), "3 pieces"),
        (Cup("k", (8, 9), underlap=-90.0), "cannot be sewn"),
        (Cup("k", (8, 9), turning=9000.0), "cannot be sewn"),
        (Cup("k", (8, 9), tighten_below=90.0), "tightening below cannot be sewn"),
        (Cup("k", (8, 9), rounding=2.0), "shows a point"),
        (Cup("k", (8, 9), inner=140.0), "before the centre front"),
        (Cup("k", (8, 9), outer=3.0), "outer edge lies 3 mm"),
        (Cup("k", (8, 9), opening="front.sheer_line_9"), "no front sheer line 9"),
        (Cup("k", (8, 9), names=("front", "outer")), "already"),
        (Cup("k", (8, 9), block="back"), "no bust point"),
        (Cup("k", (8, 9), block="skirt"), "no block"),
    ],
)
def test_a_cup_that_cannot_be_is_refused(step: Cup, words: str) -> None:
    """Each refusal gives the level, reach or name that is wrong and what would do."""
    with pytest.raises(Refusal, match=words):
        step.apply(garment())


def test_a_second_cup_is_refused() -> None:
    """Its edges would be taken for those of the first; the way out is to alter that one."""
    with pytest.raises(Refusal, match="alter that one"):
        Cup("k2", (18, 19), names=("other inner", "other outer")).apply(TWO.apply(garment()).garment)


def test_a_block_with_another_number_of_darts_at_the_bust_point_is_refused() -> None:
    """A back that is said to have a bust point has no darts there."""
    start = garment()
    back = start.piece("back")
    marked = replace(back, landmarks={**back.landmarks, "bust_point": BUST_POINT})
    with pytest.raises(Refusal, match="0 darts"):
        Cup("k", (8, 9), block="back").apply(replace(start, blocks={**start.blocks, "back": marked}))
