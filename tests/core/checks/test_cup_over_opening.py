"""The cup over the opening: cover, match line, depth."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from core.body.body import complete, entered
from core.checks.bust_depth import BAND, bust_depth, cone_intake, wanted_intake
from core.checks.cup_over_opening import CupCheck, cup_checks, cup_headline, cup_words
from core.design.replay import replay
from core.pieces.places import Place
from core.steps.cup import Cup
from core.steps.cut import Cut, Tag
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.take_in import Level, TakeIn
from tests.demo_designs import concert


def check(**changes: object) -> CupCheck:
    """The check of the concert demo's cup, altered."""
    design = concert()
    cup = next(step for step in design.steps if isinstance(step, Cup))
    done = replay(design.with_step(replace(cup, **changes)))
    assert done.refused is None
    return cup_checks(done)[0]


@pytest.mark.parametrize(("share", "degrees"), [(0.3, 51.3), (0.4, 78.9), (0.5, 105.4)])
def test_a_cone_takes_out_what_the_trade_page_says(share: float, degrees: float) -> None:
    """Angle deficit of a cone by its depth in shares of its base, to the tenth it is given in (trade.md E)."""
    assert cone_intake(share * 140.0, 140.0) == pytest.approx(degrees, abs=0.05)


@pytest.mark.parametrize(("share", "arc", "is_within"), [(0.3, 1.225, True), (0.4, 1.383, False), (0.5, 1.571, False)])
def test_a_round_bust_wants_more_than_the_cone_of_its_depth(share: float, arc: float, is_within: bool) -> None:
    """How far the arcs over the apex of trade.md E, which are those of round caps, go with a cup cut on a cone.

    A cap whose arc is 1.225 of its base wants 360 (1 - 1 / 1.225) = 66 degrees gone at its foot, the cone of its depth
    51: within the band that is said, and deeper caps are not. E's arcs and volumes themselves are not asked of a
    drafted cup: on a cone the way over the apex is the base by 1 / (1 - intake / 360), at any depth less than the
    cap's, and the cup's rim is no circle. What its seams give by being rounded over the point, the toile shows.
    """
    more = 360.0 * (1.0 - 1.0 / arc) - cone_intake(share * 140.0, 140.0)
    assert more > 0.0
    assert (more <= BAND) == is_within


@pytest.mark.parametrize(("share", "degrees"), [(0.15, 15), (0.2, 26), (0.25, 38), (0.3, 51)])
def test_shallow_cones_too(share: float, degrees: float) -> None:
    """The design page's table of cone depths, in whole degrees (design.md 7)."""
    assert round(cone_intake(share * 160.0, 160.0)) == degrees


@pytest.mark.parametrize(
    ("under", "high", "bust", "wanted"),
    [(31, 34, 34.5, 29), (31, 34, 35, 40), (31, 34.5, 36, 54), (30, 34, 36, 67), (30, 34, 38, 91)],
)
def test_the_estimate_agrees_with_the_solved_form(under: float, high: float, bust: float, wanted: float) -> None:
    """Five figures whose whole form was solved: the angle wanted at 100 mm, bridged (form.md 4), within the band."""
    tape = {
        "bust": bust, "high_bust": high, "under_bust": under, "bust_span": 7.0, "waist": 28.0, "shoulder": 4.9,
        "neck_to_bust_point": 10.5, "front_waist_length": 17.25, "back_waist_length": 16.0,
    }  # fmt: skip
    assert wanted_intake(complete(entered("figure", "in", tape))) == pytest.approx(wanted, abs=BAND)


def test_a_bust_that_reads_no_more_than_the_chest_has_no_depth() -> None:
    """The survey has women whose bust girth is under their high bust (trade.md C3): no depth, no angle, no failure."""
    tape = {
        "bust": 71.0, "high_bust": 80.0, "under_bust": 70.0, "bust_span": 12.8, "waist": 60.0, "shoulder": 11.5,
        "neck_to_bust_point": 23.0, "front_waist_length": 38.0, "back_waist_length": 34.0,
    }  # fmt: skip
    measured = complete(entered("figure", "cm", tape))
    assert bust_depth(measured) == 0.0
    assert wanted_intake(measured) == 0.0


def test_the_demo_cup_covers_and_fits() -> None:
    """Its match line is the opening within 3 mm and nothing bare is left out."""
    found = check()
    assert found.match is not None
    assert abs(found.difference) <= 3.0
    assert found.short == ()
    assert found.verdict == "good"


def test_a_cup_that_is_too_small_falls_short_where_it_is_small() -> None:
    """An outer reach of 60 mm inside a bust circle of some 80 is short above towards the side, by less than 33 mm."""
    found = check(outer=60.0)
    assert [short.where for short in found.short] == ["above towards the side"]
    assert 3.0 < found.short[0].most < 33.0
    assert found.verdict == "wrong"
    assert "falls short" in cup_headline(found, "in")


def test_little_underlap_is_to_be_looked_at() -> None:
    """Less than 10 mm (common practice, trade.md E)."""
    assert check(underlap=6.0).cover == "check"
    assert check(underlap=12.0).cover == "exact"


def test_taking_the_opening_in_is_seen_and_tightening_the_cup_answers_it() -> None:
    """9 mm off the opening leave the match line 9 mm too long; as much off the cup at that radius makes them fit."""
    design = concert()
    levels = (Level("sheer_line", 4.5, 4.5), Level("bust_point", 0.0, 0.0))
    design = design.with_step(TakeIn("take-in-1", "front.princess", levels))
    loose = cup_checks(replay(design))[0]
    before = check()
    assert loose.difference - before.difference == pytest.approx(9.0, abs=0.5)
    assert (loose.fit, loose.verdict) == ("wrong", "wrong")
    assert "tighten the cup above" in cup_headline(loose, "in")
    cup = next(step for step in design.steps if isinstance(step, Cup))
    tight = replace(cup, tighten_above=cup.tighten_above + 9.0 * 94.0 / 66.0)
    assert cup_checks(replay(design.with_step(tight)))[0].fit != "wrong"


def test_a_cup_flatter_than_the_bust_is_to_be_looked_at() -> None:
    """Loosened to the block's darts alone on a fuller bust, the sentence says to tighten it, and that it estimates."""
    design = concert()
    fuller = replace(design.body, measurements={**design.body.measurements, "under_bust": 700.0, "high_bust": 850.0})
    found = cup_checks(replay(replace(design, body=fuller)))[0]
    assert found.wanted > found.intake + BAND
    assert found.depth == "check"
    assert "tighten it, by" in cup_words(found, "in")


def test_tightened_by_as_much_as_is_said_a_flat_cup_is_as_deep_as_the_bust() -> None:
    """What is amiss at the rim, taken out below, brings the intake to the estimate within a degree."""
    design = concert()
    fuller = replace(design.body, measurements={**design.body.measurements, "under_bust": 765.0, "high_bust": 880.0})
    design = replace(design, body=fuller)
    cup = next(step for step in design.steps if isinstance(step, Cup))
    flat = cup_checks(replay(design))[0]
    deep = cup_checks(replay(design.with_step(replace(cup, tighten_below=flat.amiss))))[0]
    assert flat.depth == "check"
    assert deep.intake == pytest.approx(deep.wanted, abs=1.0)


@pytest.mark.parametrize("parts", [2, 3])
def test_an_opening_under_the_bust_is_read_on_the_piece_that_holds_the_dart_or_was_closed(parts: int) -> None:
    """A line 45 mm under the bust point, drawn across the folded waist dart: cut or only drawn, it is as long."""
    whole = concert()
    start = replace(whole, steps=whole.steps[:2])
    piece = replay(start).garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    places = (0.0, y - 45.0), (x, y - 45.0)
    points = (*(LinePoint(*at) for at in places), LinePoint(x, y, place=Place("front.armhole", "side", share=0.1)))
    line = StyleLine("s", "front", "front.sheer_line", points, landmarks_of(piece), folded=("front.waist_dart",))
    tags = (Tag(0.5 * x, y + 120.0, "yoke", 1, "sheer"), Tag(0.4 * x, 0.4 * y, "lower front", 2))
    drawn = start.with_step(line)
    cut = drawn.with_step(Cut("c", "front", ("front.sheer_line",), tags, line.drawn_on))
    found = []
    for design in (drawn, cut):
        cup = Cup("k", (6, 7, 8)[:parts], parts=parts)  # type: ignore[arg-type] # 2 and 3 are the parts there are
        done = replay(design.with_step(cup))
        assert done.refused is None
        found.append(cup_checks(done)[0])
    assert found[0].opening == pytest.approx(found[1].opening, abs=0.1)
    assert all(abs(each.difference) <= 3.0 for each in found)
    assert (found[0].bares, found[1].bares) == (False, True)


def test_without_a_sheer_line_over_it_there_is_nothing_to_match() -> None:
    """A cup below the line bares nothing to compare."""
    design = concert()
    steps = tuple(step for step in design.steps if isinstance(step, Cup))
    found = cup_checks(replay(replace(design, steps=steps)))[0]
    assert (found.match, found.opening, found.bares) == (None, None, False)
    assert "nothing to match" in cup_words(found, "in")
