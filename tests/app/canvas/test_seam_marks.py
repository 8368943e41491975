"""The marks of seams never stand on the name or number of their piece, nor on one another, in a usual window."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPixmap

from app.canvas import seam_marks
from core.design.design import Design
from tests.app.at_table import AtTable
from tests.demo_designs import concert, gala, ice, stage

DISC = seam_marks.RADIUS - 1.0
"""Pixels from a mark's middle that are surely its own."""


def stood(at: AtTable, monkeypatch: pytest.MonkeyPatch) -> dict[str, list[QPointF]]:
    """Where the marks of each piece stand, in pixels."""
    found: dict[str, list[QPointF]] = {}

    def note(*drawn: object, centre: QPointF, **_: object) -> None:
        mark = drawn[-1]
        assert isinstance(mark, seam_marks.Mark)
        found.setdefault(mark.piece, []).append(centre)

    monkeypatch.setattr(seam_marks, "_draw", note)
    at.table.grab()
    return found


@pytest.mark.parametrize("size", [(1000, 760), (1900, 1000)])
@pytest.mark.parametrize("design", [concert, gala, ice, stage])
def test_no_mark_stands_on_a_label_or_on_another_mark(
    design: Callable[[], Design], size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """All demos, in a usual window and in a large one; of the ball's 18 pieces the cups are as wide as three marks."""
    at = AtTable(design(), size=size)
    marks = stood(at, monkeypatch)
    assert sum(map(len, marks.values())) > 6
    picture = QPixmap(at.table.size())
    with QPainter(picture) as painter:
        sheet = at.table.sheet(painter)
        labels = {item.name: at.table.pictures.label_box(sheet, item) for item in at.table.scene.laid}
    for piece, centres in marks.items():
        discs = [QRectF(at.x() - DISC, at.y() - DISC, 2 * DISC, 2 * DISC) for at in centres]
        assert not any(disc.intersects(labels[piece]) for disc in discs), f"a mark stands on the label of {piece}"
        assert not any(a.intersects(b) for a, b in combinations(discs, 2)), f"two marks of {piece} meet"
