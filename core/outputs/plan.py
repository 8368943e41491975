"""What goes where in a print, settled before any page is drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from core.design.design import Design
from core.finishing.finish import Finished
from core.outputs.drawing import Drawing
from core.outputs.joints import Joint, joints_of
from core.outputs.piece_drawing import piece_lines
from core.outputs.placing import sheets_of
from core.outputs.sheet import Paper, Placed, Sheet, Tile, grid_for, tiles_of

SCALE_WORDS: Final[Mapping[float, str]] = {1.0: "1:1", 0.5: "1:2", 0.25: "1:4"}


@dataclass(frozen=True, eq=False, slots=True)
class Plan:
    """What goes where in a print, before any page is drawn."""

    design: Design
    paper: Paper
    scale: float
    sheets: tuple[Sheet, ...]
    tiles: tuple[Tile, ...]
    joints: Mapping[str, tuple[Joint, ...]]
    lines: Mapping[str, Drawing]
    """What is drawn of each piece but its label, by its name, in the piece's own frame."""

    @property
    def count(self) -> int:
        """Number of pages, the map among them."""
        return 1 + len(self.tiles)

    @property
    def scale_words(self) -> str:
        """The scale as it is written on plans: 1:2."""
        return SCALE_WORDS[self.scale]

    @property
    def placed(self) -> tuple[Placed, ...]:
        """Every piece where it lies."""
        return tuple(placed for sheet in self.sheets for placed in sheet.placed)


def plan(design: Design, pieces: Sequence[Finished], paper: Paper, *, scale: float) -> Plan:
    """Place the pieces and choose the pages. Scales are 1, 1/2 and 1/4."""
    grid = grid_for(paper, scale)
    sheets = sheets_of(pieces, grid, scale=scale)
    tiles = tuple(tile for sheet in sheets for tile in tiles_of(sheet, grid))
    lines = {piece.name: piece_lines(piece, scale=scale) for piece in pieces}
    drawn = {sheet.number: _drawn(sheet, lines) for sheet in sheets}
    return Plan(design, paper, scale, sheets, tiles, joints_of(tiles, paper, drawn), lines)


def _drawn(sheet: Sheet, lines: Mapping[str, Drawing]) -> Drawing:
    parts = (lines[placed.finished.name].placed(placed.placement) for placed in sheet.placed)
    return sum(parts, Drawing())
