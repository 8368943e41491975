"""Levels that a seam passes, and which way it is taken in there."""

from __future__ import annotations

from math import hypot

import pytest

from core.geometry.polyline import nearest
from core.pieces.levels import PASSES, SideLevel, seam_levels
from core.pieces.places import Place
from core.pieces.records import Piece
from core.pieces.seams import chain_points, match
from core.steps.pivot import Pivot
from core.steps.take_in import Level, TakeIn
from tests.core.laws.sample_steps import drafted
from tests.samples import replayed

GARMENT = replayed("concert").garment
PRINCESS = match(GARMENT, GARMENT.seam("front.princess"))


def test_a_princess_seam_passes_its_ends_the_bust_point_and_the_under_bust() -> None:
    """In order from the sheer line to the waist; the bust line, which runs through the bust point, is that point."""
    names = [level.name for level in seam_levels(PRINCESS)]
    assert names == ["sheer_line", "bust_point", "under_bust_line", "waist"]


def test_each_level_lies_on_both_sides() -> None:
    """The bust point is the landmark on both panels; every place is on its panel's seam."""
    levels = {level.name: level for level in seam_levels(PRINCESS)}
    for side in (levels["bust_point"].a, levels["bust_point"].b):
        mark = GARMENT.piece(side.piece).landmarks["bust_point"]
        assert hypot(side.at[0] - mark[0], side.at[1] - mark[1]) <= PASSES
    assert levels["waist"].a.at == pytest.approx(tuple(chain_points(PRINCESS.a)[-1]))
    assert levels["waist"].b.along == pytest.approx(PRINCESS.length_b)


def test_inward_is_where_taking_in_moves_the_seam() -> None:
    """2 mm off each side at the sheer line and none at the bust point: the corner moves 2 mm that way."""
    step = TakeIn("t", "front.princess", (Level("sheer_line", 2.0, 2.0), Level("bust_point", 0.0, 0.0)))
    after = step.apply(GARMENT).garment
    top = seam_levels(PRINCESS)[0]
    for before, chain in ((top.a, match(after, PRINCESS.seam).a), (top.b, match(after, PRINCESS.seam).b)):
        now = chain_points(chain)[0]
        moved = (now[0] - before.at[0], now[1] - before.at[1])
        assert moved == pytest.approx((2.0 * before.inward[0], 2.0 * before.inward[1]), abs=0.05)


@pytest.mark.parametrize("name", ["side", "back.princess", "front.princess"])
def test_inside_the_seam_inward_points_into_the_piece(name: str) -> None:
    """1 mm along it lies nearer to the middle of the piece."""
    for level in seam_levels(match(GARMENT, GARMENT.seam(name)))[1:-1]:
        for side in (level.a, level.b):
            assert _depth(side, 1.0) < _depth(side, 0.0)
            assert hypot(*side.inward) == pytest.approx(1.0)


def _depth(side: SideLevel, inward: float) -> float:
    """How far from the middle of its piece, across it, a place `inward` mm into the piece lies."""
    piece: Piece = GARMENT.piece(side.piece)
    middle = (piece.loop[:, 0].min() + piece.loop[:, 0].max()) / 2
    return abs(side.at[0] + inward * side.inward[0] - float(middle))


def test_a_seam_with_several_pieces_on_a_side_has_no_levels() -> None:
    """Taking in is between two panels."""
    assert seam_levels(match(GARMENT, GARMENT.seam("front.sheer_line"))) == ()


def test_levels_beyond_an_open_dart_are_counted_over_the_closed_seam() -> None:
    """A bust dart stands open in the side: both sides pass the bust line as far from the waist, as they are sewn."""
    pivot = Pivot("p", "front", "front.shoulder_dart", place=Place("front.side", "waist", share=0.7))
    start = drafted("middling")
    opened = pivot.apply(start).garment
    before, after = ({level.name: level for level in seam_levels(match(g, g.seam("side")))} for g in (start, opened))
    assert before.keys() == after.keys()
    for name, level in after.items():
        assert level.a.along == pytest.approx(before[name].a.along, abs=0.01)
        assert nearest(opened.piece("front").loop, level.a.at)[1] < 1e-6
