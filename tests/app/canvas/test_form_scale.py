"""The scale of an edge on the form."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from app.canvas.form_scale import DASHES, FormScale, edge_pen
from app.theme import THEMES, Theme
from core.form.scale import SCALE_WORDS


def _shine(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definitions)."""
    seen = QColor(colour)
    parts = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (seen.redF(), seen.greenF(), seen.blueF())
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_every_place_of_the_scale_differs_by_pattern_too(theme: Theme) -> None:
    """No two share a colour or a pattern; what is judged keeps 3:1 on its rim (WCAG 2.2, 1.4.11)."""
    pens = [edge_pen(theme, kind) for kind in range(len(SCALE_WORDS))]
    assert len({pen.color().name() for pen in pens}) == len(SCALE_WORDS)
    assert len(set(DASHES)) == len(SCALE_WORDS)
    rim = _shine(theme.label)
    for pen in pens[:-1]:
        high, low = sorted((_shine(pen.color().name()), rim), reverse=True)
        assert (high + 0.05) / (low + 0.05) >= 3.0


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_the_scale_wears_the_colours_of_the_verdicts(theme: Theme) -> None:
    """What lies close, may stand off and stands off is coloured as good, check and wrong are in every table."""
    assert theme.excess[:3] == tuple(theme.verdicts[name] for name in ("good", "check", "wrong"))


@pytest.mark.parametrize("wide", [150, 320, 900])
def test_all_words_fit_at_any_width(qtbot: QtBot, wide: int) -> None:
    """Narrow, they take more rows; none runs over another, and the widget is as high as its rows."""
    scale = FormScale(THEMES["light"])
    qtbot.addWidget(scale)
    scale.resize(wide, 20)
    scale.show()
    places = scale.places()
    assert all(not a.intersects(b) for i, a in enumerate(places) for b in places[:i])
    assert scale.height() >= places[-1].bottom()
