"""Designs to save, open and cut: invented commissions on the invented figures of the step samples."""

from __future__ import annotations

from core.blocks.draft import draft
from core.body.body import complete, entered
from core.design.design import Design
from core.pieces.records import Garment
from core.steps.catalogue import AnyStep
from core.steps.trim import Trim
from tests.core.laws.sample_steps import FIGURES, panels, sheer


def block_design(figure: str = "middling") -> Design:
    """A design of nothing but its block. The date is fixed, so that equal designs give equal bytes."""
    return Design("Garden party", entered("A. Figure", "cm", FIGURES[figure]), date="2026-03-02", unit="cm")


def block_of(design: Design) -> Garment:
    """The block that a design is drafted with."""
    return draft(complete(design.body), design.ease, design.method)


def with_steps(*steps: AnyStep, figure: str = "middling") -> Design:
    """A design with steps."""
    design = block_design(figure)
    for step in steps:
        design = design.with_step(step)
    return design


def panel_design(figure: str = "middling") -> Design:
    """A sheer line through the bust point, cut into a yoke and two panels, and the side seam trimmed to match."""
    garment = block_of(block_design(figure))
    return with_steps(sheer(garment), panels(garment), Trim("trim-1", "side"), figure=figure)
