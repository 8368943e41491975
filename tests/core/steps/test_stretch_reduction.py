"""Stretch cloth cut smaller at free edges, or stretched on to its mate by the seam's ease."""

from __future__ import annotations

import pytest

from core.errors import Refusal
from core.pieces.seams import match
from core.steps.seam_ease import SeamEase
from core.steps.slash import SlashAndSpread
from core.steps.stretch_reduction import reduced
from tests.samples import replayed


def test_a_free_edge_is_folded_out_and_no_other_edge_changes() -> None:
    """The yoke's neck loses 3 % of its length; the sheer line, the shoulder and the armhole keep theirs."""
    garment = replayed("concert").garment
    piece = garment.piece("front yoke")
    after = garment
    for step in reduced(garment, piece, piece.edge("neck"), share=0.03):
        assert isinstance(step, SlashAndSpread)
        after = step.apply(after).garment
    now = after.piece("front yoke")
    neck = piece.edge("neck").length
    smaller = sum(edge.length for edge in now.edges if edge.origin.edge == "front.neck")
    assert smaller == pytest.approx(0.97 * neck, abs=0.005 * neck)
    for name in ("shoulder", "armhole"):
        assert now.edge(name).length == pytest.approx(piece.edge(name).length, abs=0.01)
    seams = [match(held, held.seam("front.sheer_line")).difference for held in (garment, after)]
    assert seams[0] == pytest.approx(seams[1], abs=0.01)


@pytest.mark.parametrize(("name", "piece_is_a"), [("front yoke", True), ("centre front", False)])
def test_a_sewn_edge_keeps_its_length_and_the_seam_says_the_stretch(name: str, piece_is_a: bool) -> None:
    """5 % of the edge as ease of less than nothing for its side: side a shorter, or side b."""
    garment = replayed("concert").garment
    piece = garment.piece(name)
    found = match(garment, garment.seam("front.sheer_line"))
    assert any(link.piece.name == name for link in (found.a if piece_is_a else found.b))
    (step,) = reduced(garment, piece, piece.edge("sheer_line"), share=0.05)
    assert isinstance(step, SeamEase)
    amount = 0.05 * piece.edge("sheer_line").length
    assert step.ease == pytest.approx(-amount if piece_is_a else amount)
    after = step.apply(garment).garment
    assert after.piece(name) is piece


@pytest.mark.parametrize(
    ("edge", "share", "why"),
    [("centre_front", 0.03, "is a fold"), ("neck", 0.0, "cannot be cut 0% smaller"), ("neck", 0.4, "at most 25%")],
)
def test_what_makes_no_sense_is_refused(edge: str, share: float, why: str) -> None:
    """With piece and edge."""
    garment = replayed("concert").garment
    piece = garment.piece("front yoke")
    with pytest.raises(Refusal, match=why):
        reduced(garment, piece, piece.edge(edge), share=share)
