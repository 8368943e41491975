"""What is written on pieces on the table stays on them."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QPainter, QPixmap

from app.canvas.label_place import label_place
from app.canvas.piece_marks import label_lines, room_along
from tests.app.at_table import AtTable
from tests.samples import design


def test_the_room_beside_a_place_ends_where_the_outline_is_met() -> None:
    """Level to both sides of the middle of the centre front: four fifths of the way to the nearer side, to 0.1 mm."""
    at = AtTable(design("ball"))
    piece = at.session.replay.garment.piece("centre front")
    x, y = label_place(piece)
    sides = [
        a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        for edge in piece.edges
        for a, b in zip(edge.points[:-1], edge.points[1:], strict=True)
        if (a[1] <= y) != (b[1] <= y)
    ]
    assert room_along(piece, (x, y), (1.0, 0.0)) == pytest.approx(0.8 * min(abs(side - x) for side in sides), abs=0.1)


def test_a_name_that_would_run_off_its_piece_is_left_out() -> None:
    """With the whole garment in view the side front has room for its name, a small part of a cup for its number."""
    at = AtTable(design("ball"), size=(790, 480))
    at.table.fit_all()
    picture = QPixmap(at.table.size())
    with QPainter(picture) as painter:
        sheet = at.table.sheet(painter)
        pieces = [at.session.replay.garment.piece(name) for name in ("side front", "foam outer lower cup")]
        lines = [label_lines(sheet, piece, label_place(piece)) for piece in pieces]
    assert " ".join(lines[0]) == "side front"
    assert lines[1] == []
