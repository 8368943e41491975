"""The scale of an edge on the form."""

from __future__ import annotations

import numpy as np

from core.form.line import LaidLine
from core.form.scale import line_kinds, runs


def test_colours_of_a_line_say_gape_ease_and_strain() -> None:
    """Per 100 mm over the wanted ease: 1 lies close, 4 may, 9 stands off; shorter than the body pulls; else mute."""
    count = 401
    along = np.arange(count, dtype=np.float64)
    share = np.repeat([0.02, 0.05, 0.10, -0.04], 100)
    places = np.zeros((count, 3))
    places[1:, 0] = np.cumsum(1.0 - share)
    quoted = np.ones(count, dtype=np.bool_)
    quoted[:2] = False
    line = LaidLine("sheer", along, along, places, along, along, along, quoted)
    kinds = line_kinds(line, 0.01)
    assert kinds[[0, 50, 150, 250, 350]].tolist() == [4, 0, 1, 2, 3]
    parts = runs(line, 0.01)
    assert sum(len(path) - 1 for path, _ in parts) == count - 1
    assert [kind for _, kind in parts][:2] == [4, 0]
