"""What is said about the left half holds for the right one too, once that is drawn out."""

from __future__ import annotations

import msgspec

from core.design.finishes import Bone, Finishing
from core.design.replay import replay
from core.finishing.finish import finish
from core.steps.unfold import Unfold
from tests.samples import design

LEFT = Bone("side front", "front.side", short=10.0)
RIGHT = Bone("right side front", "right.front.side", short=30.0)


def short_of(bones: tuple[Bone, ...]) -> dict[str, float]:
    """By how much the bone of each piece of the unfolded concert bodice ends short of its edge, in mm."""
    said = msgspec.structs.replace(design("concert"), finishing=Finishing(bones=bones))
    unfolded = said.with_step(Unfold("unfold-9", "centre front"))
    pieces = finish(unfolded, replay(unfolded).garment)
    return {piece.name: mark.start for piece in pieces for mark in piece.marks if mark.kind == "bone"}


def test_a_bone_stands_in_both_halves() -> None:
    """Said once, of the left side front."""
    assert short_of((LEFT,)) == {"side front": 10.0, "right side front": 10.0}


def test_what_is_said_of_the_right_half_itself_stays() -> None:
    """Its own bone ends 30 mm short, in whichever order the two were said."""
    for bones in ((LEFT, RIGHT), (RIGHT, LEFT)):
        assert short_of(bones) == {"side front": 10.0, "right side front": 30.0}
