"""Whatever line is drawn: it is cut by the laws, or refused in a sentence; never a wrong piece, never a crash."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import Refusal
from core.geometry.planar import is_simple_loop
from core.pieces.outline import cloth_area
from core.pieces.places import Place
from core.pieces.records import Garment
from core.pieces.seams import matches
from core.steps.cut import Cut
from core.steps.mapping import landmarks_of
from core.steps.pivot import Pivot
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.core.laws.sample_steps import done, drafted

figures = st.sampled_from(["slight", "middling", "full"])
heights = st.floats(-60.0, 110.0)


def drawn_line(garment: Garment, centre: float, middle: tuple[float, float], share: float, folded: bool) -> StyleLine:
    """A sheer line from the centre front over one free point to the armhole, heights counted from the bust point."""
    piece = garment.piece("front")
    x, y = piece.landmarks["bust_point"]
    points = (
        LinePoint(0.0, y + centre),
        LinePoint(x + middle[0], y + middle[1]),
        LinePoint(x + 90.0, y + 60.0, place=Place("front.armhole", "side", share=share)),
    )
    darts = ("front.shoulder_dart",) if folded else ()
    return StyleLine("line-1", "front", "front.sheer_line", points, landmarks_of(piece), folded=darts)


@settings(max_examples=60)
@given(
    figure=figures,
    centre=heights,
    middle=st.tuples(st.floats(-50.0, 50.0), heights),
    share=st.floats(0.05, 0.9),
    way=st.sampled_from(["folded", "pivoted out", "open"]),
)
def test_any_sheer_line_is_cut_by_the_laws_or_refused(
    figure: str, centre: float, middle: tuple[float, float], share: float, way: str
) -> None:
    """Cloth adds up, both sides of every seam agree, every panel is simple; or one sentence says why not."""
    garment = drafted(figure)
    if way == "pivoted out":
        garment = done(garment, (Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart"),))
    whole = cloth_area(garment.piece("front"))
    line = drawn_line(garment, centre, middle, share, folded=way == "folded")
    try:
        after = done(garment, (line, Cut("cut-1", "front", ("front.sheer_line",), (), line.drawn_on)))
    except Refusal as refusal:
        if not refusal.sentence.endswith("."):
            pytest.fail(f"not a sentence: {refusal.sentence}")
        return
    panels = [piece for piece in after.pieces.values() if piece.block == "front"]
    assert sum(cloth_area(panel) for panel in panels) == pytest.approx(whole, abs=1e-3)
    assert all(is_simple_loop(panel.loop) for panel in panels)
    seam = next(found for found in matches(after) if found.seam.name == "front.sheer_line")
    assert seam.difference == pytest.approx(0.0, abs=1e-6)
    assert seam.length_a == pytest.approx(line.apply(garment).garment.origins["front.sheer_line"].length, abs=1e-6)


def test_most_lines_reach_the_knife() -> None:
    """The property above would be empty if everything were refused; run for itself it cuts lines in every way."""
    garment = drafted("middling")
    for way in ("folded", "pivoted out"):
        start = garment
        if way == "pivoted out":
            start = done(garment, (Pivot("p", "front", "front.shoulder_dart", into="front.waist_dart"),))
        line = drawn_line(start, 40.0, (0.0, 55.0), 0.3, folded=way == "folded")
        after = done(start, (line, Cut("cut-1", "front", ("front.sheer_line",), (), line.drawn_on)))
        assert len([piece for piece in after.pieces.values() if piece.block == "front"]) == 2
