"""What is seen: contrast, colours told apart, large text, longer words, fine screens, and nothing that moves."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from pytestqt.qtbot import QtBot

from app.canvas.rulers import Ruler
from app.theme import DARK, THEMES, Theme
from app.window.look import theme_now
from tests.app.at_table import AtTable
from tests.app.at_window import opened, text_size
from tests.app.test_theme import contrast
from tests.demo_designs import concert

APP = Path(__file__).parents[3] / "app"


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_the_ring_of_the_keyboard_stands_out(theme: Theme) -> None:
    """3:1 to everything it is drawn on (WCAG 2.2, 2.4.7 and 1.4.11)."""
    for ground in (theme.paper, theme.label, theme.table, theme.main, theme.sheer, theme.cup, theme.lining):
        assert contrast(QColor(theme.focus), QColor(ground)) >= 3.0, ground


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_lines_and_handles_stand_out_from_cloth_and_table(theme: Theme) -> None:
    """Stitching lines, drawn lines, handles and snaps keep 3:1 (WCAG 2.2, 1.4.11)."""
    inks = (theme.pencil, theme.chalk, theme.handle, theme.snap, theme.selected)
    grounds = (theme.paper, theme.table, theme.main, theme.sheer, theme.lining, theme.cup, theme.interlining)
    for ink, ground in product(inks, grounds):
        assert contrast(QColor(ink), QColor(ground)) >= 3.0, (ink, ground)


SEEN = {
    "protanopia": ((0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deuteranopia": ((0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "tritanopia": ((1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}
"""Linear RGB as eyes without one kind of cone see it (Machado, Oliveira, Fernandes 2009, severity 1; from memory)."""


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
@pytest.mark.parametrize("eyes", SEEN)
def test_what_is_in_hand_is_told_from_what_is_chosen_without_red_or_green(eyes: str, theme: Theme) -> None:
    """Chalk and selection stay farther apart than 20 of CIE 1976 L*a*b*, where 2 can be seen side by side."""
    assert np.linalg.norm(lab(theme.chalk, eyes) - lab(theme.selected, eyes)) > 20.0


def lab(colour: str, eyes: str) -> NDArray[np.float64]:
    """CIE L*a*b* (D65) of a colour as those eyes see it; IEC 61966-2-1 for sRGB, CIE 15 for the rest."""
    ink = QColor(colour)
    shades = np.array((ink.redF(), ink.greenF(), ink.blueF()))
    linear = np.where(shades <= 0.04045, shades / 12.92, ((shades + 0.055) / 1.055) ** 2.4)
    seen = np.clip(np.array(SEEN[eyes]) @ linear, 0.0, 1.0)
    to_xyz = np.array(((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505)))
    ratio = to_xyz @ seen / np.array((0.9505, 1.0, 1.089))
    bent = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array((116 * bent[1] - 16, 500 * (bent[0] - bent[1]), 200 * (bent[1] - bent[2])))


def test_the_handle_that_has_the_keyboard_is_ringed() -> None:
    """Pixels about it take the colour of the ring, and lose it when the keyboard goes elsewhere."""
    at = AtTable(concert(), tool="choose")
    at.click(at.on("front yoke", tuple(at.piece("front yoke").edge("sheer_line").points[20])))
    handle = at.handle("Point 2 of sheer line")
    spot = QRect(at.pixel(handle.at).x() - 14, at.pixel(handle.at).y() - 14, 28, 28)

    def ring() -> int:
        image = at.table.grab(spot).toImage()
        colour = QColor(at.table.theme.focus).rgb()
        return sum(image.pixel(x, y) == colour for x, y in product(range(image.width()), range(image.height())))

    before = ring()
    at.table.focus_handle(handle.key)
    at.settle()
    assert ring() > before + 8


def test_a_screen_that_is_gone_does_not_keep_the_window(qtbot: QtBot) -> None:
    """Left on a second screen far to the right, the window comes back on one that is there."""
    window = opened(qtbot)
    window.move(20_000, 12_000)
    window._keep_on_screen()
    screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
    assert any(screen.intersects(window.geometry()) for screen in screens)


def test_the_colours_follow_the_desktop(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing was chosen, a dark desktop makes the window dark; a choice of hers wins."""

    class Hints:
        def accessibility(self) -> Hints:
            return self

        def contrastPreference(self) -> Qt.ContrastPreference:  # noqa: N802 # Qt's own name
            return Qt.ContrastPreference.NoPreference

        def colorScheme(self) -> Qt.ColorScheme:  # noqa: N802 # Qt's own name
            return Qt.ColorScheme.Dark

    monkeypatch.setattr("app.window.look.QGuiApplication.styleHints", Hints)
    assert theme_now(None) is DARK
    assert theme_now("contrast").name == "contrast"


def test_at_twice_the_text_the_table_keeps_its_share_and_figures_are_whole(qtbot: QtBot) -> None:
    """At 1280 x 800 two fifths of each way are the table's; no figure touches the rulers' edges (WCAG 2.2, 1.4.4)."""
    with text_size(2):
        window = opened(qtbot, demo=True)
        window.resize(1280, 800)
        qtbot.waitUntil(lambda: window.table.width() >= 0.4 * window.width())
        assert window.table.height() >= 0.4 * window.height()
        for ruler in window.table.findChildren(Ruler):
            image = ruler.grab().toImage()
            paper = QColor(window.table.theme.paper).rgb()
            lies_across = image.width() > image.height()
            first = range(image.width() if lies_across else image.height())
            edge = [image.pixel(n, 0) if lies_across else image.pixel(0, n) for n in first]
            assert all(pixel == paper for pixel in edge)


def test_words_longer_by_two_fifths_still_fit(qtbot: QtBot) -> None:
    """Every button with its words 40 % longer is as wide as it wants to be in a window of 1280 pixels, or wraps."""
    window = opened(qtbot, demo=True)
    for button in window.findChildren(QAbstractButton):
        if button.isVisible() and button.text() and not window.bars.buttons.get(button.objectName()):
            button.setText(button.text() + "n" * round(0.4 * len(button.text())))
    window.resize(1280, 800)
    QApplication.processEvents()
    window.bars.fit(1280)
    QApplication.processEvents()
    assert window.width() == 1280
    for button in window.findChildren(QAbstractButton):
        if button.isVisible() and button.text():
            assert button.width() >= button.minimumSizeHint().width(), button.text()
            assert button.mapTo(window, button.rect().bottomRight()).x() <= 1280, button.text()
    for label in window.findChildren(QLabel):
        if label.isVisible() and label.text() and not label.wordWrap() and label.minimumWidth() != 1:
            assert label.width() >= label.minimumSizeHint().width(), label.text()


FINE = """
from app.__main__ import make_window
from PySide6.QtWidgets import QApplication
application = QApplication([])
window = make_window(None, True)
window.resize(1280, 800)
window.show()
application.processEvents()
window.table.focus_handle(window.table.shown_handles[0].key)
handle = window.table.handle_widget(window.table.shown_handles[0].key)
image = window.grab().toImage()
print(window.width(), window.height(), image.width(), image.height(), handle.width(), window.table.width())
import os
os._exit(0)
"""


@pytest.mark.parametrize("scale", [1, 2])
def test_at_scale_2_everything_is_as_large_and_twice_as_fine(scale: int, tmp_path: Path) -> None:
    """The window and its handles keep their size in logical pixels; its picture has twice as many each way."""
    folders = {f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("CONFIG", "STATE", "DATA", "CACHE")}
    surroundings = {**os.environ, **folders, "QT_SCALE_FACTOR": str(scale), "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-c", FINE], env=surroundings, capture_output=True, text=True, timeout=60, check=True
    )
    width, height, across, down, handle, table = map(int, done.stdout.split())
    assert (width, height, handle) == (1280, 800, 24)
    assert (across, down) == (scale * 1280, scale * 800)
    assert table > 600


def test_nothing_moves_by_itself() -> None:
    """No part of the window is animated, and Qt's own parts are not asked to be (WCAG 2.2, 2.3.1; reduced motion)."""
    animated = re.compile(r"Q\w*Animation|setAnimated\(True|QMovie|QTimeLine")
    assert [path.name for path in APP.rglob("*.py") if animated.search(path.read_text(encoding="utf-8"))] == []
