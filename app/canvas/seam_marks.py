"""Match marks: on both sides of every seam a sign in the verdict's colour, and by how much a side is too long."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import product
from math import atan2, cos, sin

import msgspec
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from app.canvas.laid import Laid
from app.canvas.paths import Frame
from app.canvas.piece_drawing import Look, Sheet
from app.canvas.piece_marks import fold_room, met, small
from core.checks.seam_rows import seam_row
from core.checks.verdict import SIGNS, Verdict
from core.geometry.polyline import Point, Points
from core.pieces.records import Edge, Garment
from core.pieces.seams import Link, Match, matches
from core.units import Unit, show_length

RADIUS = 8.0
SMALL_RADIUS = 6.5
"""Pixels of a mark, and of one that says nothing has to be done."""

INWARD = (13.0, 0.0, -13.0)
"""Pixels from the edge into the piece; where every such place is taken, on the edge itself, then beside the piece."""

CLEAR = 2.0
"""Pixels that a mark with its words keeps from a label, and from other marks of its piece."""

SHARES = (0.44, 0.7, 0.2, 0.85, 0.3, 0.57, 0.1, 0.93)
"""Shares of an edge at which a mark may stand, the usual one first: near the middle, off where a notch would stand."""

SHORTEST = 30.0
"""A side shorter than so many pixels carries no mark."""


class Mark(msgspec.Struct, frozen=True, eq=False):
    """A seam's mark on one of its sides: at which edge, the verdict, and words where it is not exact."""

    seam: str
    piece: str
    edge: Edge
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
            made.append(Mark(row.name, link.piece.name, link.edge, row.verdict, words))
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


class _Ground(msgspec.Struct, frozen=True, eq=False):
    """A piece that marks stand on, its frame, and the pixels of its label, fold sign and the marks on it so far."""

    item: Laid
    frame: Frame
    taken: list[QRectF]


def draw_seam_marks(
    sheet: Sheet, table: Sequence[Laid], marks: Sequence[Mark], *, label: Callable[[Laid], QRectF]
) -> None:
    """Draw the marks of all seams on the pieces as they lie, off what is written; `label` tells where a name stands."""
    grounds = {item.name: _ground(sheet, item, label(item)) for item in table}
    font = small(sheet.look.font)
    metrics = QFontMetricsF(font)
    sheet.painter.setFont(font)
    for mark in marks:
        ground = grounds.get(mark.piece)
        if ground is not None and mark.edge.length * sheet.frame.scale > SHORTEST:
            _draw(sheet, mark, centre=_free(ground, mark, metrics), font=font)


def _ground(sheet: Sheet, item: Laid, label: QRectF) -> _Ground:
    frame = sheet.frame.moved(item.place)
    folds = [fold_room(frame, edge, sheet.look.font) for edge in item.shown.edges if edge.kind == "fold"]
    return _Ground(item, frame, [label, *folds])


def _free(ground: _Ground, mark: Mark, metrics: QFontMetricsF) -> QPointF:
    """Where the mark stands: the first place at which it meets nothing that is written; else where it meets least."""
    shown = shown_edge(ground.item, mark.edge) if ground.item.folded else None
    points = (shown or mark.edge).points
    best, least = QPointF(), float("inf")
    for inward, share in product(INWARD, SHARES):
        centre = _inward(ground.frame, *_stand(points, share), inward)
        shared = met(_room(mark, centre, metrics), ground.taken)
        if shared < least:
            best, least = centre, shared
        if not shared:
            break
    ground.taken.append(_room(mark, best, metrics))
    return best


def _room(mark: Mark, centre: QPointF, metrics: QFontMetricsF) -> QRectF:
    """The pixels that a mark takes with its words, and a little round it."""
    radius = _radius(mark) + CLEAR
    disc = QRectF(centre.x() - radius, centre.y() - radius, 2 * radius, 2 * radius)
    return disc.united(_words_box(mark.words, centre, metrics)) if mark.words else disc


def _radius(mark: Mark) -> float:
    return SMALL_RADIUS if mark.verdict == "exact" else RADIUS


def _inward(frame: Frame, at: Point, direction: float, inward: float) -> QPointF:
    off = inward / frame.scale
    return frame.point((at[0] - off * sin(direction), at[1] + off * cos(direction)))


def _stand(points: Points, share: float) -> tuple[Point, float]:
    """A place at a share of a polyline's chords, and the direction there; quicker found than by its length."""
    along = share * (len(points) - 1)
    index = int(along)
    (x1, y1), (x2, y2) = points[index : index + 2].tolist()
    dx, dy = x2 - x1, y2 - y1
    return (x1 + (along - index) * dx, y1 + (along - index) * dy), atan2(dy, dx)


def _draw(sheet: Sheet, mark: Mark, *, centre: QPointF, font: QFont) -> None:
    look = sheet.look
    radius = _radius(mark)
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
    box = _words_box(words, centre, QFontMetricsF(font))
    sheet.painter.setPen(Qt.PenStyle.NoPen)
    sheet.painter.setBrush(QColor(sheet.look.inks.theme.label))
    sheet.painter.drawRoundedRect(box, 3, 3)
    sheet.painter.setPen(colour)
    sheet.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def _words_box(words: str, centre: QPointF, metrics: QFontMetricsF) -> QRectF:
    """The ground of a mark's words, right of it."""
    width = metrics.horizontalAdvance(words) + 8
    return QRectF(centre.x() + RADIUS + 3, centre.y() - metrics.height() / 2 - 1, width, metrics.height() + 2)
