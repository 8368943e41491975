"""A line may begin on another line, and goes along when that one is moved."""

from __future__ import annotations

import pytest

from core.geometry.polyline import nearest
from core.pieces.places import Place, place_on_line, resolved_point
from core.pieces.records import Garment
from core.steps.mapping import landmarks_of
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from tests.paper_block import BUST_POINT, front, garment

MARKS = landmarks_of(front())


def with_sheer_line(height: float) -> Garment:
    """A straight sheer line from the fold to the side, `height` mm above the waist at the fold."""
    points = (LinePoint(0, height), LinePoint(0, 0, place=Place("front.side", "waist", share=0.9)))
    step = StyleLine("a", "front", "front.sheer", points, MARKS, folded=("front.shoulder_dart",), intended=True)
    return step.apply(garment()).garment


def test_a_share_of_a_line_is_found_on_it() -> None:
    """Half way along, as much of the line lies before the place as after it."""
    on = with_sheer_line(230.0)
    line = on.piece("front").line("front.sheer")
    place = place_on_line(on, line, on.origins["front.sheer"].length / 2)
    at = resolved_point(on, on.piece("front"), place)
    met = [(start + nearest(s, at)[0], nearest(s, at)[1]) for start, s in zip(line.starts, line.stretches, strict=True)]
    along, off = min(met, key=lambda found: found[1])
    assert off == pytest.approx(0.0, abs=1e-9)
    assert along == pytest.approx(line.length / 2, abs=1e-6)


def test_a_princess_line_goes_along_when_the_sheer_line_is_raised() -> None:
    """Its end stays at the same share of the sheer line, wherever that runs now."""
    on = with_sheer_line(230.0)
    place = place_on_line(on, on.piece("front").line("front.sheer"), 95.0)
    points = (LinePoint(0.0, 0.0, place=place), LinePoint(*BUST_POINT, landmark="bust_point"))
    princess = StyleLine("b", "front", "front.princess", points, MARKS, purpose="panel")
    for height in (230.0, 245.0):
        after = princess.apply(with_sheer_line(height)).garment.piece("front")
        end = after.line("front.princess").path[0]
        assert min(nearest(stretch, end)[1] for stretch in after.line("front.sheer").stretches) < 1e-6
