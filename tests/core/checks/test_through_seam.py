"""A tape laid along the edges of two pieces, through the seam between them."""

from __future__ import annotations

import pytest

from core.checks.through_seam import through_seam
from core.pieces.outline import locate
from core.pieces.seams import match
from tests.core.checks.test_drawn_across import garment


def test_along_the_edges_it_goes_by_the_nearer_end() -> None:
    """From 30 mm left of the seam's foot to 40 mm right of it: 70 mm; at the top likewise 10 and 20: 30 mm."""
    whole = garment()
    a, b = whole.pieces["a"], whole.pieces["b"]
    found = match(whole, whole.seam("middle"))
    foot = through_seam(found, (a, locate(a.edges, (70.0, 0.0))[0]), (b, locate(b.edges, (40.0, 0.0))[0]))
    assert foot is not None
    assert foot[0] == pytest.approx(70.0)
    assert foot[1] == "foot"
    top = through_seam(found, (a, locate(a.edges, (90.0, 200.0))[0]), (b, locate(b.edges, (20.0, 200.0))[0]))
    assert top is not None
    assert top[0] == pytest.approx(30.0)
    assert top[1] == "top"
