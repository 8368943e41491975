from __future__ import annotations

from itertools import product

import pytest
from PySide6.QtGui import QColor, QPalette

from app.theme import THEMES, Theme, palette_for

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
