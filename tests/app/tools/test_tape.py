"""The tape: what it reads straight and along the edges, by mouse and by keys, and that it alters nothing."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from app.tools.tape import TapeTool
from core.geometry.polyline import as_point
from core.pieces.outline import OnLoop, along_outline
from core.units import show_length
from tests.app.at_table import AtTable, first_steps
from tests.demo_designs import concert
from tests.paper_block import front


def test_along_an_outline_darts_count_as_closed() -> None:
    """From one leg end of a dart to the other the tape reads nothing; from a corner to the next, the edge's length."""
    edges = front().edges
    base = next(i for i, edge in enumerate(edges) if edge.kind == "dart base")
    before = OnLoop(base - 1, edges[base - 1].length)
    after = OnLoop((base + 1) % len(edges), 0.0)
    assert along_outline(edges, before, after) == pytest.approx(0.0, abs=1e-9)
    real = next(i for i, edge in enumerate(edges) if edge.kind != "dart base")
    assert along_outline(edges, OnLoop(real, 0.0), OnLoop(real, edges[real].length)) == pytest.approx(
        edges[real].length
    )


def test_along_an_outline_goes_the_shorter_way() -> None:
    """Both directions round give the same, never more than half the outline."""
    edges = front().edges
    half = sum(edge.length for edge in edges if edge.kind != "dart base") / 2
    first, last = OnLoop(0, 1.0), OnLoop(len(edges) - 1, 1.0)
    assert along_outline(edges, first, last) == along_outline(edges, last, first) <= half


def test_the_shoulder_is_read_straight_and_along() -> None:
    """Clicked from end to end, the shoulder with its open dart reads as it will be sewn, and nothing is changed."""
    at = AtTable(first_steps(0), tool="tape")
    halves = [edge for edge in at.piece("front").edges if edge.origin.edge == "front.shoulder"]
    sewn = halves[0].length + halves[1].length
    at.click(at.on("front", as_point(halves[0].points[0])))
    at.click(at.on("front", as_point(halves[1].points[-1])))
    assert f"{show_length(sewn, 'in')} along the edge" in at.said[-1]
    assert at.acts() == 0


def test_from_piece_to_piece_it_is_read_as_they_lie() -> None:
    """Between two panels there is a straight length and none along an edge; moving one alters what is read."""
    at = AtTable(concert(), tool="tape")
    first, second = at.label_of("side front"), at.label_of("centre front")
    at.click(first)
    at.click(second)
    assert "straight" in at.said[-1]
    assert "along the edge" not in at.said[-1]


def test_keys_measure_from_landmark_to_landmark() -> None:
    """Enter on a landmark's handle lays the tape there; Backspace takes it back; Esc takes it off the table."""
    at = AtTable(first_steps(0), tool="tape")
    landmarks = at.piece("front").landmarks
    at.table.focus_handle("mark front|bust_point")
    at.press_key(Qt.Key.Key_Return)
    at.table.focus_handle("mark front|side_neck")
    at.press_key(Qt.Key.Key_Return)
    (ax, ay), (bx, by) = landmarks["bust_point"], landmarks["side_neck"]
    assert show_length(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5, "in") + " straight" in at.said[-1]
    tool = at.table.tool
    assert isinstance(tool, TapeTool)
    at.press_key(Qt.Key.Key_Backspace)
    assert len([handle for handle in tool.handles() if handle.key.startswith("stop")]) == 1
    at.press_key(Qt.Key.Key_Escape)
    assert not [handle for handle in tool.handles() if handle.key.startswith("stop")]


def test_a_place_inside_the_piece_has_no_length_along_it() -> None:
    """From a corner to the bust point the tape reads straight only."""
    at = AtTable(first_steps(0), tool="tape")
    landmarks = at.piece("front").landmarks
    at.click(at.on("front", landmarks["underarm"]))
    at.click(at.on("front", landmarks["bust_point"]))
    assert "straight" in at.said[-1]
    assert "along" not in at.said[-1]
