"""Laying pieces together at a seam: turned by mouse and by keys, drawn and measured across, the design untouched."""

from __future__ import annotations

from math import degrees, remainder, tau

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.canvas.hits import piece_at
from app.canvas.slip import Slip
from core.geometry.curve import fair_curve
from core.geometry.placement import gap
from core.geometry.polyline import Point, as_point, end_direction, nearest, point_at
from core.pieces.records import Edge
from core.pieces.seams import chain_points, match
from core.steps.style_line import StyleLine
from core.units import show_length
from tests.app.at_table import AtTable, first_steps
from tests.demo_designs import concert

SHIFT = Qt.KeyboardModifier.ShiftModifier


def seam_ends(at: AtTable, seam: str, piece: str) -> tuple[Point, Point]:
    """Where the ends of a piece's side of a seam lie on the table, the seam's first end first."""
    garment = at.table.scene.shown_garment
    found = match(garment, garment.seam(seam))
    chain = next(chain for chain in (found.a, found.b) if chain[0].piece.name == piece)
    path = chain_points(chain)
    return at.on(piece, as_point(path[0])), at.on(piece, as_point(path[-1]))


def middle_of(at: AtTable, piece: str, origin: str) -> Point:
    """The middle of an edge on the table."""
    edge = edge_of(at, piece, origin)
    return at.on(piece, point_at(edge.points, edge.length / 2))


def edge_of(at: AtTable, piece: str, origin: str) -> Edge:
    """The edge of a piece as it is shown."""
    item = at.table.scene.piece(piece)
    assert item is not None
    return next(edge for edge in item.shown.edges if edge.origin.edge == origin)


def slip(at: AtTable) -> str:
    """What the slip says."""
    return next(one for one in at.table.findChildren(Slip) if one.isVisible()).accessibleName()


def together(end: str = "neck") -> AtTable:
    """Front and back together at the shoulder, end on end at the neck or the armhole."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    if end == "neck":
        at.push("Meet at the other end")
    at.push("Done")
    return at


# --- laying


def test_a_click_on_a_seam_lays_the_back_at_the_front() -> None:
    """The back's edge lies on the front's from the armhole on, running along it; nothing is there to undo."""
    at = AtTable(first_steps(2), tool="lay-together")
    design, shape = at.session.design, at.piece("back")
    at.click(middle_of(at, "front", "front.shoulder"))
    (front_start, front_stop), (back_start, back_stop) = (seam_ends(at, "shoulder", p) for p in ("front", "back"))
    assert gap(front_start, back_start) < 0.01
    # The back's shoulder is 6 mm longer, as its ease: both lie along one line but for what the drafts curve.
    assert gap(front_stop, back_stop) == pytest.approx(6.0, abs=0.5)
    assert slip(at) == "The back lies at the front along the shoulder, end on end at the armhole."
    assert "goes on for 1/4 in" in at.said[-1]
    assert at.session.design is design
    assert at.piece("back") is shape
    assert at.acts() == 0


def test_the_dart_in_the_seam_is_folded_with_it_and_opened_again() -> None:
    """The back's shoulder dart is sewn before that seam: folded while they lie together, then open as before."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    assert at.table.scene.folded("back") == ("back.shoulder_dart",)
    at.push("Lay apart")
    assert at.table.scene.folded("back") == ()
    assert at.table.scene.together == frozenset()


def test_the_other_end_and_the_other_piece_by_buttons() -> None:
    """They meet at the neck; then the front turns and the back lies as it did."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    at.push("Meet at the other end")
    assert gap(seam_ends(at, "shoulder", "front")[1], seam_ends(at, "shoulder", "back")[1]) < 0.01
    at.push("Turn the other piece")
    turned = {name: item.place.angle for name in ("front", "back") if (item := at.table.scene.piece(name)) is not None}
    assert turned["back"] == 0.0
    assert abs(turned["front"]) > 1.0
    assert gap(seam_ends(at, "shoulder", "front")[1], seam_ends(at, "shoulder", "back")[1]) < 0.01


def test_by_keys_alone() -> None:
    """Enter on the seam's handle lays them; arrows roll, E changes the end, Delete lays apart."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.table.focus_handle("seam shoulder")
    at.press_key(Qt.Key.Key_Return)
    assert at.table.scene.together == {"front", "back"}
    at.press_key(Qt.Key.Key_Right, SHIFT)
    assert "13/32 in from the armhole" in slip(at)
    at.press_key(Qt.Key.Key_E)
    assert "end on end at the neck" in slip(at)
    at.press_key(Qt.Key.Key_Home)
    assert "end on end at the armhole" in slip(at)
    at.press_key(Qt.Key.Key_Delete)
    assert at.table.scene.together == frozenset()
    assert at.finished == 1


def test_esc_lays_them_as_they_lay_before() -> None:
    """Esc drops what was laid and asks for another seam; a second Esc leaves the tool."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    at.press_key(Qt.Key.Key_Escape)
    assert at.table.scene.together == frozenset()
    assert at.said[-1] == "Click the seam at which two pieces are to lie together."
    assert at.finished == 0


def test_a_drag_along_the_seam_rolls_the_piece() -> None:
    """Dragged to the front's mid shoulder both edges touch there; near an end they meet at the end."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    edge = edge_of(at, "front", "front.shoulder")
    start, middle = at.handle("Where the back touches").at, middle_of(at, "front", "front.shoulder")
    at.drag(start, at.on("front", point_at(edge.points, edge.length * 0.3)), middle)
    pixel = 2.0 / at.table.view.scale
    assert gap(at.handle("Where the back touches").at, middle) < pixel
    back = at.table.scene.piece("back")
    assert back is not None
    near = min(nearest(back.on_table(edge.points), middle)[1] for edge in back.shown.edges)
    assert near < pixel
    neck = at.on("front", as_point(edge.points[-1]))
    at.drag(middle, neck)
    assert "end on end at the neck" in slip(at)


def test_laying_apart_is_exact() -> None:
    """Laid together, rolled and laid apart both lie to the last digit where they lay."""
    at = AtTable(first_steps(2), tool="lay-together")
    before = {item.name: item.place for item in at.table.scene.laid}
    at.click(middle_of(at, "front", "front.shoulder"))
    at.press_key(Qt.Key.Key_Right, SHIFT)
    at.push("Lay apart")
    assert {item.name: item.place for item in at.table.scene.laid} == before


def test_what_lies_together_is_dragged_together() -> None:
    """Dragged by the back, both go along and the seam stays shut."""
    at = together()
    before = seam_ends(at, "shoulder", "front")[1]
    x, y = at.label_of("back")
    at.drag((x, y), (x + 20, y - 10), (x + 40, y - 20))
    after = seam_ends(at, "shoulder", "front")[1]
    pixel = 1.5 / at.table.view.scale
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((40.0, -20.0), abs=pixel)
    assert gap(after, seam_ends(at, "shoulder", "back")[1]) < 0.01


def test_a_third_piece_joins_and_two_seams_hold_three() -> None:
    """Side front at centre front, then side back at side front: all three hold, and the first pair is as it was."""
    at = AtTable(concert(), tool="lay-together")
    at.table.focus_handle("seam front.princess")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    at.take("lay-together")
    at.table.focus_handle("seam side")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    assert at.table.scene.together == {"centre front", "side front", "side back"}
    for seam, pieces in (("front.princess", ("side front", "centre front")), ("side", ("side front", "side back"))):
        assert gap(*(seam_ends(at, seam, piece)[0] for piece in pieces)) < 0.01


def test_the_pieces_follow_the_design() -> None:
    """Undone to where the seam has other pieces they lie together by those; done again, as before."""
    at = AtTable(concert(), tool="lay-together")
    at.table.focus_handle("seam front.princess")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    whole = at.session.design
    at.session.do("Back to the block", first_steps(0))
    assert at.table.scene.together == frozenset()
    at.session.do("On again", whole)
    assert at.table.scene.together == {"centre front", "side front"}


# --- the turn in all that is done at the table


def test_a_turned_piece_is_hit_where_it_is_seen() -> None:
    """Its label, its landmarks and its edges are found where the turn lays them, and snapped to by name."""
    at = together()
    found = piece_at(at.table.scene.laid, at.label_of("back"))
    assert found is not None
    assert found.name == "back"
    at.take("tape")
    blade = at.on("back", at.piece("back").landmarks["shoulder_blade"])
    at.hover(blade)
    assert at.said[-1].startswith("Shoulder blade")


def test_arrow_keys_go_the_way_they_point_on_a_turned_piece() -> None:
    """A mark on the turned back: the right arrow moves its point 1 mm to the right as it is seen."""
    at = AtTable(first_steps(2), tool="mark")
    for place in ((-120.0, 200.0), (-90.0, 220.0)):
        at.click(at.on("back", place), Qt.KeyboardModifier.AltModifier)
    at.press_key(Qt.Key.Key_Return)
    at.take("lay-together")
    at.table.focus_handle("seam side")
    at.press_key(Qt.Key.Key_Return)
    at.push("Done")
    item = at.table.scene.piece("back")
    assert item is not None
    assert item.place.angle != 0.0
    step = at.session.design.steps[-1]
    at.table.focus_handle(f"step {step.id}")
    at.press_key(Qt.Key.Key_Return)
    before = at.handle("Point 1").at
    at.press_key(Qt.Key.Key_Right)
    after = at.handle("Point 1").at
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((1.0, 0.0), abs=1e-6)


# --- drawing across


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


def test_a_seam_that_would_close_a_ring_says_which_pieces_part() -> None:
    """Three seams hold four panels; a fourth lays two together and parts two others, by name."""
    at = AtTable(concert())
    for seam in ("front.princess", "side", "shoulder", "front.sheer_line"):
        at.take("lay-together")
        at.table.focus_handle(f"seam {seam}")
        at.press_key(Qt.Key.Key_Return)
    assert "No piece lies at two others: along the " in at.said[-1]
    assert len(at.table.scene.together) == 4
