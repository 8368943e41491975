"""What is written on a piece: number and name, grain, fold sign, landmarks, names of levels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from math import cos, degrees, pi, remainder, sin
from typing import Final, NamedTuple

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QTransform

from app.canvas.paths import Frame
from app.canvas.piece_drawing import Look, Sheet
from core.geometry.planar import distance_into, inside
from core.geometry.polyline import Point, Points, as_points, length, point_at, tangent_at
from core.geometry.tolerances import ON_EDGE
from core.pieces.names import spoken
from core.pieces.records import Edge, Line, Piece

LEAST_SCALE: Final = 0.6
"""Below so many pixels a mm landmarks and names of levels would lie on one another."""

ROOMY: Final = 2.5
"""From so many pixels a mm on, cut panels have room for the names of their levels."""

WRITTEN: Final = frozenset({"bust_point", "side_neck", "shoulder_point", "neck_pit", "nape", "underarm"})
"""Landmarks that are points of the body; those of levels lie on their lines."""

NAMED_AT: Final = (0.62, 0.38, 0.2, 0.8, 0.5, 0.7, 0.3)
"""The shares of a level's line where its name may stand, the usual one first."""

CLEAR: Final = 30.0
"""Pixels that a level's name keeps from the outline, where the word by the fold stands."""

LABEL_HEIGHT: Final = 20.0
"""Pixels of the name under a piece's number."""

RUNS_OVER: Final = 6.0
"""Pixels by which a word of a name may run over the outline to each side."""

SHORTEST_GRAIN: Final = 14.0
"""Pixels of half the shortest arrow that can be read."""

SHORTEST_FOLD: Final = 60.0
"""Pixels of the shortest fold that has a sign."""

LONGEST_GRAIN: Final = 60.0
"""mm: half of the longest grain arrow."""


def draw_marks(sheet: Sheet, piece: Piece, label: Point, lines: Sequence[str]) -> None:
    """Draw the small marks; `label` is the place of the piece's number and name, in mm, `lines` those of the name."""
    _grain(sheet, piece, label, lines)
    for edge in piece.edges:
        if edge.kind == "fold":
            _fold_sign(sheet, edge)
    if sheet.frame.scale >= LEAST_SCALE:
        _landmarks(sheet, piece)
        if not piece.number or sheet.frame.scale >= ROOMY:
            box = label_box(lines=lines, look=sheet.look).translated(sheet.frame.point(label))
            for words, at, angle, _ in level_names(sheet, piece, box):
                write_along(sheet.painter, words, at, angle, look=sheet.look)


def _landmarks(sheet: Sheet, piece: Piece) -> None:
    """A small cross at each that lies on the cloth: a neckline leaves some of them behind."""
    sheet.painter.setPen(sheet.look.inks.thin)
    for name, at in piece.landmarks.items():
        if name in WRITTEN and distance_into(piece.loop, at) > -ON_EDGE:
            centre = sheet.frame.point(at)
            sheet.painter.drawLine(centre + QPointF(-4, 0), centre + QPointF(4, 0))
            sheet.painter.drawLine(centre + QPointF(0, -4), centre + QPointF(0, 4))


class LevelName(NamedTuple):
    """A level's name, the pixel it is centred above, its direction in radians, and the pixels it takes."""

    words: str
    at: QPointF
    angle: float
    box: QRectF


def level_names(sheet: Sheet, piece: Piece, label: QRectF) -> list[LevelName]:
    """The names of the levels, each along its longest stretch, off the label and one another where there is room."""
    found = list[LevelName]()
    for line in piece.lines:
        if line.purpose == "level":
            taken = [label, *(name.box for name in found)]
            found.append(min(_stands(sheet, piece, line), key=lambda stand: met(stand.box, taken)))
    return found


def _stands(sheet: Sheet, piece: Piece, line: Line) -> Iterator[LevelName]:
    """Where the name of a level may stand, the usual place first."""
    longest, words = max(line.stretches, key=length), spoken(line.name)
    for along in name_places(piece, longest, CLEAR / sheet.frame.scale):
        at, angle = sheet.frame.point(point_at(longest, along)), sheet.frame.seen(tangent_at(longest, along))
        yield LevelName(words, at, angle, _box_along(words, at, angle, look=sheet.look))


def name_places(piece: Piece, stretch: Points, clear: float) -> list[float]:
    """How far along a line (mm) its name may stand: the usual places that lie `clear` mm inside, else the first."""
    places = [share * length(stretch) for share in NAMED_AT]
    return [at for at in places if distance_into(piece.loop, point_at(stretch, at)) >= clear] or places[:1]


def met(box: QRectF, taken: Sequence[QRectF]) -> float:
    """The pixels of a box that are taken."""
    both = (box.intersected(other) for other in taken)
    return sum(shared.width() * shared.height() for shared in both)


def _box_along(words: str, at: QPointF, angle: float, *, look: Look) -> QRectF:
    """The pixels round small words that are written along a direction."""
    metrics = QFontMetricsF(small(look.font))
    width = metrics.horizontalAdvance(words)
    turned = QTransform().translate(at.x(), at.y()).rotate(-degrees(_readable(angle)))
    return turned.mapRect(QRectF(-width / 2, -3.0 - metrics.ascent(), width, metrics.height()))


def write_along(painter: QPainter, words: str, at: QPointF, angle: float, *, look: Look) -> None:
    """Small words centred just above a pixel, along a direction in radians, never upside down."""
    painter.save()
    painter.setFont(small(look.font))
    painter.setPen(QColor(look.inks.theme.faint_text))
    painter.translate(at)
    painter.rotate(-degrees(_readable(angle)))
    width = QFontMetricsF(painter.font()).horizontalAdvance(words)
    painter.drawText(QPointF(-width / 2, -3.0), words)
    painter.restore()


def _readable(angle: float) -> float:
    found = remainder(angle, pi)
    return found if found > -pi / 2 else found + pi


def small(font: QFont) -> QFont:
    """The size for notes on a piece."""
    found = QFont(font)
    found.setPointSizeF(max(font.pointSizeF(), 1.0) * 0.82)
    return found


# --------------------------------------------------------------------------------------------------------------
# grain and fold


def _grain(sheet: Sheet, piece: Piece, label: Point, lines: Sequence[str]) -> None:
    """An arrow along the grain beside the label, as long as the piece lets it be."""
    along = (cos(piece.grain), sin(piece.grain))
    found = _grain_place(sheet, piece, (label, lines), along)
    if found is None:
        return
    centre, reach = found
    sheet.painter.setPen(QPen(QColor(sheet.look.inks.theme.faint), 1.2))
    x, y = along
    ends = [sheet.frame.point((centre[0] + sign * reach * x, centre[1] + sign * reach * y)) for sign in (-1, 1)]
    sheet.painter.drawLine(*ends)
    for end, sign in zip(ends, (-1, 1), strict=True):
        for turn in (0.45, -0.45):
            angle = sheet.frame.seen(piece.grain) + turn
            sheet.painter.drawLine(end, end + QPointF(-sign * 8 * cos(angle), sign * 8 * sin(angle)))


def _grain_place(
    sheet: Sheet, piece: Piece, label: tuple[Point, Sequence[str]], along: Point
) -> tuple[Point, float] | None:
    """The arrow's middle and half length in mm, right of the label, left of it or below; None without room."""
    metrics, ((lx, ly), lines) = QFontMetricsF(sheet.look.font), label
    half = max((metrics.horizontalAdvance(line) for line in lines), default=_ring(sheet.look)) / 2
    deep = LABEL_HEIGHT + (len(lines) - 1) * metrics.height()
    aside, below = (half + 14.0) / sheet.frame.scale, (deep + 24.0) / sheet.frame.scale
    x, y = along
    sides = ((lx + aside * y, ly - aside * x), (lx - aside * y, ly + aside * x), (lx - below * x, ly - below * y))
    clear = inside(piece.loop, as_points(sides))
    for centre, is_clear in zip(sides, clear, strict=True):
        reach = min(room_along(piece, centre, along), LONGEST_GRAIN)
        if is_clear and reach * sheet.frame.scale >= SHORTEST_GRAIN:
            return centre, reach
    return None


def room_along(piece: Piece, centre: Point, along: Point) -> float:
    """How far one can go both ways from a point before coming near the outline or a dart, in mm."""
    closed = np.vstack((piece.loop, piece.loop[:1], *[[d.legs[0], d.pivot, d.legs[1]] for d in piece.darts]))
    away = closed - centre
    aside = away[:, 0] * along[1] - away[:, 1] * along[0]
    ahead = away[:, 0] * along[0] + away[:, 1] * along[1]
    crossing = np.sign(aside[:-1]) != np.sign(aside[1:])
    share = aside[:-1][crossing] / (aside[:-1] - aside[1:])[crossing]
    near = np.abs(ahead[:-1][crossing] + share * (ahead[1:] - ahead[:-1])[crossing])
    return float(near.min()) * 0.8 if len(near) else LONGEST_GRAIN


def _fold_ends(frame: Frame, edge: Edge) -> tuple[QPointF, QPointF] | None:
    """The pixels on a fold between which its sign stands; None where it is too short for one."""
    if edge.length * frame.scale < SHORTEST_FOLD:
        return None
    a, b = (frame.point(point_at(edge.points, share * edge.length)) for share in (0.35, 0.65))
    return a, b


def fold_room(frame: Frame, edge: Edge, font: QFont) -> QRectF:
    """The pixels round a fold's sign and its word; none where there is no sign."""
    ends, deep = _fold_ends(frame, edge), 24.0 + QFontMetricsF(small(font)).height()
    return QRectF() if ends is None else QRectF(*ends).normalized().adjusted(-deep, 0.0, deep, 0.0)


def _fold_sign(sheet: Sheet, edge: Edge) -> None:
    """A bracket that points at the fold, and the word."""
    ends, total = _fold_ends(sheet.frame, edge), edge.length
    if ends is None:
        return
    a, b = ends
    direction = sheet.frame.seen(tangent_at(edge.points, total / 2))
    inward = QPointF(-sin(direction), -cos(direction)) * 9.0  # the piece lies left of its outline
    sheet.painter.setPen(sheet.look.inks.outline_fast)
    sheet.painter.drawLine(a + inward, b + inward)
    for end in (a, b):
        sheet.painter.drawLine(end + inward, end + inward * 0.25)
    write_along(sheet.painter, "fold", (a + b) / 2 + inward * 2.6, direction, look=sheet.look)


# --------------------------------------------------------------------------------------------------------------
# label


def draw_label(sheet: Sheet, piece: Piece, label: Point, lines: Sequence[str]) -> None:
    """The number in a ring and the name under it in `lines`: a word a line where the piece is narrow."""
    look = sheet.look
    key = ("label", piece.name, piece.number, len(lines))
    box = partial(label_box, lines=lines, look=look)
    draw = partial(_label, lines=lines, number=piece.number, look=look)
    look.stamps.put(sheet.painter, key, sheet.frame.point(label), box=box, draw=draw)


def label_box(*, lines: Sequence[str], look: Look) -> QRectF:
    """The room of a label round its place, in pixels."""
    metrics, ring = QFontMetricsF(look.font), _ring(look)
    width = max(max((metrics.horizontalAdvance(line) for line in lines), default=0.0) + 4, ring + 4)
    return QRectF(-width / 2, -ring - 2, width, ring + 6 + len(lines) * metrics.height())


def label_lines(sheet: Sheet, piece: Piece, label: Point) -> list[str]:
    """The name in one line, a word a line where that runs over the outline, none where there is but a number's room."""
    if _has_room(sheet, piece, label, [piece.name], over=0.0):
        return [piece.name]
    words = piece.name.split()
    return words if not piece.number or _has_room(sheet, piece, label, words, over=RUNS_OVER) else []


def _has_room(sheet: Sheet, piece: Piece, label: Point, lines: Sequence[str], *, over: float) -> bool:
    """Whether every line under a number lies on the piece, but for `over` pixels to each side."""
    metrics, scale = QFontMetricsF(sheet.look.font), sheet.frame.scale
    downs = [sheet.frame.own((0.0, -(3 + (row + 0.5) * metrics.height()) / scale)) for row in range(len(lines))]
    places = [(label[0] + x, label[1] + y) for x, y in downs]
    if not inside(piece.loop, as_points(places)).all():
        return False
    rooms = [room_along(piece, place, sheet.frame.own((1.0, 0.0))) * scale + over for place in places]
    return all(metrics.horizontalAdvance(line) / 2 <= room for line, room in zip(lines, rooms, strict=True))


def _label(painter: QPainter, *, lines: Sequence[str], number: int, look: Look) -> None:
    painter.setPen(QColor(look.inks.theme.ink))
    if number:
        ring = _ring(look)
        _number(painter, number, QRectF(-ring / 2, -ring, ring, ring), look)
    painter.setFont(look.font)
    metrics = QFontMetricsF(look.font)
    for index, line in enumerate(lines):
        width = metrics.horizontalAdvance(line) + 4
        place = QRectF(-width / 2, (3 if number else 0) + index * metrics.height(), width, metrics.height())
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, line)


def _ring(look: Look) -> float:
    """How wide the ring round a number is, in pixels."""
    return max(26.0, QFontMetricsF(look.font).height() * 1.5)


def _number(painter: QPainter, number: int, ring: QRectF, look: Look) -> None:
    font = QFont(look.font)
    font.setPointSizeF(max(look.font.pointSizeF(), 1.0) * 1.35)
    font.setBold(True)
    painter.setFont(font)
    painter.setBrush(QColor(look.inks.theme.label))
    painter.drawEllipse(ring)
    painter.drawText(ring, Qt.AlignmentFlag.AlignCenter, str(number))
