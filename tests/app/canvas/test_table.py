"""The table under real mouse and keys: panning, zooming, taking up, folding, handles as widgets."""

from __future__ import annotations

from math import hypot

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from app.theme import ThemeName, theme_for
from tests.app.at_table import AtTable, first_steps, inside
from tests.demo_designs import concert

CONTROL = Qt.KeyboardModifier.ControlModifier


def test_everything_is_in_view_at_first() -> None:
    """The first thing she sees is the whole of her work."""
    at = AtTable(concert())
    box = at.table.scene.extent()
    for corner in ((box[0], box[1]), (box[2], box[3])):
        assert at.table.rect().contains(at.pixel(corner))


def test_ctrl_and_wheel_zoom_about_the_pointer() -> None:
    """The place under the pointer stays there to half a pixel."""
    at = AtTable(first_steps(0))
    place = at.on("front", (60.0, 200.0))
    before = at.table.view.to_pixels(at.table.view.to_mm((at.pixel(place).x(), at.pixel(place).y())))
    under = at.table.view.to_mm(before)
    zoom = at.table.view.zoom
    at.wheel(place, 240, CONTROL)
    assert at.table.view.zoom > 1.3 * zoom
    assert at.table.view.to_pixels(under) == pytest.approx(before, abs=0.5)


def test_the_wheel_alone_scrolls_and_with_shift_sideways() -> None:
    """Up or down, left or right; the zoom stays."""
    at = AtTable(first_steps(0))
    before = at.table.view
    at.wheel((0.0, 200.0), 120)
    scrolled = at.table.view
    assert scrolled.top > before.top
    assert scrolled.left == before.left
    at.wheel((0.0, 200.0), 120, Qt.KeyboardModifier.ShiftModifier)
    assert at.table.view.left < scrolled.left
    assert at.table.view.zoom == before.zoom


def test_the_middle_button_pans_and_changes_nothing() -> None:
    """What lay under the pointer goes along with it."""
    at = AtTable(first_steps(0))
    place = at.table.view.to_mm((400.0, 300.0))
    at.middle_drag(QPoint(400, 300), QPoint(460, 270))
    assert at.table.view.to_pixels(place) == pytest.approx((460.0, 270.0), abs=1e-6)
    assert at.acts() == 0


def test_space_and_left_button_pan() -> None:
    """With Space held, a drag moves the table and not what lies on it."""
    at = AtTable(first_steps(0))
    place = at.on("front", (60.0, 200.0))
    end = at.on("front", (90.0, 200.0))
    QTest.keyPress(at.table, Qt.Key.Key_Space)
    at.drag(place, end)
    QTest.keyRelease(at.table, Qt.Key.Key_Space)
    assert at.table.selection == ""
    assert at.table.view.to_mm(at.table.view.to_pixels(place)) == pytest.approx(place)


def test_a_click_takes_up_a_piece_and_esc_lays_it_down() -> None:
    """The window is told by name."""
    at = AtTable(concert())
    told: list[str] = []
    at.table.selected.connect(told.append)
    at.click(at.label_of("side front"))
    assert told == ["side front"]
    at.press_key(Qt.Key.Key_Escape)
    assert told == ["side front", ""]


def test_f_folds_the_dart_under_the_pointer_and_opens_it_again() -> None:
    """Folding is a way of looking: the design is the same."""
    at = AtTable(first_steps(0))
    shoulder_dart = at.piece("front").dart("front.shoulder_dart")
    at.hover(at.on("front", inside(shoulder_dart)))
    at.press_key(Qt.Key.Key_F)
    shown = at.table.scene.piece("front")
    assert shown is not None
    assert [dart.name for dart in shown.shown.darts] == ["front.waist_dart"]
    at.press_key(Qt.Key.Key_F)
    assert at.table.scene.folded("front") == ()
    assert at.acts() == 0


def test_handles_are_widgets_that_say_where_they_are() -> None:
    """Assistive technology finds a child widget for each point, named, on its place, large enough to hit."""
    at = AtTable(concert())
    at.click(at.on("front yoke", tuple(at.piece("front yoke").edge("sheer_line").points[20])))
    names = [handle.accessible_name for handle in at.table.shown_handles]
    assert names[0].startswith("Point 1 of sheer line, x 0.0 mm, y ")
    for handle in at.table.shown_handles:
        widgets = [w for w in at.table.findChildren(QWidget) if w.accessibleName() == handle.accessible_name]
        assert len(widgets) == 1
        centre = widgets[0].geometry().center()
        x, y = at.table.view.to_pixels(handle.at)
        assert hypot(centre.x() - x, centre.y() - y) < 2.0
        assert min(widgets[0].width(), widgets[0].height()) >= 24


def test_a_seam_can_be_shown_from_outside() -> None:
    """Its two sides are drawn firmly where they lie, and brought into view."""
    at = AtTable(concert())
    at.table.zoom_by(20.0)
    at.table.reveal_seam("front.sheer_line")
    middle = at.table.scene.seam_paths(at.session.replay.garment.seam("front.sheer_line"))[0]
    assert at.table.rect().contains(at.pixel(tuple(middle[len(middle) // 2])))


@pytest.mark.parametrize("name", ["light", "dark", "contrast"])
def test_cloth_is_seen_in_every_theme(name: ThemeName) -> None:
    """Where a main panel lies the table shows its tint; beside it, the table top."""
    at = AtTable(first_steps(0))
    theme = theme_for(name)
    at.table.set_theme(theme)
    at.settle()
    picture = at.table.grab().toImage()
    ratio = at.table.devicePixelRatioF()

    def colour(place: tuple[float, float]) -> QColor:
        pixel = at.pixel(place)
        return picture.pixelColor(round(pixel.x() * ratio), round(pixel.y() * ratio))

    assert colour(at.on("front", (30.0, 40.0))) == QColor(theme.main)
    assert colour(at.on("front", (-25.0, 41.0))) == QColor(theme.table)


def test_a_piece_that_has_not_changed_keeps_its_picture() -> None:
    """Painting again draws no piece anew: the record of a piece on the table is the same object."""
    at = AtTable(first_steps(4))
    before = at.table.scene.laid
    at.table.refresh()
    at.settle()
    assert at.table.scene.laid is before


def test_pieces_and_lines_can_be_chosen_by_keys() -> None:
    """Each piece and each line is a child for assistive technology; Enter takes it up, its points follow."""
    at = AtTable(concert())
    at.table.focus_handle(at.handle("Piece 3 side front").key)
    at.press_key(Qt.Key.Key_Return)
    assert at.table.selection == "side front"
    at.table.focus_handle(at.handle("Sheer line").key)
    at.press_key(Qt.Key.Key_Return)
    focused = at.table.focused_handle
    assert focused is not None
    assert focused.accessible_name.startswith("Point 1 of sheer line")
