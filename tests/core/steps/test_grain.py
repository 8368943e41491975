"""Turning the grain, and how edges lie on it."""

from __future__ import annotations

from math import cos, degrees, pi, radians, sin

import pytest
from msgspec.structs import replace

from core.errors import Refusal
from core.fabrics.catalogue import named
from core.fabrics.shelf import default_fabrics
from core.geometry.polyline import as_points
from core.pieces.records import Edge, Garment, Origin
from core.pieces.straight_grain import edge_lie, lie_of, off_straight, stretch_way, turn_between
from core.steps.grain import TurnGrain, grain_way
from core.steps.unfold import Unfold
from tests.core.laws.sample_steps import done, garments, panels, sheer


def cut() -> Garment:
    """The middling figure with a sheer yoke and two main panels."""
    start = garments()["middling"]
    return done(start, (sheer(start), panels(start)))


def edge(*points: tuple[float, float]) -> Edge:
    """An edge through points."""
    return Edge("e", "seam", as_points(points), Origin("front.e", 0.0, 1.0))


@pytest.mark.parametrize(
    ("way", "off"), [(0, 0), (10, 10), (45, 45), (50, 40), (90, 0), (100, 10), (135, 45), (180, 0)]
)
def test_off_straight_is_counted_from_the_nearer_of_warp_and_weft(way: float, off: float) -> None:
    """By hand: a chord at each angle to a grain that stands upright, and to one that leans by 30 degrees."""
    for lean in (0.0, 30.0):
        turn = radians(way + lean)
        points = as_points(((0.0, 0.0), (100.0 * cos(turn), 100.0 * sin(turn))))
        assert off_straight(points, radians(lean)).tolist() == pytest.approx([off], abs=1e-9)


def test_a_curve_is_judged_by_its_ends_and_at_its_worst() -> None:
    """The ends of a quarter circle lie at 45 degrees; 50 of its 90 degrees are more than 20 off warp and weft."""
    arc = edge(*((100 * cos(radians(n)), 100 * sin(radians(n))) for n in range(91)))
    lie = edge_lie(arc, pi / 2)
    assert lie.ends == pytest.approx(45.0)
    assert lie.most == pytest.approx(45.0, abs=0.6)
    assert lie.lie == "bias"
    assert lie.bias == pytest.approx(100 * radians(50.0), abs=2.0)


def test_names_of_lies() -> None:
    """Up to 5 degrees straight, up to 20 off, more is bias (common practice, no source)."""
    assert [lie_of(off) for off in (0.0, 5.0, 5.1, 20.0, 20.1, 45.0)] == [
        "straight", "straight", "off", "off", "bias", "bias",
    ]  # fmt: skip


def test_the_grain_turns_and_nothing_else() -> None:
    """The law: outline, darts and landmarks are the very same records."""
    before = cut().piece("side front")
    start = cut()
    after = TurnGrain("g", "side front", 12.5).apply(start).garment.piece("side front")
    kept = start.piece("side front")
    assert after.edges is kept.edges
    assert after.darts is kept.darts
    assert after.landmarks is kept.landmarks
    assert degrees(after.grain - before.grain) == pytest.approx(12.5)


def test_an_edge_is_laid_with_its_ends_parallel_to_the_selvedge() -> None:
    """Its lie by the ends becomes nothing, by the lesser of the two ways round."""
    step = TurnGrain("g", "side front", edge="sheer_line")
    after = step.apply(cut()).garment.piece("side front")
    assert edge_lie(after.edge("sheer_line"), after.grain).ends == pytest.approx(0.0, abs=1e-9)
    assert abs(step.turn(cut().piece("side front"))) <= pi / 2
    assert "along the grain" in step.sentence(cut(), "in")


def test_a_grain_that_was_laid_along_an_edge_can_be_turned_farther() -> None:
    """5 degrees typed into such a step turn it 5 degrees past the edge, and the sentence says so."""
    laid, farther = (TurnGrain("g", "side front", more, "sheer_line") for more in (0.0, 5.0))
    grains = [step.apply(cut()).garment.piece("side front").grain for step in (laid, farther)]
    assert degrees(grains[1] - grains[0]) == pytest.approx(5.0)
    assert "along the grain, and 5.0 degrees past it" in farther.sentence(cut(), "in")
    assert "past it" not in laid.sentence(cut(), "in")


def test_the_other_half_turns_the_other_way() -> None:
    """Left and right stay mirror images, so that both stretch the same way (trade.md D6)."""
    both = Unfold("u", "side front").apply(cut()).garment
    names = [name for name in both.pieces if name.endswith("side front")]
    assert names == ["side front", "right side front"]
    after = TurnGrain("g", "side front", 20.0).apply(both).garment
    left, right = (after.piece(name).grain for name in names)
    assert (left + right) % pi == pytest.approx(0.0, abs=1e-9) or (left + right) % pi == pytest.approx(pi)


def test_the_way_in_which_net_gives_most_turns_with_its_grain_and_mirrors_on_the_other_half() -> None:
    """Net gives more in its width (trade.md D6): square to the grain; a cloth that gives alike has no such way."""
    net = replace(named(default_fabrics(), "sheer"), stretch_along=20.0, stretch_across=60.0)
    both = TurnGrain("g", "side front", 20.0).apply(Unfold("u", "side front").apply(cut()).garment).garment
    left, right = (stretch_way(both.piece(name), net) for name in ("side front", "right side front"))
    assert left is not None
    assert right is not None
    assert turn_between(left, both.piece("side front").grain + pi / 2) == pytest.approx(0.0, abs=1e-9)
    assert turn_between(left + right, 0.0) == pytest.approx(0.0, abs=1e-9)
    assert stretch_way(both.piece("side front"), replace(net, stretch_along=60.0)) is None


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (TurnGrain("g", "yoke", 10.0), "cut on the fold"),
        (TurnGrain("g", "side front", 120.0), "up to 90"),
        (TurnGrain("g", "side front", edge="hem"), "no edge hem"),
        (TurnGrain("g", "sleeve", 10.0), "no piece sleeve"),
    ],
)
def test_what_cannot_be_turned_is_refused(step: TurnGrain, words: str) -> None:
    """A fold off the grain would twist the cloth; the way out is to unfold it."""
    with pytest.raises(Refusal, match=words):
        step.apply(cut())


def test_a_piece_on_the_fold_may_lie_across_it() -> None:
    """A right angle lays the fold on the weft, as for a yoke cut crosswise."""
    after = TurnGrain("g", "yoke", 90.0).apply(cut()).garment.piece("yoke")
    assert after.grain % pi == pytest.approx(0.0, abs=1e-9)
    assert grain_way(after.grain) == pytest.approx((1.0, 0.0))
