"""What follows a change of its own accord: copies their pieces, finishes a piece that is called otherwise."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from core.checks.cutting import cutting_checks
from core.design.design import Design
from core.design.finishes import Bone, Doubled, EdgeFinish, Finishing
from core.design.replay import Replay
from core.design.replay import replay as replayed_anew
from core.design.settling import settled
from core.pieces.records import Garment
from core.steps.copy_pieces import CopyPieces
from core.steps.cut import Cut
from core.steps.move_edge import MoveEdge
from core.steps.unfold import Unfold
from tests.samples import design, replayed

COPY = CopyPieces("copy-1", ("side front", "centre front"))


def after(design_: Design, before: Replay | None = None) -> Replay:
    """A design as it is when it has been committed."""
    return settled(replayed_anew(design_), before or replayed("concert"))


def same_outline(garment: Garment, name: str) -> bool:
    """Whether a lining has its piece's outline to the bit."""
    return np.array_equal(garment.piece(f"lining {name}").loop, garment.piece(name).loop)


@pytest.mark.parametrize(
    "step", [MoveEdge("move-1", "side front", "waist", 6.0), Unfold("unfold-1", "centre front")], ids=str
)
def test_a_lining_follows_its_piece(step: MoveEdge | Unfold) -> None:
    """The waist is moved, or the front unfolded, after both were lined: the lining has it too."""
    lined = after(design("concert").with_step(COPY))
    then = lined.design.with_step(step)
    assert cutting_checks(replayed_anew(then))
    now = after(then, lined)
    assert cutting_checks(now) == ()
    assert now.refused is None
    assert all(same_outline(now.garment, name) for name in COPY.pieces)


def test_the_right_half_of_an_unfolded_piece_is_lined_like_its_left() -> None:
    """A pair was lined as a pair; once it is a left and a right piece, each has a lining of its own outline."""
    lined = after(design("concert").with_step(COPY))
    now = after(lined.design.with_step(Unfold("unfold-1", "centre front")), lined).garment
    assert {"lining side front", "lining right side front", "lining centre front"} <= set(now.pieces)
    assert same_outline(now, "right side front")


def test_a_lining_keeps_its_number_as_it_follows() -> None:
    """A second lining was made after the first; the first has its piece's new waist and its old number."""
    lined = after(design("concert").with_step(COPY).with_step(CopyPieces("copy-2", ("side back",))))
    now = after(lined.design.with_step(MoveEdge("move-1", "side front", "waist", 6.0)), lined)
    names = ("lining side front", "lining centre front", "lining side back")
    numbers = [[done.garment.piece(name).number for name in names] for done in (lined, now)]
    assert numbers[0] == numbers[1]
    assert same_outline(now.garment, "side front")


def test_what_is_done_to_the_lining_itself_is_kept() -> None:
    """A lining that was made 3 mm longer is that much longer still when its piece is made 6 mm longer."""
    own = MoveEdge("move-1", "lining side front", "waist", 3.0)
    lined = replayed_anew(design("concert").with_step(COPY).with_step(own))
    assert lined.refused is None
    now = after(lined.design.with_step(MoveEdge("move-2", "side front", "waist", 6.0)), lined)
    low = [float(now.garment.piece(name).loop[:, 1].min()) for name in ("side front", "lining side front")]
    assert 2.5 < low[0] - low[1] < 3.5
    assert now.design.steps[-1] == own


def test_a_copy_stays_as_it_is_where_its_piece_is_no_more() -> None:
    """The concert front is lined whole and then cut into panels: the lining stays whole, and no step is refused."""
    steps = design("concert").steps
    cut = next(index for index, step in enumerate(steps) if isinstance(step, Cut))
    whole = CopyPieces("copy-1", ("front",))
    made = replace(design("concert"), steps=(*steps[:cut], whole, *steps[cut:]))
    now = after(made)
    assert now.refused is None
    assert now.design is made


def test_finishes_go_with_a_piece_that_is_renamed() -> None:
    """The side front is called "front panel" by its cut: its finish, its bone and its turning go with it."""
    said = Finishing(
        edges=(EdgeFinish("side front", "front.side", use="zip"), EdgeFinish("side back", "back.side", use="zip")),
        doubled=(Doubled("side front", "front.side"),),
        bones=(Bone("side front", "front.side"),),
    )
    before = replayed_anew(replace(design("concert"), finishing=said))
    renamed = replace(before.design, steps=tuple(map(_renamed, before.design.steps)))
    finishing = after(renamed, before).design.finishing
    assert [one.piece for one in finishing.edges] == ["front panel", "side back"]
    assert (finishing.doubled[0].piece, finishing.bones[0].piece) == ("front panel", "front panel")
    assert not any("lost its edge" in one.sentence for one in cutting_checks(after(renamed, before)))


def _renamed(step: object) -> object:
    if not isinstance(step, Cut):
        return step
    tags = tuple(replace(tag, name="front panel") if tag.name == "side front" else tag for tag in step.tags)
    return replace(step, tags=tags)


def test_nothing_is_touched_without_need() -> None:
    """A design whose copies are as they should be is the same record afterwards."""
    made = design("ball")
    assert after(made).design is made
