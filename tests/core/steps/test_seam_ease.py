"""Ease, and the ease of less than nothing that stretch cloth is sewn with."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.pieces.seams import match
from core.steps.seam_ease import SeamEase
from tests.paper_block import garment


def test_a_difference_is_counted_from_the_ease() -> None:
    """Both paper sides are equal; with 6 mm of stretch wanted, side a is 6 mm too long for its mate."""
    before = garment()
    after = SeamEase("ease-1", "side", -6.0).apply(before).garment
    assert match(before, before.seam("side")).difference == pytest.approx(0.0, abs=1e-9)
    assert match(after, after.seam("side")).difference == pytest.approx(6.0, abs=1e-9)
    assert all(after.piece(name) is before.piece(name) for name in before.pieces)


def test_more_than_a_quarter_of_the_seam_is_refused() -> None:
    """The paper side is 210.2 mm: at most 53 mm (common practice)."""
    with pytest.raises(Refusal, match="is 210 mm long and cannot take 60 mm of ease; write at most 53 mm"):
        SeamEase("ease-1", "side", 60.0).apply(garment())
    with pytest.raises(Refusal):
        SeamEase("ease-1", "side", float("nan")).apply(garment())


@pytest.mark.parametrize(
    ("ease", "words"),
    [
        (-12.7, "Stretch the front by 1/2 in onto the back in the seam side."),
        (12.7, "Ease the front by 1/2 in into the back in the seam side."),
        (0.0, "Sew the seam side without ease."),
    ],
)
def test_it_says_which_side_is_stretched(ease: float, words: str) -> None:
    """In the user's unit."""
    assert SeamEase("ease-1", "side", ease).sentence(garment(), "in") == words
