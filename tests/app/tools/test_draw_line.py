"""Drawing lines by placing points, on flat pieces and across folded darts."""

from __future__ import annotations

from itertools import pairwise
from math import cos, radians, sin

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from app.canvas.slip import Slip
from core.geometry.placement import gap
from core.geometry.polyline import as_point, point_at
from core.steps.style_line import StyleLine
from tests.app.at_table import LEFT, AtTable, first_steps, inside


def last(at: AtTable) -> StyleLine:
    """The step that was added last."""
    step = at.session.design.steps[-1]
    assert isinstance(step, StyleLine)
    return step


def armhole_at(at: AtTable, share: float) -> tuple[float, float]:
    """A place on the front's armhole as it is shown, on the table."""
    item = at.table.scene.piece("front")
    assert item is not None
    edge = item.shown.edge("armhole")
    return item.to_table(point_at(edge.points, share * edge.length))


def test_from_edge_to_edge_by_clicks() -> None:
    """The click on the second edge ends the line; both ends are stored as places on their edges."""
    at = AtTable(first_steps(2), tool="sheer-line")
    _, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 24.0)))
    at.click(at.on("front", (55.0, y + 52.0)))
    at.click(armhole_at(at, 0.3))
    assert at.session.history.undo_label == "Draw the sheer line"
    assert [point.place.edge if point.place else "" for point in last(at).points] == [
        "front.centre_front",
        "",
        "front.armhole",
    ]
    assert at.finished == 1


def test_live_length_and_distance_from_the_bust_point_are_said() -> None:
    """While she places points the status line measures for her."""
    at = AtTable(first_steps(2), tool="sheer-line")
    x, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 24.0)))
    at.hover(at.on("front", (x, y + 50.8)))
    assert "long" in at.said[-1]
    assert "2 in from the bust point" in at.said[-1]


def test_a_landmark_is_snapped_to() -> None:
    """Within reach of the bust point the point is the bust point; a panel seam may end there by Enter."""
    at = AtTable(first_steps(2), tool="panel-line")
    bust_point = at.piece("front").landmarks["bust_point"]
    at.click(armhole_at(at, 0.3))
    at.click(at.on("front", (bust_point[0] + 3.0, bust_point[1] + 2.0)))
    QTest.keyClick(at.table, Qt.Key.Key_Return)
    at.settle()
    assert last(at).points[-1].landmark == "bust_point"


def test_alt_suspends_snapping() -> None:
    """With Alt held the point lies just where it was clicked, however near a landmark."""
    at = AtTable(first_steps(2), tool="mark")
    bust_point = at.piece("front").landmarks["bust_point"]
    place = (bust_point[0] + 3.0, bust_point[1] + 2.0)
    at.click(at.on("front", place), Qt.KeyboardModifier.AltModifier)
    at.click(at.on("front", (bust_point[0] + 40.0, bust_point[1] + 40.0)))
    at.press_key(Qt.Key.Key_Return)
    first = last(at).points[0]
    assert first.landmark == ""
    assert gap((first.x, first.y), place) < 1.0 / at.table.view.scale


def test_backspace_takes_the_last_point_back_and_esc_drops_the_line() -> None:
    """Nothing is committed before the line has its end."""
    at = AtTable(first_steps(2), tool="sheer-line")
    _, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 24.0)))
    at.click(at.on("front", (55.0, y + 52.0)))
    at.press_key(Qt.Key.Key_Backspace)
    assert len(at.table.shown_handles) == 1
    at.press_key(Qt.Key.Key_Escape)
    assert at.table.shown_handles == []
    assert at.acts() == 0


def test_a_line_that_ends_in_the_cloth_is_refused_and_can_be_drawn_on() -> None:
    """Enter in the middle of the piece: a sentence, and the points stay."""
    at = AtTable(first_steps(2), tool="sheer-line")
    _, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 24.0)))
    at.click(at.on("front", (55.0, y + 52.0)))
    at.press_key(Qt.Key.Key_Return)
    assert "misses piece front" in at.said[-1]
    assert at.acts() == 0
    at.click(armhole_at(at, 0.3))
    assert at.acts() == 1


def test_a_double_click_ends_the_line_at_its_place() -> None:
    """The second of two quick clicks adds no second point on one spot."""
    at = AtTable(first_steps(2), tool="mark")
    at.click(at.on("front", (30.0, 80.0)))
    here = at.pixel(at.on("front", (60.0, 120.0)))
    QTest.mouseMove(at.table, here)
    QTest.mouseClick(at.table, LEFT, pos=here)
    QTest.mouseDClick(at.table, LEFT, pos=here)
    at.settle()
    assert len(last(at).points) == 2
    assert last(at).purpose == "mark"


def test_across_a_folded_dart() -> None:
    """With the shoulder dart folded she draws one curve; on the flat piece it meets both legs at equal distance."""
    at = AtTable(first_steps(0))
    at.hover(at.on("front", inside(at.piece("front").dart("front.shoulder_dart"))))
    at.press_key(Qt.Key.Key_F)
    at.take("sheer-line")
    x, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 50.0)))
    at.click(at.on("front", (60.0, y + 80.0)))
    at.click(at.on("front", (x + 30.0, y + 75.0)))
    at.click(armhole_at(at, 0.35))
    assert last(at).folded == ("front.shoulder_dart",)
    dart = at.piece("front").dart("front.shoulder_dart")
    first, second = at.piece("front").line(last(at).name).stretches
    radii = [gap(dart.pivot, as_point(end)) for end in (first[-1], second[0])]
    assert abs(radii[0] - radii[1]) < 0.01


def test_the_slip_folds_the_dart_that_a_refused_line_crosses() -> None:
    """Drawn over the open dart the line is refused on the slip; its button folds the dart, and the line is drawn."""
    at = AtTable(first_steps(0), tool="sheer-line")
    _, y = at.piece("front").landmarks["bust_point"]
    at.click(at.on("front", (0.0, y + 50.0)))
    at.click(at.on("front", (60.0, y + 40.0)))
    at.click(armhole_at(at, 0.35))
    slip = next(slip for slip in at.table.findChildren(Slip) if slip.isVisible())
    assert "dart folded" in slip.accessibleName()
    assert at.acts() == 0
    at.push("Fold the dart it crosses")
    assert at.table.scene.folded("front") == ("front.shoulder_dart",)
    at.click(at.on("front", (0.0, y + 50.0)))
    at.click(at.on("front", (60.0, y + 60.0)))
    at.click(armhole_at(at, 0.35))
    assert last(at).folded == ("front.shoulder_dart",)


def test_a_line_is_drawn_over_two_darts_of_one_pivot() -> None:
    """F folds the one, then the other with it; the line goes round the bust point from the centre to the waist.

    On the flat piece it is in three stretches that meet each dart's legs equally far from the pivot (cutting.md 1).
    """
    at = AtTable(first_steps(0), tool="sheer-line", size=(1400, 1000))
    for name in ("front.shoulder_dart", "front.waist_dart"):
        item = at.table.scene.piece("front")
        assert item is not None
        at.hover(at.on("front", inside(item.shown.dart(name))))
        at.press_key(Qt.Key.Key_F)
    item = at.table.scene.piece("front")
    assert item is not None
    assert item.folded == ("front.shoulder_dart", "front.waist_dart")
    at.table.fit_all()
    x, y = item.shown.landmarks["bust_point"]
    end = point_at(item.shown.edge("waist.2").points, 25.0)
    ways = [radians(angle) for angle in (110.0, 70.0, 30.0, -10.0, -50.0)]
    at.click(at.on("front", (0.0, y + 90.0)))
    for way in ways:
        at.click(at.on("front", (x + 75.0 * cos(way), y + 75.0 * sin(way))))
    at.click(at.on("front", end))
    step = last(at)
    assert step.folded == ("front.shoulder_dart", "front.waist_dart")
    stretches = at.piece("front").line(step.name).stretches
    assert len(stretches) == 3
    for before, after in pairwise(stretches):
        assert gap((x, y), as_point(before[-1])) == pytest.approx(gap((x, y), as_point(after[0])), abs=0.01)


def test_by_keys_alone() -> None:
    """Arrow keys move a needle, Space places points, Enter ends the line."""
    at = AtTable(first_steps(2), tool="mark")
    for key in (Qt.Key.Key_Space, Qt.Key.Key_Right, Qt.Key.Key_Up):
        at.press_key(key, Qt.KeyboardModifier.ShiftModifier)
    at.press_key(Qt.Key.Key_Space)
    for _ in range(3):
        at.press_key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    at.press_key(Qt.Key.Key_Space)
    at.press_key(Qt.Key.Key_Return)
    points = last(at).points
    assert len(points) == 2
    assert round(points[1].y - points[0].y, 6) == 30.0


def test_places_can_be_typed_in_words() -> None:
    """Three typed places make a line: its ends hold by the edges that were named, its middle by the words' lengths."""
    at = AtTable(first_steps(2), tool="sheer-line")
    at.table.select("front")
    field = next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == "Or type a place")
    for words in ("6 in from the waist along the centre front", "1 in above the bust point", "mid armhole"):
        field.setText(words)
        QTest.keyClick(field, Qt.Key.Key_Return)
        at.settle()
    step = at.session.design.steps[-1]
    assert isinstance(step, StyleLine)
    assert [point.place.edge if point.place else "" for point in step.points] == [
        "front.centre_front",
        "",
        "front.armhole",
    ]
    x, y = at.piece("front").landmarks["bust_point"]
    assert (step.points[1].x, step.points[1].y) == pytest.approx((x, y + 25.4))


def test_a_typed_place_finds_its_piece_or_asks_which() -> None:
    """Only the front has a bust point; both have an armhole, and with no piece taken up it is asked which is meant."""
    at = AtTable(first_steps(2), tool="sheer-line")
    field = next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == "Or type a place")
    field.setText("mid armhole")
    QTest.keyClick(field, Qt.Key.Key_Return)
    at.settle()
    assert at.said[-1] == "front and back both have such a place: take up the one that is meant, or click on it."
    for words in ("6 in from the waist along the centre front", "1 in above the bust point", "mid armhole"):
        field.setText(words)
        QTest.keyClick(field, Qt.Key.Key_Return)
        at.settle()
    step = at.session.design.steps[-1]
    assert isinstance(step, StyleLine)
    assert step.piece == "front"


def test_a_typed_place_that_is_not_understood_says_why() -> None:
    """The sentence stands in the status line and nothing is placed."""
    at = AtTable(first_steps(2), tool="sheer-line")
    field = next(f for f in at.table.findChildren(QLineEdit) if f.accessibleName() == "Or type a place")
    field.setText("somewhere nice")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert "no place that is understood" in at.said[-1]
    assert at.acts() == 0


def test_a_line_is_drawn_in_one_stroke() -> None:
    """Pressed at the centre front, drawn up to the armhole and let go there, it has few points and both ends hold."""
    at = AtTable(first_steps(2), tool="sheer-line")
    piece = at.piece("front")
    centre = next(edge for edge in piece.edges if edge.origin.edge == "front.centre_front")
    armhole = next(edge for edge in piece.edges if edge.origin.edge == "front.armhole")
    x, y = at.on("front", point_at(centre.points, 0.55 * centre.length))
    ex, ey = at.on("front", point_at(armhole.points, 0.4 * armhole.length))
    way = [(x + (ex - x) * t, y + (ey - y) * t - 30 * t * (1 - t)) for t in (k / 30 for k in range(1, 31))]
    at.drag((x, y), *way)
    step = at.session.design.steps[-1]
    assert isinstance(step, StyleLine)
    assert len(step.points) <= 6
    first, last = step.points[0].place, step.points[-1].place
    assert first is not None
    assert last is not None
    assert (first.edge, last.edge) == ("front.centre_front", "front.armhole")
    assert at.acts() == 1


def test_esc_drops_a_stroke() -> None:
    """Nothing is drawn when Esc comes before the button is let go."""
    at = AtTable(first_steps(2), tool="sheer-line")
    x, y = at.label_of("front")
    at.press((x, y))
    at.hover((x + 40, y + 20))
    at.press_key(Qt.Key.Key_Escape)
    at.release((x + 80, y + 30))
    assert at.acts() == 0
