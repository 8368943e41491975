"""What goes where in a print, settled before any page is drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import msgspec
from msgspec.structs import replace

from core.design.design import Design, PaperName
from core.design.replay import Replay
from core.errors import Refusal
from core.finishing.finish import Finished, finish
from core.outputs.choices import Choices, chosen, without_allowances
from core.outputs.drawing import Drawing
from core.outputs.joints import Joint, joints_of
from core.outputs.layers import LAYER_OF, Layer
from core.outputs.papers import MARGIN, Paper, paper_named
from core.outputs.piece_drawing import piece_lines
from core.outputs.placing import ROOM, sheets_of
from core.outputs.sheet import Placed, Sheet, Tile, grid_for, tiles_of
from core.progress import Progress, untold

SCALE_WORDS: Final[Mapping[float, str]] = {1.0: "1:1", 0.5: "1:2", 0.25: "1:4"}


class Plan(msgspec.Struct, frozen=True, eq=False):
    """What goes where in a print, before any page is drawn."""

    design: Design
    paper: Paper
    scale: float
    choices: Choices
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


def planned(
    design: Design,
    replay: Replay,
    paper: PaperName,
    *,
    scale: float = 1.0,
    choices: Choices,
    progress: Progress = untold,
) -> Plan:
    """The plan of a print of a design. Refusal as for `plan`, for a paper that is not known and a step refused."""
    replay.checked()
    size = paper_named(paper)
    cut = design if choices.has_allowances else without_allowances(design)
    return plan(design, finish(cut, replay.garment), size, scale=scale, choices=choices, progress=progress)


def plan(
    design: Design,
    pieces: Sequence[Finished],
    paper: Paper,
    *,
    scale: float,
    choices: Choices | None = None,
    progress: Progress = untold,
) -> Plan:
    """Place the pieces and choose the pages. Refusal for a scale other than 1, 1/2 and 1/4, and for bad choices.

    `progress` is called with (pieces placed, pieces in all); what it raises ends the work.
    """
    if scale not in SCALE_WORDS:
        raise Refusal(f"A print at scale {scale:g} is not offered; choose 1, 1/2 or 1/4.")
    choices = (choices or Choices()).checked()
    pieces = chosen(pieces, choices)
    grid = grid_for(paper, scale)
    sheets = sheets_of(pieces, grid, scale=scale, is_roll=paper.is_roll, progress=progress)
    if paper.is_roll:
        paper, sheets = _cut_off(paper, sheets, scale)
        grid = grid_for(paper, scale)
    tiles = tuple(tile for sheet in sheets for tile in tiles_of(sheet, grid))
    lines = {piece.name: _kept(piece_lines(piece, scale=scale), choices.without) for piece in pieces}
    drawn = {sheet.number: _drawn(sheet, lines) for sheet in sheets}
    return Plan(design, paper, scale, choices, sheets, tiles, joints_of(tiles, paper, drawn), lines)


def _cut_off(paper: Paper, sheets: tuple[Sheet, ...], scale: float) -> tuple[Paper, tuple[Sheet, ...]]:
    """The roll as long as its fullest page, yet no page lies on its side: printers may turn such a page.

    A sheet that is longer than one page keeps the whole length.
    """
    if any(sheet.rows > 1 for sheet in sheets):
        return paper, sheets
    lowest = min(
        placed.placement.points(placed.finished.cutting_line)[:, 1].min() for s in sheets for placed in s.placed
    )
    needed = paper.live[1] - scale * float(lowest) + ROOM + 2 * MARGIN
    length = min(max(needed, paper.width), paper.height)
    down = (paper.height - length) / scale
    return replace(paper, height=length), tuple(_shifted(sheet, down) for sheet in sheets)


def _shifted(sheet: Sheet, down: float) -> Sheet:
    return replace(sheet, placed=tuple(replace(placed, y=placed.y - down) for placed in sheet.placed))


def _kept(lines: Drawing, without: frozenset[Layer]) -> Drawing:
    """What is drawn of a piece, without the layers that were left out."""
    return Drawing(tuple(item for item in lines.items if LAYER_OF[item.role] not in without)) if without else lines


def _drawn(sheet: Sheet, lines: Mapping[str, Drawing]) -> Drawing:
    parts = (lines[placed.finished.name].placed(placed.placement) for placed in sheet.placed)
    return sum(parts, Drawing())
