"""Match marks: on both sides of every seam a sign in the verdict's colour, and by how much a side is too long."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from math import atan2, cos, sin

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from app.canvas.laid import Laid
from app.canvas.paths import Frame
from app.canvas.piece_drawing import Look, Sheet
from app.canvas.piece_marks import small
from core.checks.seam_rows import seam_row
from core.checks.verdict import SIGNS, Verdict
from core.geometry.polyline import Point, Points
from core.pieces.records import Edge, Garment
from core.pieces.seams import Link, Match, matches
from core.units import Unit, show_length

RADIUS = 8.0
SMALL_RADIUS = 6.5
"""Pixels of a mark, and of one that says nothing has to be done."""

INWARD = 13.0
"""Pixels from the edge into the piece."""

LABEL = (36.0, 36.0, 28.0)
"""Pixels that a mark keeps from the middle of a label: to both sides, above, below."""

USUAL = 0.44
"""The share of an edge at which a mark stands: near the middle, off where a label or a notch would stand."""

ELSEWHERE = (0.7, 0.2, 0.85)
"""Shares of an edge at which a mark may stand when its usual place is a label's."""

SHORTEST = 30.0
"""A side shorter than so many pixels carries no mark."""


@dataclass(frozen=True, eq=False, slots=True)
class Mark:
    """A seam's mark on one of its sides: at which edge and where on it, the verdict, and words where it is not exact.

    `direction` in radians is the edge's own at `at`, in the flat piece.
    """

    seam: str
    piece: str
    edge: Edge
    at: Point
    direction: float
    verdict: Verdict
    words: str


def seam_marks(garment: Garment, unit: Unit) -> list[Mark]:
    """Two marks for every seam whose sides are there."""
    return [mark for found in matches(garment) for mark in _marks(found, unit)]


def _marks(found: Match, unit: Unit) -> list[Mark]:
    row = seam_row(found)
    out = "" if row.verdict == "exact" else show_length(abs(row.difference), unit)
    made = []
    for chain, is_longer in ((found.a, row.difference > 0), (found.b, row.difference < 0)):
        if chain:
            link = max(chain, key=_length)
            words = f"{out} too long" if out and is_longer else ""
            at, direction = _stand(link.edge.points, USUAL)
            made.append(Mark(row.name, link.piece.name, link.edge, at, direction, row.verdict, words))
    return made


def _length(link: Link) -> float:
    return link.edge.length


def shown_edge(item: Laid, edge: Edge) -> Edge | None:
    """The edge of the piece as it is shown that holds the same stretch as an edge of the flat piece."""
    middle = (edge.origin.start + edge.origin.stop) / 2
    for other in item.shown.edges:
        low, high = sorted((other.origin.start, other.origin.stop))
        same = (other.origin.edge, other.origin.side) == (edge.origin.edge, edge.origin.side)
        if same and low <= middle <= high and other.kind == edge.kind:
            return other
    return None


@dataclass(frozen=True, eq=False, slots=True)
class _Ground:
    """A piece that marks stand on: the frame it lies in, and the pixel of its label."""

    item: Laid
    frame: Frame
    label: QPointF


def draw_seam_marks(
    sheet: Sheet, table: Sequence[Laid], marks: Sequence[Mark], *, label: Callable[[Laid], Point]
) -> None:
    """Draw the marks of all seams on the pieces as they lie, off their labels; `label` tells where one stands."""
    frames = [(item, sheet.frame.moved(item.place)) for item in table]
    grounds = {item.name: _Ground(item, frame, frame.point(label(item))) for item, frame in frames}
    font = small(sheet.look.font)
    sheet.painter.setFont(font)
    for mark in marks:
        ground = grounds.get(mark.piece)
        if ground is not None and mark.edge.length * sheet.frame.scale > SHORTEST:
            _draw(sheet, mark, centre=_off_label(ground, mark), font=font)


def _off_label(ground: _Ground, mark: Mark) -> QPointF:
    """Where the mark stands: by its usual place, or farther along the edge when a label is there."""
    places: list[QPointF] = []
    for at, direction in _lying(ground.item, mark):
        places.append(_inward(ground.frame, at, direction))
        off = places[-1] - ground.label
        if abs(off.x()) > LABEL[0] or not -LABEL[1] < off.y() < LABEL[2]:
            return places[-1]
    return max(places, key=lambda place: QLineF(place, ground.label).length())


def _inward(frame: Frame, at: Point, direction: float) -> QPointF:
    off = INWARD / frame.scale
    return frame.point((at[0] - off * sin(direction), at[1] + off * cos(direction)))


def _lying(item: Laid, mark: Mark) -> Iterator[tuple[Point, float]]:
    """Where the mark may stand on the piece as it is shown, the usual place first, each with the edge's direction.

    The others are worked out only when they are asked for: nearly every mark stands at its usual place.
    """
    shown = shown_edge(item, mark.edge) if item.folded else None
    edge = shown if shown is not None else mark.edge
    yield _stand(edge.points, USUAL) if shown is not None else (mark.at, mark.direction)
    for share in ELSEWHERE:
        yield _stand(edge.points, share)


def _stand(points: Points, share: float) -> tuple[Point, float]:
    """A place at a share of a polyline's chords, and the direction there; quicker found than by its length."""
    along = share * (len(points) - 1)
    index = int(along)
    (x1, y1), (x2, y2) = points[index : index + 2].tolist()
    dx, dy = x2 - x1, y2 - y1
    return (x1 + (along - index) * dx, y1 + (along - index) * dy), atan2(dy, dx)


def _draw(sheet: Sheet, mark: Mark, *, centre: QPointF, font: QFont) -> None:
    look = sheet.look
    radius = SMALL_RADIUS if mark.verdict == "exact" else RADIUS
    box = partial(QRectF, -radius - 1, -radius - 1, 2 * radius + 2, 2 * radius + 2)
    draw = partial(_disc, verdict=mark.verdict, radius=radius, look=look)
    look.stamps.put(sheet.painter, ("mark", mark.verdict), centre, box=box, draw=draw)
    if mark.words:
        _words(sheet, mark.words, centre, QColor(look.inks.theme.verdicts[mark.verdict]), font=font)


def _disc(painter: QPainter, *, verdict: Verdict, radius: float, look: Look) -> None:
    """The sign in a ring."""
    painter.setPen(QPen(QColor(look.inks.theme.verdicts[verdict]), 1.4))
    painter.setBrush(QColor(look.inks.theme.label))
    painter.drawEllipse(QPointF(0, 0), radius, radius)
    painter.setFont(small(look.font))
    painter.drawText(QRectF(-radius, -radius, 2 * radius, 2 * radius), Qt.AlignmentFlag.AlignCenter, SIGNS[verdict])


def _words(sheet: Sheet, words: str, centre: QPointF, colour: QColor, *, font: QFont) -> None:
    metrics = QFontMetricsF(font)
    width = metrics.horizontalAdvance(words) + 8
    box = QRectF(centre.x() + RADIUS + 3, centre.y() - metrics.height() / 2 - 1, width, metrics.height() + 2)
    sheet.painter.setPen(Qt.PenStyle.NoPen)
    sheet.painter.setBrush(QColor(sheet.look.inks.theme.label))
    sheet.painter.drawRoundedRect(box, 3, 3)
    sheet.painter.setPen(colour)
    sheet.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
