"""Walking a seam: one edge is rolled along its mate, to see where they part. Nothing is altered."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, sin
from typing import Final

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.canvas.laid import Laid
from app.canvas.piece_drawing import Sheet
from app.canvas.table import CuttingTable
from app.canvas.table_drawing import draw_words
from app.canvas.tool import Handle, Pointer
from app.theme import Theme
from app.tools.seam_tool import SeamTool, along_side
from core.checks.walk import Walk, walk
from core.finishing.notches import Notch, seam_notches
from core.geometry.polyline import Point, Points, as_point, point_at
from core.pieces.names import spoken
from core.pieces.outline import placed_piece
from core.pieces.seams import Link, Match, chain_length, on_chain
from core.units import Unit, show_length

TICK: Final = 7.0
"""Pixels of a notch to each side of its edge."""

SHOWS_THROUGH: Final = 70
"""How opaque the rolling piece is, of 255."""

NAME_OFF: Final = QPointF(56.0, 24.0)
"""Pixels from the middle of the rolling piece to where its name is begun, left and up."""


class WalkTool(SeamTool):
    """Two moments: no seam picked; its second side rolled along its first, to where the handle stands."""

    ask = "Click the seam that is to be walked."

    def __init__(self, table: CuttingTable) -> None:
        super().__init__(table)
        self._at = 0.0
        self._before: float | None = None

    def picked(self) -> None:
        """Lay the two sides together at the first end."""
        self._at, self._before = 0.0, None
        self._report()
        self.table.refresh()
        self.table.focus_handle("contact")

    def _walk(self) -> Walk | None:
        return walk(self.found, self._at) if self.found is not None else None

    def _longest(self) -> float:
        """How far the seam can be walked, in mm."""
        assert self.found is not None
        return min(chain_length(self.found.a), chain_length(self.found.b))

    def own_handles(self) -> list[Handle]:
        """Where the two touch."""
        rolled = self._walk()
        if rolled is None:
            return []
        along = show_length(self._at, self.table.unit)
        words = f"Where the {rolled.moving.piece.name} touches the {rolled.still.piece.name}, {along} along"
        return [Handle("contact", words, self.on_table(rolled.still, rolled.at), rolled.at)]

    def _go(self, along: float) -> None:
        self._at = min(max(along, 0.0), self._longest())
        self._report()
        self.table.refresh()

    def _report(self) -> None:
        found, rolled = self.found, self._walk()
        if found is not None and rolled is not None:
            along = show_length(self._at, self.table.unit)
            words = parting_words(found, rolled, self._at, self.table.unit)
            self.table.say(f"{along} from the {_end(found, 0)}. {words}")

    # --- the mouse and the keys

    def own_hover(self, at: Pointer) -> None:
        """What is seen stays said."""
        self._report()

    def press(self, at: Pointer) -> bool:
        """Anywhere: the place on the seam nearest to the pointer is walked to."""
        self._before = self._at if self.seam else None
        return bool(self.seam)

    def drag(self, at: Pointer) -> None:
        """Roll to the place of the first side that is nearest to the pointer."""
        if self.found is not None:
            self._go(along_side(self.found.a, self.table.scene.former, at.at))

    def drop(self, at: Pointer) -> None:
        """Stay there."""
        self.drag(at)
        self._before = None

    def own_click(self, at: Pointer) -> None:
        """Roll to the place clicked."""
        self.drop(at)

    def nudge(self, key: str, dx: float, dy: float) -> None:
        """Right and up roll on, left and down roll back."""
        if key == "contact":
            self._go(self._at + dx + dy)

    def arrow(self, dx: float, dy: float) -> bool:
        """As on the handle."""
        if self.seam:
            self.nudge("contact", dx, dy)
        return bool(self.seam)

    def key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Home and End go to the seam's ends."""
        if self.seam and key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self._go(0.0 if key == Qt.Key.Key_Home else self._longest())
            return True
        return False

    def escape(self) -> bool:
        """Go back to where the drag began; else pick another seam."""
        if self._before is None:
            return super().escape()
        before, self._before = self._before, None
        self._go(before)
        return True

    # --- drawing

    def paint(self, painter: QPainter) -> None:
        """The second side's piece laid to the first, notches on both, the place where they part."""
        super().paint(painter)
        rolled, sheet, theme = self._walk(), self.table.sheet(painter), self.table.theme
        if rolled is None or self.found is None:
            return
        still = self.table.scene.former(rolled.still.piece)
        rolling = Laid(laid := placed_piece(rolled.moving.piece, rolled.placement), laid, still.place)
        _draw_rolling(sheet, rolling, theme)
        names = {link.edge.name for link in (*self.found.a, *self.found.b)}
        for item, colour in ((still, theme.selected), (rolling, theme.chalk)):
            notches = [notch for notch in seam_notches(self.garment)[item.name] if notch.edge in names]
            _draw_notches(sheet, item, notches, colour=colour)
        if rolled.parts is not None:
            at = sheet.frame.point(_on_side(self, self.found.a, rolled.parts))
            painter.setPen(QPen(QColor(theme.verdicts["wrong"]), 2.0))
            painter.drawEllipse(at, 8.0, 8.0)
            draw_words(painter, "part here", at, sheet.look, colour=theme.verdicts["wrong"])


def _draw_rolling(sheet: Sheet, item: Laid, theme: Theme) -> None:
    """The piece that rolls: what lies under it shows through."""
    cloth = QColor(theme.ghost)
    cloth.setAlpha(SHOWS_THROUGH)
    sheet.painter.setPen(QPen(QColor(theme.chalk), 1.6, Qt.PenStyle.DashLine))
    sheet.painter.setBrush(cloth)
    sheet.painter.drawPolygon(sheet.frame.moved(item.place).polygon(item.shown.loop))
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    middle = as_point((item.shown.loop.min(axis=0) + item.shown.loop.max(axis=0)) / 2)
    corner = sheet.frame.point(item.to_table(middle)) - NAME_OFF
    draw_words(sheet.painter, item.name, corner, sheet.look, colour=theme.chalk)


def _draw_notches(sheet: Sheet, item: Laid, notches: Sequence[Notch], *, colour: str) -> None:
    sheet.painter.setPen(QPen(QColor(colour), 2.0))
    for notch in notches:
        points = item.shown.edge(notch.edge).points
        direction = atan2(*reversed(_chord(points, notch.at))) + item.place.angle
        middle = sheet.frame.point(item.to_table(point_at(points, notch.at)))
        square = QPointF(sin(direction), cos(direction)) * TICK
        sheet.painter.drawLine(middle - square, middle + square)


def _chord(points: Points, at: float) -> Point:
    """The edge's course about a distance along it, as dx and dy over 2 mm."""
    (ax, ay), (bx, by) = point_at(points, at - 1.0), point_at(points, at + 1.0)
    return (bx - ax, by - ay)


def parting_words(found: Match, rolled: Walk, along: float, unit: Unit) -> str:
    """Where the edges part ahead of a place `along` mm from the seam's first end; or which one goes on at its last."""
    if rolled.parts is None:
        return f"From here the {rolled.moving.piece.name} and the {rolled.still.piece.name} lie together to the end."
    if rolled.parts >= min(found.length_a, found.length_b) - 1e-6:
        longer = found.a[-1] if found.length_a > found.length_b else found.b[-1]
        by = show_length(abs(found.length_a - found.length_b), unit)
        return f"At the {_end(found, 1)} the {longer.piece.name} goes on for {by}."
    return f"The edges part {show_length(rolled.parts - along, unit)} farther on."


def _end(found: Match, which: int) -> str:
    return spoken(found.seam.ends[which])


def _on_side(tool: SeamTool, chain: Sequence[Link], along: float) -> Point:
    """The place on the table at a distance along a side."""
    link, here = on_chain(chain, along)
    return tool.on_table(link, point_at(link.points, here))
