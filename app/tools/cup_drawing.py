"""The cup drawn over the front: its rim, the bust circle, the opening before it, and where it falls short."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Final

import msgspec
import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPen

from app.canvas.piece_drawing import Sheet
from app.canvas.table_drawing import draw_words
from core.checks.cup_over_opening import CupCheck, Short
from core.geometry.placement import Placement
from core.geometry.polyline import Point, Points, as_points
from core.pieces.cup_cover import marks_of
from core.pieces.cup_shape import Rim
from core.steps.cup import CupPlan
from core.units import Unit, show_length

SHOWS_THROUGH: Final = 70
"""Opacity of the cup's ground, of 255: the pieces before it are seen through it."""


class Lying(msgspec.Struct, frozen=True, eq=False, dict=True, weakref=True):
    """A cup as it lies over the front: `place` is how the pieces lie on the table, `wedges` their open darts."""

    plan: CupPlan
    check: CupCheck
    place: Placement
    wedges: tuple[tuple[float, float], ...]

    @cached_property
    def rim(self) -> Points:
        """The rim on the table, (N, 2)."""
        return self._laid(self.plan.shape.rim.closed, self.plan.shape.rim.radii)

    def _laid(self, closed: Points, radii: Points) -> Points:
        return self.place.points(self.plan.shape.cone.places(radii, closed, self.wedges))

    def line(self, rim: Rim) -> Points:
        """Another line about the bust point on the table."""
        return self._laid(rim.closed, rim.radii)

    def short(self, short: Short) -> Points:
        """The loop on the table between what a run of directions has and what is wanted there."""
        loop = np.vstack((self._laid(short.closed, short.had), self._laid(short.closed, short.wanted)[::-1]))
        return as_points(loop)

    def end(self, name: str) -> tuple[Point, float]:
        """The place of one of the rim's four reaches in the block's own mm, and how far it is from the bust point."""
        shape = self.plan.shape
        ways = {"top": shape.cone.top, "bottom": shape.cone.down, "inner": shape.rim.inner, "outer": shape.rim.outer}
        closed = ways[name]
        far = float(shape.rim.at(closed))
        x, y = shape.cone.places([far], [closed], self.wedges)[0].tolist()
        return (x, y), far

    def on_table(self, place: Point) -> Point:
        """A place of the block on the table."""
        return self.place.point(place)

    def in_block(self, place: Point) -> Point:
        """A place on the table in the block's own mm."""
        return self.place.inverse().point(place)

    @property
    def seams(self) -> Sequence[Points]:
        """The cup's seams from the bust point to the rim, as straight as they would lie on the closed block."""
        shape = self.plan.shape
        ends = {part.low for part in shape.parts} | {part.high for part in shape.parts}
        return [self._laid(np.full(2, end), np.array((0.0, float(shape.rim.at(end))))) for end in sorted(ends)]


def draw_cup(sheet: Sheet, lying: Lying, unit: Unit) -> None:
    """Draw it: ground, bust circle, rim, seams, opening with its marks, and what is wanting."""
    theme = sheet.look.inks.theme
    ground = QColor(theme.cup)
    ground.setAlpha(SHOWS_THROUGH)
    _fill(sheet, lying.rim, QBrush(ground))
    _stroke(sheet, lying.line(lying.plan.circle), QPen(QColor(theme.faint), 1.2, Qt.PenStyle.DotLine))
    _stroke(sheet, lying.rim, QPen(QColor(theme.chalk), 2.2))
    for seam in lying.seams:
        _stroke(sheet, seam, QPen(QColor(theme.chalk), 1.6, Qt.PenStyle.DashLine))
    _draw_opening(sheet, lying)
    for short in lying.check.short:
        _draw_short(sheet, lying, short, unit)


def _draw_opening(sheet: Sheet, lying: Lying) -> None:
    """The stretch of the opening that lies over the cup, a tick at each mark that both carry."""
    cover, theme = lying.plan.cover, sheet.look.inks.theme
    if cover is None:
        return
    cone = lying.plan.shape.cone
    path = lying.place.points(cone.places(cover.radii, cone.round(cover.closed), lying.wedges))
    _stroke(sheet, path, QPen(QColor(theme.selected), 3.0))
    for mark in marks_of(cover, lying.plan.shape):
        radii = np.array((mark.radius - 4.0, mark.radius + 4.0))
        tick = lying.place.points(cone.places(radii, np.full(2, mark.closed), lying.wedges))
        _stroke(sheet, tick, QPen(QColor(theme.selected), 2.0))


def _draw_short(sheet: Sheet, lying: Lying, short: Short, unit: Unit) -> None:
    """What is wanting, hatched, with how much at the worst."""
    wrong = QColor(sheet.look.inks.theme.verdicts["wrong"])
    loop = lying.short(short)
    _fill(sheet, loop, QBrush(wrong, Qt.BrushStyle.BDiagPattern))
    _stroke(sheet, loop, QPen(wrong, 1.4))
    middle = loop[int((short.wanted - short.had).argmax())]
    at = sheet.frame.point((float(middle[0]), float(middle[1])))
    words = f"{show_length(short.most, unit)} short {short.where}"
    draw_words(sheet.painter, words, at, sheet.look, colour=wrong.name())


def _fill(sheet: Sheet, loop: Points, brush: QBrush) -> None:
    sheet.painter.setPen(Qt.PenStyle.NoPen)
    sheet.painter.setBrush(brush)
    sheet.painter.drawPolygon(sheet.frame.polygon(loop))
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)


def _stroke(sheet: Sheet, path: Points, pen: QPen) -> None:
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    sheet.painter.setPen(pen)
    sheet.painter.drawPolyline(sheet.frame.polygon(path))
