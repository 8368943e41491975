"""Designs by name for tests of what is made from a whole design: checks, finishing, outputs."""

from __future__ import annotations

from functools import cache
from typing import Final

from core.design.design import Design
from core.design.replay import Replay, replay
from tests.core.file.sample_designs import block_design, panel_design
from tests.demo_designs import concert, gala, ice, stage

DESIGNS: Final = {
    "block": block_design,  # open darts, a fold, pieces over several pages
    "panels": panel_design,  # a sheer line through the bust point
    "concert": concert,  # yoke, princess seams, a cup, pieces that fit on one page
    "ball": gala,  # lined, its edges finished, a yoke that is turned
    "stage": stage,
    "skater": ice,
}
NAMES: Final = ("block", "panels", "concert")
EVERY_NAME: Final = tuple(DESIGNS)
"""For the laws that every shipped design must keep; the rest is tried on `NAMES`, as it takes long."""


@cache
def design(name: str) -> Design:
    """The design of that name."""
    return DESIGNS[name]()


@cache
def replayed(name: str) -> Replay:
    """Its replay, nothing refused."""
    done = replay(design(name))
    assert done.refused is None
    return done
