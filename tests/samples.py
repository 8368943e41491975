"""Designs by name for tests of what is made from a whole design: checks, finishing, outputs."""

from __future__ import annotations

from functools import cache
from typing import Final

from core.design.design import Design
from core.design.replay import Replay, replay
from tests.core.file.sample_designs import block_design, panel_design
from tests.demo_designs import concert

DESIGNS: Final = {
    "block": block_design,  # open darts, a fold, pieces over several pages
    "panels": panel_design,  # a sheer line through the bust point
    "concert": concert,  # yoke, princess seams, a cup, pieces that fit on one page
}
NAMES: Final = tuple(DESIGNS)


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
