"""Sessions for the panels: an invented figure with a sheer line and the panels cut along it, and the shipped demo."""

from __future__ import annotations

from functools import cache

from app.session import Session
from core.body.body import entered
from core.design.design import Design
from core.design.replay import replay
from tests.core.laws.sample_steps import FIGURES, panels, sheer
from tests.demo_designs import concert


def block_session(figure: str = "middling") -> Session:
    """A block with no step yet, in centimetres."""
    return Session(Design(figure, entered(figure, "cm", FIGURES[figure]), unit="cm"))


def panels_session() -> Session:
    """A block cut along a sheer line, the waist dart in the princess seam."""
    design = block_session().design
    design = design.with_step(sheer(replay(design).garment))
    return Session(design.with_step(panels(replay(design).garment)))


def demo_session() -> Session:
    """The concert bodice, in inches."""
    return Session(_concert())


_concert = cache(concert)
