"""Taps of an arrow key: those that follow one another within a second are one act."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QElapsedTimer

TAPS_JOIN: Final = 1000
"""Milliseconds within which taps of an arrow key are one act."""


class Taps:
    """How long ago the last tap was."""

    def __init__(self) -> None:
        self._since = QElapsedTimer()

    def joins(self, *, tap: bool) -> bool:
        """Whether an act that is done now is one with the tap before it; what is no tap ends the row of them."""
        joins = tap and self._since.isValid() and self._since.elapsed() < TAPS_JOIN
        if tap:
            self._since.start()
        else:
            self._since.invalidate()
        return joins
