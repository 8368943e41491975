"""A design on another body, and on her own block: all of it follows, or what cannot is named."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest

from core.blocks.own_block import OWN
from core.blocks.own_sheet import read_off
from core.body.body import Body
from core.body.comparison import compared
from core.design.design import Design
from core.design.following import followed
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from core.geometry.polyline import Points
from core.steps.trim import Trim
from tests.core.file.sample_designs import block_design, panel_design
from tests.demo_designs import DEMOS

every_demo = pytest.mark.parametrize("name", DEMOS)


def larger(body: Body) -> Body:
    """A woman two per cent larger all over, of the same slope of shoulder: invented."""
    taken = {id_: v if id_ == "shoulder_slope_deg" else 1.02 * v for id_, v in body.measurements.items()}
    return Body("Somebody larger", body.units, taken)


def outlines(done: Replay) -> dict[str, Points]:
    """The outline of every piece."""
    return {name: piece.loop for name, piece in done.garment.pieces.items()}


@every_demo
def test_there_and_back_gives_the_same_pieces_bit_for_bit(name: str) -> None:
    """Each demo on another body and back, each replay taking over what it can from the one before (design.md 3)."""
    design = DEMOS[name]()
    first = replay(design)
    there = followed(msgspec.structs.replace(design, body=larger(design.body)), first)
    assert there.lost == ()
    back = followed(msgspec.structs.replace(there.design, body=design.body), there.done)
    assert back.design == design
    before, other, after = outlines(first), outlines(there.done), outlines(back.done)
    assert before.keys() == other.keys() == after.keys()
    for piece, loop in before.items():
        assert np.array_equal(loop, after[piece]), piece
    assert any(not np.array_equal(loop, other[piece]) for piece, loop in before.items() if loop.shape)


def test_what_cannot_follow_is_switched_off_and_named() -> None:
    """A trim of a seam that is not there any more, as its cut is off; the rest is done."""
    design = panel_design()
    cut = next(step for step in design.steps if step.id.startswith("cut"))
    lost = design.without_step(cut.id).with_step(Trim("trim-9", "no such seam"))
    fits = followed(lost)
    assert "trim-9" in [refused.step_id for refused in fits.lost]
    assert fits.done.refused is None
    assert "trim-9" in fits.design.off


def own_design() -> Design:
    """A design that begins with a typed block: the drafted one, read off."""
    design = block_design()
    return msgspec.structs.replace(design, method=OWN, own_block=read_off(replay(design).block))


def test_her_own_block_is_kept_in_the_file() -> None:
    """Saved and opened, it is the same design, and its pieces are the same bit for bit."""
    design = own_design()
    again = design_from_bytes(design_to_bytes(design))
    assert again == design
    one, other = outlines(replay(design)), outlines(replay(again))
    assert all(np.array_equal(one[name], other[name]) for name in ("front", "back"))


def test_her_own_block_stays_when_the_body_changes() -> None:
    """It is paper; only a new typing changes it, and then a remembered replay sees that."""
    design = own_design()
    first = replay(design)
    moved = replay(msgspec.structs.replace(design, body=larger(design.body)), first)
    assert np.array_equal(first.block.piece("front").loop, moved.block.piece("front").loop)
    assert design.own_block is not None
    typed = msgspec.structs.replace(design.own_block, bust_radius=60.0)
    circle = replay(msgspec.structs.replace(design, own_block=typed), first).block.piece("front")
    was = first.block.piece("front").line("front.bust_circle").length
    assert circle.line("front.bust_circle").length == pytest.approx(was * 60.0 / 76.0, rel=1e-9)


def test_a_design_without_the_block_it_begins_with_is_refused() -> None:
    """Said with the way out."""
    with pytest.raises(Refusal, match="her own block and holds none: type the block"):
        replay(msgspec.structs.replace(block_design(), method=OWN))


def test_two_bodies_stand_side_by_side() -> None:
    """Both values, the difference with its sign, and what was not taken."""
    before = Body("A", "cm", dict(block_design().body.measurements))
    after = Body("B", "cm", {**before.measurements, "waist": before.measurements["waist"] + 25.0})
    rows = {row.about.id: row for row in compared(before, after)}
    assert rows["waist"].difference == pytest.approx(25.0)
    assert rows["waist"].said("cm")[2] == "+ 2.5 cm"
    assert rows["bust"].said("cm")[2] == "same"
    estimated = next(row for row in rows.values() if row.was_estimated)
    assert estimated.said("cm")[0].endswith("(estimated)")
