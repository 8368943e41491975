"""The sheet for the workroom: cutting list, what to buy and what it costs, and the making order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from core.design.design import Design
from core.design.replay import Replay
from core.finishing.finish import Finished, finish
from core.finishing.sewing_list import sewing_list
from core.outputs.choices import Choices, chosen
from core.outputs.cutting_list import HEADER, SHARES, cutting_list
from core.outputs.lay_amounts import show_cloth
from core.outputs.making_order import making_order
from core.outputs.making_words import BLADE, FLAME, IRON
from core.outputs.materials import ClothRow, cloth_rows, costs, price_words, totals
from core.outputs.written import (
    Row,
    WrittenPage,
    column,
    gap,
    heading,
    listed,
    paper_for,
    paragraph,
    table,
    title,
    written_pages,
)
from core.units import show_length

CLOTH_HEADER: Final = ("Fabric", "Usable width", "Pieces take", "Buy", "Price", "How it was found")
CLOTH_SHARES: Final = (0.2, 0.13, 0.13, 0.1, 0.16, 0.28)
COST_SHARES: Final = (0.75, 0.25)


def work_sheet(replay: Replay) -> tuple[WrittenPage, ...]:
    """The pages of the sheet. Refusal while a step is refused, and for a design without pieces."""
    replay.checked()
    design = replay.design
    pieces = chosen(finish(design, replay.garment), Choices())
    paper = paper_for(design.paper)
    width = column(paper)
    below = ". ".join(part for part in (f"For {design.body.name}", design.date, f"{len(pieces)} pieces") if part) + "."
    rows = [
        *title(design.name, below, width),
        *_cutting(pieces, design, width),
        *_buying(pieces, design, width),
        *_making(replay, width),
    ]
    return written_pages(rows, paper, name="Work sheet", foot=f"{design.name[:60]}   {design.date}")


def _cutting(pieces: Sequence[Finished], design: Design, width: float) -> Iterator[Row]:
    for fabric, rows in cutting_list(pieces, design).items():
        yield heading(f"Cut from {fabric.words}")
        yield from table(HEADER, [row.cells for row in rows], width, SHARES)
    yield gap(2.0)
    yield from paragraph(BLADE, width)


def _buying(pieces: Sequence[Finished], design: Design, width: float) -> Iterator[Row]:
    rows = cloth_rows(pieces, design)
    yield heading("Materials")
    yield from table(CLOTH_HEADER, [_cloth_cells(row, design) for row in rows], width, CLOTH_SHARES)
    for line in sewing_list(pieces, design):
        if line.kind != "turning":
            yield listed("·", line.words, width, indent=4.0)
    found = costs(rows, design)
    if found:
        yield heading("Costs")
        yield from table(("", "Amount"), [(cost.words, cost.shown) for cost in found], width, COST_SHARES)
        for total in totals(found):
            yield from table((total.words, total.shown), (), width, COST_SHARES)


def _cloth_cells(row: ClothRow, design: Design) -> tuple[str, ...]:
    unit, fabric, found = design.unit, row.fabric, row.needed
    taken = show_length(found.length, unit) if found else ""
    buy = show_cloth(found.to_buy, unit) if found else ""
    return (fabric.words, show_length(fabric.usable_width, unit), taken, buy, price_words(fabric, unit), row.remark)


def _making(replay: Replay, width: float) -> Iterator[Row]:
    yield heading("Making order")
    lines = making_order(replay.garment, replay.design)
    stage = ""
    for number, line in enumerate(lines, start=1):
        if line.stage != stage:
            stage = line.stage
            yield from (Row(row.height, row.drawing, keeps=True) for row in paragraph(stage, width, role="heading"))
        yield listed(f"{number}", line.text, width)
    yield gap(2.0)
    yield from paragraph(f"{IRON} {FLAME} The cloth's own label and your local rules come first.", width)
