"""Designs drawn by chance: a demo on a figure that is nobody's, its lines pushed about, and acts that follow no plan.

Each goes the whole way: read from its own bytes, all steps, the checks, finishing, pages, PDF. Areas and lengths are
held against shapely.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from functools import cache

import msgspec
from hypothesis import strategies as st
from shapely import LineString, Polygon

from core.body.body import Body
from core.checks.report import report
from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.file.reader import design_from_bytes
from core.file.writer import design_to_bytes
from core.finishing.finish import finish
from core.geometry.polyline import length
from core.outputs.pdf import print_pdf
from core.pieces.records import Garment
from core.steps.catalogue import AnyStep
from core.steps.step import LinePoint
from tests import demo_designs
from tests.core.laws.random_acts import acts

DEMOS = tuple(cache(make) for make in (demo_designs.concert, demo_designs.stage, demo_designs.ice, demo_designs.gala))
PAPERS = ("a4", "letter", "a0")
ENOUGH = 5
"""Steps that a design must have done for its print to count."""


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """A demo on another body, its points moved and some of its last steps left out, and up to three acts more.

    Each act is chosen with the garment in sight as it then lies; once a step is refused no other is added.
    """
    design = DEMOS[draw(st.integers(0, len(DEMOS) - 1))]()
    design = msgspec.structs.replace(design, body=draw(bodies(design)))
    reach = draw(st.sampled_from([0.0, 1.0, 3.0, 8.0, 25.0]))
    steps = [draw(moved(step, reach)) for step in design.steps]
    kept = steps[: len(steps) - draw(st.sampled_from([0, 0, 0, 1, 2]))]
    design = msgspec.structs.replace(design, steps=tuple(kept), paper=draw(st.sampled_from(PAPERS)))
    done = replay(design)
    for _ in range(draw(st.sampled_from([0, 1, 1, 2, 3]))):
        if done.refused is None:
            for step in draw(acts(design, done.garment)):
                design = design.with_step(step)
            done = replay(design, done)
    return design


@st.composite
def bodies(draw: st.DrawFn, design: Design) -> Body:
    """The demo's body grown or shrunk as a whole, and each measurement by a little of its own."""
    whole = draw(st.floats(0.9, 1.15))
    measured = design.body.measurements
    values = {
        id_: value if id_.endswith("_deg") else value * whole * draw(st.floats(0.985, 1.015))
        for id_, value in measured.items()
    }
    return msgspec.structs.replace(design.body, measurements=values)


@st.composite
def moved(draw: st.DrawFn, step: AnyStep, reach: float) -> AnyStep:
    """A step with the points between its ends moved by up to so many mm: an end that misses its edge is refused."""
    points = getattr(step, "points", None)
    if not points or not reach or not isinstance(points[0], LinePoint):
        return step
    shift = st.floats(-reach, reach)
    inner = tuple(msgspec.structs.replace(p, x=p.x + draw(shift), y=p.y + draw(shift)) for p in points[1:-1])
    return msgspec.structs.replace(step, points=(points[0], *inner, points[-1]))


# --------------------------------------------------------------------------------------------------------------
# the whole way


@dataclass(slots=True)
class Ends:
    """How many designs came to print, how many with enough steps, and why the others were refused."""

    printed: int = 0
    with_enough: int = 0
    tried: int = 0
    refusals: Counter[str] = field(default_factory=Counter)

    def take(self, design: Design) -> None:
        """Send a design the whole way; anything but a page or a Refusal is an error of the program."""
        self.tried += 1
        try:
            steps = gone(design)
        except Refusal as refusal:
            self.refusals[sort_of(refusal.sentence)] += 1
        else:
            self.printed += 1
            self.with_enough += steps >= ENOUGH


def gone(design: Design) -> int:
    """The steps of a design that went the whole way to pages. Refusal where one is refused on it."""
    done = replay(design_from_bytes(design_to_bytes(design)))
    hold_geometry(done.garment)
    report(done)
    for stage in done.stages:
        assert stage.step.sentence(stage.before, design.unit).endswith(".")
    hold_cutting_lines(done)
    job = print_pdf(done.design, done, paper=done.design.paper)
    assert job.pdf.startswith(b"%PDF")
    return len(done.stages)


def hold_geometry(garment: Garment) -> None:
    """Outlines are valid by shapely, as large as the program says, and their edges as long."""
    for piece in garment.pieces.values():
        polygon = Polygon(piece.loop)
        assert polygon.is_valid, piece.name
        assert polygon.exterior.is_ccw, piece.name
        total = sum(length(edge.points) for edge in piece.edges)
        assert abs(total - polygon.length) < 1e-6 * max(total, 1.0), piece.name
        assert all(abs(length(edge.points) - LineString(edge.points).length) < 1e-9 * total for edge in piece.edges)


def hold_cutting_lines(done: Replay) -> None:
    """No cutting line crosses itself or takes cloth from its piece; at an open dart the cap may dip into the wedge."""
    for piece in finish(done.design, done.garment):
        cut = Polygon(piece.cutting_line)
        assert cut.is_valid, piece.name
        taken = Polygon(piece.piece.loop).difference(cut).area
        assert taken < 1.0 or piece.piece.darts, piece.name


def sort_of(sentence: str) -> str:
    """The sort of a refusal: its sentence without names and numbers, cut at its first clause."""
    assert sentence.endswith(".")
    assert "\n" not in sentence
    words = re.sub(r"“[^”]*”|\b\d[\d./]*\b", "…", sentence)
    return re.split(r"[;:(]| on piece | of piece ", words)[0][:60]
