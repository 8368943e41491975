"""Through the point: the sheer line led through a dart's pivot, so that nothing has to be flattened."""

from __future__ import annotations

import msgspec
import pytest

from core.design.replay import replay
from core.errors import Refusal
from core.geometry.polyline import nearest
from core.steps.step import LinePoint
from core.steps.style_line import StyleLine
from core.steps.through_point import line_through_pivot
from tests.demo_designs import ice_cut
from tests.paper_block import garment


def test_no_panel_holds_a_darts_end_then() -> None:
    """The line passes the blade point; the shoulder dart lies wholly in the mesh and is closed there."""
    design = ice_cut()
    before = replay(design).garment.piece("back yoke")
    assert [dart.name for dart in before.darts] == ["back.shoulder_dart"]
    after = replay(design.with_step(line_through_pivot(design.steps, before, "back.shoulder_dart")))
    assert after.refused is None
    assert after.garment.piece("back yoke").darts == ()
    blade = after.garment.piece("lower back").landmarks["shoulder_blade"]
    edge = after.garment.piece("lower back").edge("sheer_line").points
    assert nearest(edge, blade)[1] == pytest.approx(0.0, abs=1e-6)


def test_a_line_without_inner_points_gets_one() -> None:
    """Its ends stay where they were placed."""
    design = ice_cut()
    steps = tuple(
        msgspec.structs.replace(step, points=(step.points[0], step.points[-1]))
        if isinstance(step, StyleLine) and step.id == "sheer-line-2"
        else step
        for step in design.steps
    )
    piece = replay(design).garment.piece("back yoke")
    line = line_through_pivot(steps, piece, "back.shoulder_dart")
    mark = line.drawn_on["shoulder_blade"]
    assert line.points == (line.points[0], LinePoint(*mark, landmark="shoulder_blade"), line.points[-1])


def test_a_piece_cut_along_no_line_is_refused() -> None:
    """The block itself has none to move."""
    with pytest.raises(Refusal, match="no line that was drawn"):
        line_through_pivot(ice_cut().steps[:1], garment().piece("front"), "front.waist_dart")
