"""Fittings: what was pinned becomes the steps that take just that out, where it was pinned."""

from __future__ import annotations

import pytest

from core.design.replay import replay
from core.errors import Refusal
from core.geometry.polyline import nearest, point_at
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment
from core.pieces.seams import match
from core.steps.fittings import EdgePinch, FoldPinch, Pinch, SeamPinch, along_seam, corrections, level_near
from core.steps.move_edge import MoveEdge
from core.steps.slash import SlashAndSpread
from core.steps.take_in import Level, TakeIn
from tests.core.laws.sample_steps import done
from tests.demo_designs import concert
from tests.paper_block import garment


def bodice() -> Garment:
    """The demo's bodice."""
    return replay(concert()).garment


def test_a_pinch_at_the_waist_is_taken_off_both_sides() -> None:
    """12 mm pinned at the waist of the paper side seam: 6 mm off each waist edge, to nothing at the armhole."""
    (step,) = corrections(garment(), [SeamPinch("side", "waist", 12.0)])
    assert step == TakeIn(
        "fitting-1", "side", (Level("waist", 6.0, 6.0), Level("armhole", 0.0, 0.0)), "fade", fitting=""
    )
    before, after = garment(), done(garment(), (step,))
    for name in ("front", "back"):
        waists = [
            sum(e.length for e in g.piece(name).edges if e.origin.edge.endswith("waist")) for g in (before, after)
        ]
        assert waists[0] - waists[1] == pytest.approx(6.0, abs=0.05)


def test_pinches_along_one_seam_are_one_step() -> None:
    """10 mm at the waist and 4 mm at the under-bust: one step in the order of the seam, nothing from the bust on."""
    pinches = [
        SeamPinch("side", "under_bust_line", 4.0, note="pulls"),
        SeamPinch("side", "waist", 10.0, note="loose."),
    ]
    (step,) = corrections(bodice(), pinches)
    assert isinstance(step, TakeIn)
    assert step.levels == (Level("waist", 5.0, 5.0), Level("under_bust_line", 2.0, 2.0), Level("bust_line", 0.0, 0.0))
    assert step.fitting == "pulls; loose"
    assert step.sentence(bodice(), "cm").endswith("as pinned at the fitting (pulls; loose).")


def test_what_was_let_out_is_let_out() -> None:
    """Slashed open by 8 mm at the waist: each side gains 4 mm there."""
    (step,) = corrections(garment(), [SeamPinch("side", "waist", -8.0)])
    before, after = garment().piece("back"), done(garment(), (step,)).piece("back")
    assert after.edge("waist").length - before.edge("waist").length == pytest.approx(4.0, abs=0.05)
    assert step.sentence(garment(), "cm").startswith("Let out the side: 0.8 cm at the waist")


def test_a_pinch_near_an_end_is_carried_on_to_it() -> None:
    """20 mm below the armhole a pinch cannot come to nothing over 40 mm: the armhole end is taken in as much."""
    (step,) = corrections(bodice(), [SeamPinch("side", "armhole", 6.0, offset=-20.0)])
    assert isinstance(step, TakeIn)
    assert step.levels[-1] == Level("armhole", 3.0, 3.0)
    assert step.levels[-2] == Level("armhole", 3.0, 3.0, offset=-20.0)
    done(bodice(), (step,))


def test_one_side_can_give_it_all() -> None:
    """All of it off side a; side b stays as it lies."""
    (step,) = corrections(garment(), [SeamPinch("side", "waist", 6.0, side_a=1.0)])
    after = done(garment(), (step,))
    assert after.piece("back").edge("side").length == pytest.approx(
        garment().piece("back").edge("side").length, abs=1e-6
    )
    assert match(after, after.seam("side")).a[0].piece.name == "front"


def test_a_fold_and_an_edge_become_their_steps() -> None:
    """A pinned fold is folded out, a turned-back edge moved inwards; both keep what was said."""
    opens, hinge = Place("back.armhole", "side", share=0.4), Place("back.centre_back", "waist", share=0.5)
    pinches: list[Pinch] = [FoldPinch("back", opens, hinge, 9.0, note="blade"), EdgePinch("back", "neck", 5.0, "high")]
    steps = corrections(garment(), pinches, first=4)
    assert steps == (
        SlashAndSpread("fitting-4", "back", opens, hinge, -9.0, fitting="blade"),
        MoveEdge("fitting-5", "back", "neck", -5.0, fitting="high"),
    )
    folded = done(garment(), steps[:1])
    assert cloth_area(garment().piece("back")) - cloth_area(folded.piece("back")) > 9.0 * 100.0 / 2
    moved = steps[1].apply(garment()).garment.piece("back")
    middle = point_at(moved.edge("neck").points, moved.edge("neck").length / 2)
    assert nearest(garment().piece("back").edge("neck").points, middle)[1] == pytest.approx(5.0, abs=0.05)
    assert steps[1].sentence(garment(), "in").endswith("as pinned at the fitting (high).")


def test_a_place_is_called_by_the_level_it_was_meant_at() -> None:
    """Within 5 mm of a level it is the level; else so far on from the nearer end."""
    found = match(bodice(), bodice().seam("side"))
    assert level_near(found, 2.0) == ("waist", 0.0)
    at, on = level_near(found, 30.0)
    assert at == "waist"
    assert on == pytest.approx(30.0)
    end, offset = level_near(found, found.length_a - 15.0)
    assert end == "armhole"
    assert offset == pytest.approx(-15.0)
    assert along_seam(found, end, offset) == pytest.approx(found.length_a - 15.0)


@pytest.mark.parametrize(
    ("pinch", "words"),
    [
        (SeamPinch("front.sheer_line", "armhole", 5.0), "more than two panels"),
        (SeamPinch("side", "elbow", 5.0), "does not pass the elbow"),
        (SeamPinch("inside leg", "waist", 5.0), "no inside leg seam"),
    ],
)
def test_what_cannot_be_pinned_is_refused(pinch: SeamPinch, words: str) -> None:
    """By the seam's name, with the way out."""
    with pytest.raises(Refusal, match=words):
        corrections(bodice(), [pinch])
