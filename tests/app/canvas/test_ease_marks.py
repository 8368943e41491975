"""Ease and gathers as they are marked on the pieces."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QImage

from core.geometry.polyline import point_at, tangent_at
from core.pieces.easing import eased_on, limits_on
from core.pieces.places import Place
from core.steps.pivot import Pivot
from tests.app.at_table import AtTable, first_steps

SIDE = Place("front.side", "waist", share=0.5)


def gathered() -> AtTable:
    """Half of the front shoulder dart gathered into the side seam over 1 1/2 in on each side of its middle."""
    step = Pivot("p", "front", "front.shoulder_dart", place=SIDE, share=0.5, becomes="gathers", reach=38.1)
    return AtTable(first_steps(0).with_step(step))


def grey(at: AtTable) -> NDArray[np.float64]:
    """The table as it is painted, 0 black to 255 white, by rows."""
    picture = at.table.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(picture.constBits(), dtype=np.uint8).reshape(picture.height(), picture.bytesPerLine())
    return rows[:, : picture.width()].astype(float)


def inked(at: AtTable, first: float, last: float) -> float:
    """The share of places from 3 to 7 pixels inside the side seam that are darker than the bare cloth, between mm."""
    edge, scale, picture = at.piece("front").edge("side"), at.table.view.scale, grey(at)
    found = []
    for along in np.arange(first, last, 1.0 / scale):
        (x, y), angle = point_at(edge.points, along), tangent_at(edge.points, along)
        for inward in np.arange(3.0, 7.5, 0.5) / scale:
            pixel = at.pixel(at.on("front", (x - inward * np.sin(angle), y + inward * np.cos(angle))))
            found.append(picture[pixel.y(), pixel.x()])
    return float(np.mean(np.array(found) < np.median(found) - 8.0))


def test_the_stretch_is_waved_between_its_limits_and_nowhere_else() -> None:
    """A quarter of the strip along the edge is inked where it is gathered, next to nothing beyond the upper limit.

    The seam's mark and its words stand elsewhere: near the middle of the edge and farther in.
    """
    at = gathered()
    edge = at.piece("front").edge("side")
    (held,) = eased_on(at.piece("front"), edge)
    first, last = limits_on(edge, held)
    assert inked(at, first + 3.0, first + 25.0) > 0.15
    assert inked(at, last + 3.0, last + 20.0) < 0.05


def test_the_amount_is_written_in_her_unit() -> None:
    """Inches and centimetres give different words, so a kept picture is drawn anew when the unit changes."""
    at = gathered()
    inches = at.table.look()
    at.table.set_unit("cm")
    at.settle()
    assert (inches.unit, at.table.look().unit) == ("in", "cm")
    assert at.table.look() is at.table.look()
