"""Seams that turn sharply in a panel are named when they are cut, with what a cutter does about it."""

from __future__ import annotations

import pytest

from core.pieces.seams import match
from core.steps.cut import Cut
from core.steps.cut_points import points_to_round
from core.steps.true import SmoothJoint, Truing
from tests.samples import replayed


def advice(name: str) -> dict[str, str]:
    """What the cuts of a sample advise, by the panel that they name."""
    done = replayed(name)
    return {
        note.piece: note.sentence
        for stage in done.stages
        if isinstance(stage.step, Cut)
        for note in stage.notes
        if note.kind == "advice"
    }


def test_a_princess_that_turns_at_the_bust_point_is_to_be_rounded() -> None:
    """Two darts joined through the bust point, and on the back through the blade, leave a point (trade.md C5)."""
    said = advice("concert")
    assert set(said) == {"side front", "side back"}
    assert "at the bust point on side front, and pokes there: round it by truing" in said["side front"]
    assert "at the shoulder blade on side back" in said["side back"]


def test_rounded_as_advised_it_pokes_no_more_and_still_fits_its_mate() -> None:
    """Over 20 mm either way: the sides then differ by less than 0.8 mm, which is good (trade.md D3)."""
    garment = replayed("concert").garment
    seam = garment.seam("front.princess")
    panels = [garment.piece(name) for name in ("centre front", "side front")]
    (note,) = points_to_round(panels, [seam])
    assert note.piece == "side front"
    step = Truing("true-1", "side front", SmoothJoint(("princess", "waist_dart"), 20.0, through=True))
    rounded = step.apply(garment).garment
    assert not list(points_to_round([rounded.piece(panel.name) for panel in panels], [seam]))
    assert match(rounded, seam).difference == pytest.approx(0.0, abs=0.8)


def test_a_seam_without_a_point_is_not_mentioned() -> None:
    """The sheer line runs on from panel to panel and turns at no joint; its corners with other seams are meant."""
    garment = replayed("concert").garment
    assert not list(points_to_round(list(garment.pieces.values()), [garment.seam("front.sheer_line")]))
