"""The contour that the form advises: what it takes off, on every demo, and why it offers none."""

from __future__ import annotations

import msgspec
import pytest

from core.body.body import complete
from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.form.advice import Advice, advice_words, advised, to_take
from core.form.line import BAND, Excess
from core.form.shown import Edge, Fitter, Laid
from core.pieces.seams import chain_length, links, match
from core.steps.cup import Cup
from core.steps.cut import Cut
from core.steps.style_line import StyleLine
from core.steps.take_in import TakeIn
from tests.samples import design, replayed
from tests.samples_stands import demo_stand

AS_PREDICTED = 5.0
"""mm: how near what is left has to come to what was predicted."""


def _laid(name: str, done: Replay, edge: Edge = "close") -> Laid:
    garments = (done.block, *(stage.garment for stage in done.stages))
    return Fitter(demo_stand(name), edge).laid(garments, done.design.ease, done.design.unit)


def _advice(name: str) -> Advice:
    return advised(replayed(name), _laid(name, replayed(name)), "close")


def _without(given: Design, *kinds: type) -> Replay:
    steps = tuple(step for step in given.steps if not isinstance(step, kinds))
    return replay(msgspec.structs.replace(given, steps=steps))


@pytest.mark.parametrize("name", ["concert", "skater", "ball"])
def test_accepting_it_lowers_the_excess_as_predicted(name: str) -> None:
    """Laid on the form again, the line has what was predicted, within the band; no part of it is worse off."""
    advice = _advice(name)
    done = replay(advice.design, replayed(name))
    assert done.refused is None
    before, after = _laid(name, replayed(name)), _laid(name, done)
    assert to_take(before.parts) == pytest.approx(advice.excess)
    assert advice.excess > BAND
    assert abs(advice.left) < BAND
    assert to_take(after.parts) == pytest.approx(advice.left, abs=AS_PREDICTED)
    assert all(abs(part.amount) <= BAND for part in after.parts)


@pytest.mark.parametrize("name", ["concert", "skater", "ball"])
def test_the_sheer_loses_as_much_as_the_main_fabric(name: str) -> None:
    """By the pieces' own edges both sides of the sheer line are shorter by what is taken in, and sew together still."""
    advice = _advice(name)
    (level,) = (level for level in advice.step.levels if level.a)
    done = replay(advice.design, replayed(name))
    seam = done.garment.seam("front.sheer_line")
    lengths = [
        [chain_length(links(garment, spans)) for spans in (seam.a, seam.b)]
        for garment in (replayed(name).garment, done.garment)
    ]
    taken = level.a + level.b
    for was, now in zip(*lengths, strict=True):
        assert now == pytest.approx(was - taken, abs=0.05)
    assert sorted(lengths[1]) == pytest.approx(sorted((advice.after.main, advice.after.sheer)))
    assert abs(match(done.garment, done.garment.seam(advice.step.seam)).difference) < 0.05


def test_what_is_taken_in_ends_at_the_bust_point_and_is_half_a_side() -> None:
    """The demo's princess seam: an even amount at the sheer line, in sixteenths of an inch, nothing at the point."""
    top, point = _advice("concert").step.levels
    assert (top.at, point.at, point.a, point.b) == ("sheer_line", "bust_point", 0.0, 0.0)
    assert top.a == top.b
    assert (top.a + top.b) / 25.4 * 16 == pytest.approx(round((top.a + top.b) / 25.4 * 16))


def test_it_is_said_with_lengths_before_and_after() -> None:
    """The step, both sides of the line then and now, what is left with its band."""
    told = "\n".join(advice_words(_advice("concert"), "in"))
    for words in ("Take in the front princess", "folded out of the piece across", "8 25/32 in, then", "± 8 mm"):
        assert words in told


def test_a_design_without_a_front_line_is_told_to_draw_one() -> None:
    """The stage demo bares the back."""
    with pytest.raises(Refusal, match="no sheer line"):
        advised(replayed("stage"), _laid("stage", replayed("stage")), "close")


def test_an_edge_that_keeps_the_ease_has_nothing_to_take_in() -> None:
    """Four millimetres beyond the ease are within the band; the way to more is told."""
    little = _with_parts(_laid("concert", replayed("concert"), "eased"), (Excess("above the bust", 14.0, 4.0, 200.0),))
    with pytest.raises(Refusal, match=r"4 ± 8 mm, 5/32 in is no more .* An edge that is to lie close"):
        advised(replayed("concert"), little, "eased")


def test_ease_that_was_meant_is_no_excess() -> None:
    """The demo's line keeping the block's ease has less too much than lying close, by that ease."""
    close, eased = (_laid("concert", replayed("concert"), edge) for edge in ("close", "eased"))
    long = sum(part.long for part in close.parts)
    given = replayed("concert").design
    less = long * given.ease.bust / complete(given.body).values["bust"]
    assert sum(p.amount for p in close.parts) - sum(p.amount for p in eased.parts) == pytest.approx(less)


def test_a_line_that_is_not_cut_is_to_be_cut_first() -> None:
    """There is no seam to take in yet."""
    done = _without(design("concert"), Cut, Cup)
    with pytest.raises(Refusal, match="cut the front along the sheer line"):
        advised(done, _laid("concert", done), "close")


def test_a_line_that_no_panel_seam_meets_wants_one_drawn() -> None:
    """Cut along the sheer line alone, the front below it is one panel."""
    given = design("concert")
    sheer = next(step for step in given.steps if isinstance(step, StyleLine) and step.purpose == "sheer")
    cut = next(step for step in given.steps if isinstance(step, Cut))
    alone = msgspec.structs.replace(cut, lines=cut.lines[:1], darts=(), tags=cut.tags[:2])
    steps = (*given.steps[: given.steps.index(sheer) + 1], alone)
    done = replay(msgspec.structs.replace(given, steps=steps))
    with pytest.raises(Refusal, match="No panel seam runs into the sheer line"):
        advised(done, _laid("concert", done), "close")


def test_a_line_over_the_bust_point_has_nothing_to_contour() -> None:
    """There cloth and body agree whatever the dart: the wedge would have no length."""
    with pytest.raises(Refusal, match="no more than a tape can tell"):
        advised(replayed("panels"), _laid("panels", replayed("panels")), "close")


def test_too_much_for_a_wedge_is_capped_and_told() -> None:
    """60 mm too much, 66 from the bust point: no more than 15 degrees are taken in, the rest is left to a tape."""
    laid = _laid("concert", replayed("concert"))
    much = _with_parts(laid, (Excess("above the bust", 60.0, 60.0, 100.0),))
    advice = advised(replayed("concert"), much, "close")
    (top, _) = advice.step.levels
    assert advice.is_capped
    assert 15.0 < top.a + top.b < 18.0
    assert advice.left == pytest.approx(60.0 - top.a - top.b)
    assert "stay tape" in "\n".join(advice_words(advice, "in"))


def _with_parts(laid: Laid, parts: tuple[Excess, ...]) -> Laid:
    """The same line with other amounts."""
    return Laid(laid.cloths, laid.line, laid.sentences, laid.wanted, parts, laid.cloth)


def test_a_line_that_pulls_is_to_be_let_out() -> None:
    """Shorter than she is: nothing is taken in, the way out is told."""
    tight = _with_parts(_laid("concert", replayed("concert")), (Excess("above the bust", -12.0, -12.0, 100.0),))
    with pytest.raises(Refusal, match=r"shorter than she is, 12 ± 8 mm.* Let out"):
        advised(replayed("concert"), tight, "close")


def test_what_lies_in_the_hollow_is_no_panel_seams() -> None:
    """Too much between the busts is not taken in at the princess seam; too little there is made up for."""
    above, between = Excess("above the bust", 9.0, 9.0, 60.0), Excess("between the busts", 18.0, 18.0, 75.0)
    assert to_take((above, between)) == 9.0
    assert to_take((above, Excess("between the busts", -3.0, -3.0, 75.0))) == 6.0


def test_what_stays_in_the_hollow_is_told() -> None:
    """An edge that follows the hollow: what lies there is named, with what takes it in."""
    parts = (Excess("above the bust", 9.0, 9.0, 60.0), Excess("between the busts", 18.0, 18.0, 75.0))
    advice = advised(replayed("concert"), _with_parts(_laid("concert", replayed("concert")), parts), "hollow")
    assert advice.excess == 9.0
    assert "Between the busts 18 ± 8 mm" in "\n".join(advice_words(advice, "mm"))


def test_a_contour_is_a_take_in_step_like_any_other() -> None:
    """It has an id of its own, and the design keeps its other steps as they were."""
    advice = _advice("skater")
    added = [step for step in advice.design.steps if step not in design("skater").steps]
    assert isinstance(added[0], TakeIn)
    assert len({step.id for step in advice.design.steps}) == len(advice.design.steps)
