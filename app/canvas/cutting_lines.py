"""The cutting line of the piece that is taken up, found once for a piece and a design and then kept."""

from __future__ import annotations

from core.design.design import Design
from core.design.replay import Replay
from core.errors import Refusal
from core.geometry.polyline import Points
from core.pieces.records import Piece


class CuttingLines:
    """Remembers the last cutting line that was asked for."""

    def __init__(self) -> None:
        self._known: tuple[Piece, Design, Points | None] | None = None

    def of(self, replay: Replay, piece: Piece) -> Points | None:
        """The closed cutting line (M, 2) in the piece's mm; None while its fabric is none of the design's."""
        known = self._known
        if known is None or known[0] is not piece or known[1] is not replay.design:
            known = self._known = (piece, replay.design, _found(replay, piece))
        return known[2]


def _found(replay: Replay, piece: Piece) -> Points | None:
    # Imported when a piece is first taken up: the first picture has none.
    from core.finishing.finish import cutting_line_of  # noqa: PLC0415

    try:
        return cutting_line_of(replay.garment, piece, replay.design)
    except Refusal:
        return None
