"""The client's sheet: her measurements and how they were taken, the style, notes for the fitting, a line to sign."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from core.body.body import complete
from core.body.catalogue import MEASUREMENTS
from core.design.design import Design
from core.design.replay import Replay
from core.errors import Refusal
from core.outputs.making_words import PINS
from core.outputs.style_drawing import style_drawing
from core.outputs.written import (
    Row,
    WrittenPage,
    blank_line,
    column,
    gap,
    heading,
    listed,
    paper_for,
    paragraph,
    picture,
    table,
    title,
    written_pages,
)
from core.units import show_length

SHARES: Final = (0.26, 0.16, 0.58)
STYLE_WIDTH: Final = 110.0
"""mm on paper that the drawing of the style takes."""

WHERE_TO_PIN: Final = (
    "Let her stand in the underwear and shoes that she will wear with it.",
    "Let her breathe out, then in: the bodice must allow a full breath.",
    "Pin the closure shut on its line, centre on centre, waist at her waist.",
    "Where cloth stands off above the bust, pin it out along the sheer line seam, to nothing at the bust point.",
    "Where it stands off below, pin along the princess or dart line down to the waist.",
    "At shoulder and side seams pin out what is loose; mark what is tight with a slash and a strip of cloth behind.",
    "Net must lie flat and unstretched: where it puckers or pulls, pin at the sheer line and not in the net.",
    "Mark with chalk: neck edge, armhole, waist, bust points. Write down each pinned amount before the pins come out.",
)
"""Common practice, no source."""


def client_sheet(replay: Replay) -> tuple[WrittenPage, ...]:
    """The pages of the sheet; no names but those that were typed in. Refusal where no pieces can be drawn."""
    if replay.refused is not None:
        raise Refusal(replay.refused.sentence, piece=replay.refused.piece, edge=replay.refused.edge)
    design = replay.design
    paper = paper_for(design.paper)
    width = column(paper)
    below = ". ".join(part for part in (design.name, design.date) if part) + "."
    rows = [
        *title(design.body.name or design.name, below, width),
        *_style(replay, width),
        *_measurements(design, width),
        *_fitting(design, width),
        *_signing(width),
    ]
    return written_pages(rows, paper, name="Client sheet", foot=f"{design.name[:60]}   {design.date}")


def _style(replay: Replay, width: float) -> Iterator[Row]:
    drawing, box = style_drawing(replay)
    scale = STYLE_WIDTH / (box[2] - box[0])
    shown = drawing.scaled(scale)
    yield heading("Style")
    yield picture(
        shown, (box[0] * scale, box[1] * scale, box[2] * scale, box[3] * scale), left=(width - STYLE_WIDTH) / 2
    )
    if replay.design.notes.strip():
        yield from paragraph(replay.design.notes, width)


def _measurements(design: Design, width: float) -> Iterator[Row]:
    measured = complete(design.body)
    rows = []
    for row in MEASUREMENTS.values():
        value = measured.values[row.id]
        shown = f"{value:.1f}°" if row.kind == "angle" else show_length(value, design.unit)
        said = f"{shown}, estimated" if row.id in measured.estimated else shown
        rows.append((row.name, said, row.how))
    yield heading("Measurements")
    yield from table(("Measurement", "Hers", "How it is taken"), rows, width, SHARES)
    yield from paragraph("“Estimated” was not taken on her: take it at the fitting.", width)


def _fitting(design: Design, width: float) -> Iterator[Row]:
    yield heading("At the fitting: where to pin")
    for number, words in enumerate(WHERE_TO_PIN, start=1):
        yield listed(f"{number}", words, width)
    yield from paragraph(PINS, width)
    if design.sheets.fitting.strip():
        yield heading("Notes")
        yield from paragraph(design.sheets.fitting, width)
    yield gap(3.0)
    for _ in range(4):
        yield blank_line("", width)


def _signing(width: float) -> Iterator[Row]:
    """Lines for hand and date; what is signed is that these measurements were taken on her."""
    yield gap(4.0)
    yield from paragraph("These measurements were taken on me, and the style is the one we agreed on.", width)
    yield blank_line("Signature", 0.6 * width)
    yield blank_line("Date", 0.6 * width)
