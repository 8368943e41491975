"""The client's sheet: the style and how it lies on her, her measurements, notes for the fitting, a line to sign."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from core.body.body import complete
from core.body.catalogue import MEASUREMENTS
from core.design.design import Design
from core.design.replay import Replay
from core.geometry.placement import Placement
from core.outputs.drawing import Drawing, Fill, box_loop
from core.outputs.form_drawing import Worn, form_rows
from core.outputs.making_words import PINS
from core.outputs.pdf import jpeg_size
from core.outputs.style_drawing import style_drawing
from core.outputs.written import (
    Photo,
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
    stacked,
    table,
    title,
    written_pages,
)

SHARES: Final = (0.26, 0.16, 0.58)
STYLE_WIDTH: Final = 110.0
"""mm on paper that the drawing of the style takes at most."""

PHOTO_HIGH: Final = 84.0
PHOTO_WIDE: Final = {1: 66.0, 2: 48.0}
"""mm on paper that a picture of the style may be high, and wide, by how many there are."""

DAMAGED: Final = "This picture is damaged: choose it anew."

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


BESIDE: Final = 4.0
"""mm between the parts of the style."""


class Part(msgspec.Struct, frozen=True, eq=False):
    """A row that does not take the whole column, and how wide it is in mm."""

    row: Row
    width: float


def client_sheet(replay: Replay, on_form: Worn | None = None) -> tuple[WrittenPage, ...]:
    """The pages of the sheet, the design on the form with them where it is given; no names but those typed in.

    Refusal where no pieces can be drawn.
    """
    replay.checked()
    design = replay.design
    paper = paper_for(design.paper)
    width = column(paper)
    below = ". ".join(part for part in (design.name, design.date) if part) + "."
    rows = [
        *title(design.body.name or design.name, below, width),
        *_style(replay, width),
        *(form_rows(on_form, width) if on_form is not None else ()),
        *_measurements(design, width),
        *_fitting(design, width),
        *_signing(width),
    ]
    return written_pages(rows, paper, name="Client sheet", foot=f"{design.name[:60]}   {design.date}")


def _style(replay: Replay, width: float) -> Iterator[Row]:
    """The line drawing, the pictures that the design keeps beside it, and what was noted."""
    kept = sorted(replay.design.pictures, key=lambda picture: picture.piece != "front")
    pictures = [picture.image for picture in kept]
    wide = PHOTO_WIDE[min(max(len(pictures), 1), 2)]
    drawn = _line_drawing(replay, min(STYLE_WIDTH, width - len(pictures) * (wide + BESIDE)))
    beside = [_photo(image, wide) for image in pictures]
    yield heading("Style")
    yield _side_by_side([drawn, *beside], width)
    if replay.design.notes.strip():
        yield from paragraph(replay.design.notes, width)


def _line_drawing(replay: Replay, wide: float) -> Part:
    drawing, box = style_drawing(replay)
    scale = wide / (box[2] - box[0])
    left, bottom, right, top = (side * scale for side in box)
    return Part(picture(drawing.scaled(scale), (left, bottom, right, top)), wide)


def _photo(image: bytes, wide: float) -> Part:
    """A picture as large as its room; a grey box with a word for one that cannot be shown."""
    size = jpeg_size(image)
    if size is None:
        box = (0.0, -0.6 * wide, wide, 0.0)
        words = stacked(paragraph(DAMAGED, wide - 4.0)).drawing.placed(Placement(0.0, 2.0, -0.2 * wide))
        return Part(Row(0.6 * wide, Drawing((Fill(box_loop(box), "glue strip"),)) + words), wide)
    scale = min(wide / size[0], PHOTO_HIGH / size[1])
    across, high = scale * size[0], scale * size[1]
    return Part(Row(high, Drawing(), photos=(Photo(image, (0.0, -high, across, 0.0)),)), across)


def _side_by_side(parts: Sequence[Part], width: float) -> Row:
    """Parts beside each other as one row, in the middle of the column, their tops on one line."""
    left = (width - sum(part.width for part in parts) - BESIDE * (len(parts) - 1)) / 2
    drawing, photos = Drawing(), []
    for part in parts:
        drawing += part.row.drawing.placed(Placement(0.0, left, 0.0))
        photos += [photo.shifted(left, 0.0) for photo in part.row.photos]
        left += part.width + BESIDE
    return Row(max(part.row.height for part in parts) + 2.0, drawing, photos=tuple(photos))


def _measurements(design: Design, width: float) -> Iterator[Row]:
    measured = complete(design.body)
    rows = []
    for row in MEASUREMENTS.values():
        value = measured.values[row.id]
        shown = row.show(value, design.unit)
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
    yield heading("What was pinned, and how much")
    for _ in range(4):
        yield blank_line("", width)


def _signing(width: float) -> Iterator[Row]:
    """Lines for hand and date; what is signed is which measurements were taken on her, and the style."""
    yield gap(4.0)
    yield from paragraph(
        "The measurements that are not estimated were taken on me, and the style is the one we agreed on.", width
    )
    yield blank_line("Signature", 0.6 * width)
    yield blank_line("Date", 0.6 * width)
