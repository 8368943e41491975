"""Ease and gathers on a piece: a tick at both limits, a wave between them, and how much is drawn up."""

from __future__ import annotations

from math import cos, sin
from typing import Final

import numpy as np
from PySide6.QtCore import Qt

from app.canvas.paths import polygon
from app.canvas.piece_drawing import Sheet
from app.canvas.piece_marks import write_along
from core.geometry.polyline import Point, as_points, between, length, point_at, tangent_at
from core.pieces.easing import eased_on, limits_on
from core.pieces.records import Eased, Edge, Piece
from core.units import show_length

TICK: Final = 9.0
"""Pixels of a limit's tick, from the edge into the piece."""

OFF: Final = 5.0
HIGH: Final = {"gathers": 2.2, "ease": 1.1}
WIDE: Final = 7.0
"""Pixels of the wave: how far off the edge it runs, how high and how long one is; ease is flatter than gathers."""

WORDS: Final = 20.0
TALL: Final = 11.0
"""Pixels from the edge in to the words, clear of a seam's mark, and how high the words are."""


def draw_ease(sheet: Sheet, piece: Piece) -> None:
    """Mark every stretch of the piece's edges that is sewn as ease or gathers."""
    for edge in piece.edges:
        for held in eased_on(piece, edge):
            _draw(sheet, edge, held)


def _draw(sheet: Sheet, edge: Edge, held: Eased) -> None:
    first, last = limits_on(edge, held)
    sheet.painter.setPen(sheet.look.inks.thin)
    sheet.painter.setBrush(Qt.BrushStyle.NoBrush)
    for at in (first, last):
        sheet.painter.drawLine(sheet.frame.point(_off(sheet, edge, at, 0.0)), sheet.frame.point(_off(sheet, edge, at)))
    _wave(sheet, edge, held, (first, last))
    verb = "gather" if held.kind == "gathers" else "ease"
    middle = (first + last) / 2
    angle = sheet.frame.seen(tangent_at(edge.points, middle))
    # Words stand above their foot: on an edge whose piece lies below it they go in by their own height as well.
    inward = WORDS if cos(angle) >= 0.0 else WORDS + TALL
    foot = sheet.frame.point(_off(sheet, edge, middle, inward))
    write_along(sheet.painter, f"{verb} {show_length(held.amount, sheet.look.unit)}", foot, angle, look=sheet.look)


def _wave(sheet: Sheet, edge: Edge, held: Eased, limits: tuple[float, float]) -> None:
    pixels = sheet.frame.pixels(between(edge.points, *limits))
    size = length(pixels)
    places = np.linspace(0.0, size, max(2, round(size / 1.5)))
    along = np.interp(
        places, np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(pixels, axis=0).T)))), range(len(pixels))
    )
    x, y = (np.interp(along, range(len(pixels)), axis) for axis in pixels.T)
    dx, dy = np.gradient(x), np.gradient(y)
    off = (OFF + HIGH[held.kind] * np.sin(2 * np.pi * places / WIDE)) / np.maximum(np.hypot(dx, dy), 1e-9)
    # Pixels run down, so that a counter-clockwise outline has its piece at (dy, -dx).
    sheet.painter.drawPolyline(polygon(as_points(np.column_stack((x + off * dy, y - off * dx)))))


def _off(sheet: Sheet, edge: Edge, at: float, inward: float = TICK) -> Point:
    """A place so many pixels inside the edge."""
    (x, y), angle = point_at(edge.points, at), tangent_at(edge.points, at)
    by = inward / sheet.frame.scale
    return (x - by * sin(angle), y + by * cos(angle))
