"""The shipped demo is the one that is written down, whole, and good to cut."""

from __future__ import annotations

import pytest

from core.checks.report import report
from core.design.replay import replay
from core.file.reader import read_design
from core.file.writer import design_to_bytes
from core.pieces.seams import matches
from core.shipped import asset
from tests.demo_designs import DEMOS


@pytest.mark.parametrize("name", DEMOS)
def test_the_shipped_file_is_what_is_written_down(name: str) -> None:
    """`python -m tests.demo_designs` writes it anew."""
    assert asset("demo", name).read_bytes() == design_to_bytes(DEMOS[name]())


@pytest.mark.parametrize("name", DEMOS)
def test_every_seam_of_a_demo_is_exact(name: str) -> None:
    """All steps replay, seams agree within 0.2 mm, every edge is sewn or open on purpose, a cup covers and fits."""
    done = replay(read_design(asset("demo", name)))
    assert done.refused is None
    assert report(done).passes
    assert all(abs(found.difference) <= 0.2 for found in matches(done.garment))


def test_the_concert_bodice_has_what_a_first_demo_needs() -> None:
    """A sheer front, a neckline, a pivoted dart, princess seams, numbered panels and a cup."""
    design = read_design(asset("demo", "concert-bodice.sheer"))
    kinds = {type(step).__name__ for step in design.steps}
    assert {"Pivot", "Neckline", "StyleLine", "Cut", "Cup"} <= kinds
    garment = replay(design).garment
    assert sorted(piece.number for piece in garment.pieces.values()) == [1, 2, 3, 4, 5, 6, 7]
    assert garment.piece("front yoke").fabric == "sheer"
