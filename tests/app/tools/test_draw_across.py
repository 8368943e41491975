"""Pieces that lie together are drawn and measured across: a line on each, a tape over the seam."""

from __future__ import annotations

from math import degrees, remainder, tau

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from core.geometry.curve import fair_curve
from core.geometry.placement import gap
from core.geometry.polyline import Point, as_point, end_direction, point_at
from core.steps.style_line import StyleLine
from core.units import show_length
from tests.app.at_table import AtTable, first_steps
from tests.app.tools.lying_together import edge_of, slip, together

SHIFT = Qt.KeyboardModifier.ShiftModifier


def ways(at: AtTable) -> list[StyleLine]:
    """The lines that the design holds."""
    return [step for step in at.session.design.steps if isinstance(step, StyleLine)]


def draw_over_the_shoulder(at: AtTable) -> None:
    """From the front's centre over the shoulder, near the neck, to the middle of the back."""
    x, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 90.0)))
    at.click(at.on("front", (x - 10.0, y + 160.0)))
    back = edge_of(at, "back", "back.centre_back")
    top = max(back.points[:, 1])
    at.click(at.on("back", (-70.0, top - 30.0)))
    at.click(at.on("back", (0.0, top - 60.0)))


def test_a_line_over_the_seam_becomes_a_line_on_each() -> None:
    """One act makes two lines that meet the seam at one distance from the neck; one undo takes both."""
    at = together()
    at.take("sheer-line")
    draw_over_the_shoulder(at)
    assert at.acts() == 1
    front, back = ways(at)
    assert (front.piece, back.piece) == ("front", "back")
    assert back.folded == ("back.shoulder_dart",)
    leaves, comes = front.points[-1].place, back.points[0].place
    assert leaves is not None
    assert comes is not None
    assert (leaves.edge, leaves.end, comes.edge, comes.end) == ("front.shoulder", "neck", "back.shoulder", "neck")
    assert leaves.distance == pytest.approx(comes.distance, abs=0.01)
    lines = [at.table.scene.piece(step.piece) for step in (front, back)]
    ends = [
        item.to_table(as_point(item.shown.line(step.name).stretches[index][index]))
        for item, step, index in zip(lines, (front, back), (-1, 0), strict=True)
        if item is not None
    ]
    assert gap(*ends) < 0.1
    assert at.session.history.undo_label == "Draw the sheer line across the shoulder"
    assert "from the neck on both pieces; beyond it the back is 1/4 in longer, to be eased" in at.said[-1]
    at.session.undo()
    assert ways(at) == []


def test_the_curve_does_not_turn_at_the_seam() -> None:
    """Both lines run one way where they meet, within the 2 degrees that outlines may turn by (cutting.md 20)."""
    at = together()
    at.take("panel-line")
    draw_over_the_shoulder(at)
    seen = []
    for step, at_end in zip(ways(at), (True, False), strict=True):
        item = at.table.scene.piece(step.piece)
        assert item is not None
        seen.append(end_direction(item.on_table(item.shown.line(step.name).path), at_end=at_end, chord=2.0))
    assert abs(degrees(remainder(seen[1] - seen[0], tau))) < 2.0


def test_a_line_that_would_step_is_refused_until_they_touch_where_it_crosses() -> None:
    """Together at the armhole, crossing near the neck: refused by 1/4 in; the button lets them touch there."""
    at = together("armhole")
    at.take("sheer-line")
    draw_over_the_shoulder(at)
    assert at.acts() == 0
    assert "would step by 1/4 in at the shoulder" in slip(at)
    assert "The back is 1/4 in longer there." in slip(at)
    at.push("Lay together where it crosses")
    assert "would step" not in slip(at)
    at.press_key(Qt.Key.Key_Return)
    assert [step.piece for step in ways(at)] == ["front", "back"]


def test_a_stroke_of_the_hand_goes_over_the_seam() -> None:
    """In one stroke from the front's centre to the back's middle: two lines in one act."""
    at = together()
    at.take("sheer-line")
    x, y = at.piece("front").landmarks["bust_point"]
    top = max(edge_of(at, "back", "back.centre_back").points[:, 1])
    corners = [
        at.on("front", (0.0, y + 90.0)),
        at.on("front", (x - 10.0, y + 160.0)),
        at.on("back", (-80.0, top - 20.0)),
    ]
    corners.append(at.on("back", (0.0, top - 70.0)))
    way = [point_at(fair_curve(corners), along) for along in range(0, 420, 8)]
    way = way[: next((k for k, place in enumerate(way) if place == way[-1]), len(way))]
    at.drag(corners[0], *way, corners[-1])
    assert at.acts() == 1
    assert [step.piece for step in ways(at)] == ["front", "back"]


def test_backspace_takes_the_line_back_over_the_seam() -> None:
    """The first point on the back taken back, the line ends on the front again, where Enter ends it on the seam."""
    at = together()
    at.take("panel-line")
    _, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 90.0)))
    on_seam = edge_of(at, "front", "front.shoulder")
    at.click(at.on("front", point_at(on_seam.points, 0.6 * on_seam.length)))
    assert at.acts() == 0, "the seam is no end while the line may go on to the back"
    assert "go on over the seam on to the back" in at.said[-1]
    at.click(at.label_of("back"))
    assert len(at.table.shown_handles) == 3
    at.press_key(Qt.Key.Key_Backspace)
    assert len(at.table.shown_handles) == 2
    at.press_key(Qt.Key.Key_Return)
    assert [step.piece for step in ways(at)] == ["front"]


def test_by_the_needle_over_the_seam() -> None:
    """Arrow keys and Space place points on both pieces, Enter ends the line: a mark on each."""
    at = together()
    at.table.select("front")
    at.take("mark")
    x, y = at.on("front", at.piece("front").landmarks["side_neck"])
    start = at.label_of("front")
    for key, far in ((Qt.Key.Key_Right, x + 45.0 - start[0]), (Qt.Key.Key_Up, y - 60.0 - start[1])):
        for _ in range(round(abs(far) / 10.0)):
            at.press_key(key if far > 0 else {Qt.Key.Key_Right: Qt.Key.Key_Left}.get(key, Qt.Key.Key_Down), SHIFT)
    at.press_key(Qt.Key.Key_Space)
    for _ in range(10):
        at.press_key(Qt.Key.Key_Up, SHIFT)
    at.press_key(Qt.Key.Key_Space)
    at.press_key(Qt.Key.Key_Return)
    assert [step.piece for step in ways(at)] == ["front", "back"]


def test_places_are_typed_on_both_pieces() -> None:
    """A place that only the other piece has goes on over the seam: four typed places make a line on each."""
    at = together("armhole")
    at.table.select("front")
    at.take("sheer-line")
    field = next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == "Or type a place")
    front = ("10 in from the waist along the centre front", "5 in above the bust point")
    for words in (*front, "3 in above the shoulder blade", "3 in from the neck along the centre back"):
        field.setText(words)
        QTest.keyClick(field, Qt.Key.Key_Return)
        at.settle()
    assert [step.piece for step in ways(at)] == ["front", "back"]


# --- measuring across


def underarm(at: AtTable, piece: str) -> Point:
    """Where the underarm of a piece lies on the table, its darts as they are shown."""
    item = at.table.scene.piece(piece)
    assert item is not None
    return item.to_table(item.shown.landmarks["underarm"])


def test_the_tape_reads_across_the_seam_straight_and_along_the_edges() -> None:
    """From underarm to underarm: straight as they lie, and along both armholes over the shoulder point."""
    at = together("armhole")
    at.take("tape")
    ends = [underarm(at, piece) for piece in ("front", "back")]
    for end in ends:
        at.click(end)
    armholes = sum(at.piece(piece).edge("armhole").length for piece in ("front", "back"))
    assert f"{show_length(gap(*ends), 'in')} straight" in at.said[-1]
    assert f"{show_length(armholes, 'in')} along the edge, over the shoulder at the armhole" in at.said[-1]
    assert at.acts() == 0


def test_pieces_that_lie_apart_are_measured_straight_only() -> None:
    """Without a seam shut between them no edge leads from one to the other; what to do for that is said."""
    at = AtTable(first_steps(2), tool="tape")
    for piece in ("front", "back"):
        at.click(underarm(at, piece))
    assert "straight" in at.said[-1]
    assert " in along the edge" not in at.said[-1]
    assert "to read along the edges, lay the two pieces together at their seam" in at.said[-1]


def test_who_draws_to_a_seam_is_told_how_to_go_on_over_it() -> None:
    """With the pieces apart a line ends at the shoulder; before she clicks, the status line says what to do first."""
    at = AtTable(first_steps(2), tool="sheer-line")
    at.click(at.on("front", (0.0, at.piece("front").landmarks["bust_point"][1] + 90.0)))
    edge = edge_of(at, "front", "front.shoulder")
    at.hover(at.on("front", point_at(edge.points, 0.6 * edge.length)))
    assert "click to end the line here, or first lay the pieces together at the shoulder to draw on" in at.said[-1]
