from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from PySide6.QtGui import QColor, QPalette

from app.theme import THEMES, TONES, Theme, Tone, palette_for
from core.form.picture import NET, View, tints

Role = QPalette.ColorRole


def luminance(colour: QColor) -> float:
    """Relative luminance (WCAG 2.2, definition of relative luminance)."""
    channels = (colour.redF(), colour.greenF(), colour.blueF())
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(first: QColor, second: QColor) -> float:
    """Contrast ratio (WCAG 2.2, definition of contrast ratio)."""
    low, high = sorted((luminance(first), luminance(second)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_text_stands_out_from_every_ground_it_is_written_on(theme: Theme) -> None:
    """Text, faint text and the verdicts keep 4.5:1 on paper and on fields (WCAG 2.2, 1.4.3)."""
    inks = (theme.ink, theme.faint_text, *theme.verdicts.values())
    for ink, ground in product(inks, (theme.paper, theme.label)):
        assert contrast(QColor(ink), QColor(ground)) >= 4.5, (ink, ground)


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_the_palette_is_readable(theme: Theme) -> None:
    """Qt's own widgets write 4.5:1 too, selected rows included, and what rests keeps 3:1."""
    palette = palette_for(theme)
    pairs = (
        (Role.WindowText, Role.Window),
        (Role.Text, Role.Base),
        (Role.ButtonText, Role.Button),
        (Role.HighlightedText, Role.Highlight),
        (Role.ToolTipText, Role.ToolTipBase),
        (Role.PlaceholderText, Role.Base),
    )
    for ink, ground in pairs:
        assert contrast(palette.color(ink), palette.color(ground)) >= 4.5, (ink, ground)
    resting = palette.color(QPalette.ColorGroup.Disabled, Role.ButtonText)
    assert contrast(resting, palette.color(Role.Button)) >= 3.0


def _lit(tone: Tone) -> tuple[QColor, ...]:
    """The form, main fabric, the sheer and its thread as they are drawn in full light."""
    lit = View(0.0, 1.0, (0.0, 0.0), np.zeros((NET, NET), np.int32), np.ones((NET, NET)), np.zeros((NET, NET)))
    skin, main, sheer = tints(lit, tone.cloths, ("#000000", "#000000"))
    return QColor(int(skin[0, 0])), QColor(int(main[0, 0])), QColor(int(sheer[0, 1])), QColor(int(sheer[0, 0]))


@pytest.mark.parametrize("tone", TONES.values(), ids=TONES)
def test_cloth_is_told_on_a_form_of_every_tone(tone: Tone) -> None:
    """Main fabric 2:1 and sheer 1.5:1 against the form, main fabric and sheer 1.3:1, the net 1.5:1 (house values).

    The line between the two is drawn besides, and sheer is a net: no cloth is told by its lightness alone.
    """
    skin, main, sheer, thread = _lit(tone)
    assert contrast(main, skin) >= 2.0
    assert contrast(sheer, skin) >= 1.5
    assert contrast(sheer, main) >= 1.3
    assert contrast(thread, sheer) >= 1.5


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_an_edge_on_the_form_is_told_on_every_cloth_and_tone(theme: Theme) -> None:
    """Each colour of the scale and each mark keeps 3:1 against the light rim that is drawn under it (WCAG 2.2, 1.4.11).

    So does the thin line round the form against what lies round it, whatever the tone.
    """
    for ink in (*theme.excess, theme.pencil):
        assert contrast(QColor(ink), QColor(theme.label)) >= 3.0, ink
    assert contrast(QColor(theme.pencil), QColor(theme.table)) >= 3.0
