"""What the wheel asks for, and how large a millimetre is on a screen."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QScreen, QWheelEvent

from core.geometry.polyline import Point

NOTCH: Final = 120.0
"""Eighths of a degree that one notch of a wheel turns."""

NEARER: Final = 1.2
"""How much nearer one notch goes."""

BELIEVABLE_DPI: Final = (50.0, 600.0)
"""A screen that claims another resolution (offscreen ones do) is taken for its logical one."""


def wheel_zoom(event: QWheelEvent) -> float:
    """The factor by which the wheel goes nearer."""
    return float(NEARER ** (event.angleDelta().y() / NOTCH))


def wheel_pan(event: QWheelEvent) -> Point:
    """Pixels that the wheel moves the table by: up and down, with Shift sideways; a touch pad says them itself."""
    turned, fine = event.angleDelta(), event.pixelDelta()
    if not fine.isNull():
        return (fine.x(), fine.y())
    if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
        return ((turned.y() + turned.x()) / 2.0, 0.0)
    return (turned.x() / 2.0, turned.y() / 2.0)


def pixels_per_mm(screen: QScreen) -> float:
    """Logical pixels to a millimetre at true size."""
    dpi = screen.physicalDotsPerInch()
    if not BELIEVABLE_DPI[0] <= dpi <= BELIEVABLE_DPI[1]:
        dpi = screen.logicalDotsPerInch()
    return dpi / 25.4
