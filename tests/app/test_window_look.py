from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QCheckBox, QComboBox, QStyle, QStyleOptionButton

from app.theme import THEMES, Theme, palette_for
from app.window.look import stylesheet_for
from tests.app.at_window import text_size
from tests.app.test_theme import contrast

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.mark.parametrize("is_ticked", [False, True], ids=["empty", "ticked"])
@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_a_box_and_its_tick_stand_out_in_every_theme(qtbot: QtBot, theme: Theme, *, is_ticked: bool) -> None:
    """The frame keeps 3:1 against what lies round it, the tick against the box (WCAG 2.2, 1.4.11)."""
    box = box_in(qtbot, theme, is_ticked=is_ticked)
    option = QStyleOptionButton()
    box.initStyleOption(option)
    lies = box.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, box)
    picture = box.grab().toImage()
    frame = picture.pixelColor(lies.left(), lies.center().y())
    assert contrast(frame, QColor(theme.paper)) >= 3.0
    inside = lies.adjusted(3, 3, -3, -3)
    spots = [(x, y) for x in range(inside.left(), inside.right()) for y in range(inside.top(), inside.bottom())]
    most = max(contrast(picture.pixelColor(x, y), QColor(theme.label)) for x, y in spots)
    assert (most >= 3.0) == is_ticked


def box_in(qtbot: QtBot, theme: Theme, *, is_ticked: bool) -> QCheckBox:
    """A box that is dressed in a theme."""
    box = QCheckBox("Both sides alike")
    qtbot.addWidget(box)
    box.setPalette(palette_for(theme))
    box.setStyleSheet(stylesheet_for(theme))
    box.setChecked(is_ticked)
    box.show()
    return box


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_a_list_to_choose_from_has_its_frame_and_its_arrow_in_every_theme(qtbot: QtBot, theme: Theme) -> None:
    """Both keep 3:1 against what lies round them (WCAG 2.2, 1.4.11)."""
    choice = QComboBox()
    qtbot.addWidget(choice)
    choice.setPalette(palette_for(theme))
    choice.setStyleSheet(stylesheet_for(theme))
    choice.resize(200, 30)
    choice.show()
    picture = choice.grab().toImage()
    assert contrast(picture.pixelColor(0, 15), QColor(theme.paper)) >= 3.0
    arrow = [picture.pixelColor(x, y) for x in range(178, 196) for y in range(6, 24)]
    assert max(contrast(pixel, QColor(theme.label)) for pixel in arrow) >= 3.0


def test_a_box_grows_with_the_text(qtbot: QtBot) -> None:
    """At twice the text size a box is nearly twice as large (WCAG 2.2, 1.4.4)."""
    once = edge_of(box_in(qtbot, THEMES["light"], is_ticked=True))
    with text_size(2):
        assert edge_of(box_in(qtbot, THEMES["light"], is_ticked=True)) >= 1.8 * once


def edge_of(box: QCheckBox) -> int:
    """How many pixels the box is wide."""
    option = QStyleOptionButton()
    box.initStyleOption(option)
    return box.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, box).width()
