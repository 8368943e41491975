"""The one door to reportlab: pages as PDF, exact to the last printed decimal and the same at every run.

The MediaBox is the paper; there is neither Rotate nor UserUnit, and the viewer is asked not to scale. All text is set
in the Bitstream Vera fonts that reportlab brings along, embedded from the first page on.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from math import cos, sin
from typing import Any, Final

from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from core.design.design import Design, PaperName
from core.design.replay import Replay
from core.errors import Refusal
from core.finishing.finish import finish
from core.geometry.polyline import Points
from core.outputs.drawing import Fill, Item, Stroke, Text
from core.outputs.joints import live_box
from core.outputs.pages import Page, pages
from core.outputs.pens import PENS
from core.outputs.plan import SCALE_WORDS, Plan, plan
from core.outputs.print_map import print_map
from core.outputs.sheet import PAPERS
from core.shipped import VERSION

PLAIN, BOLD = "Vera", "VeraBd"

STAND_IN: Final = "¤"
"""Shown for a character that the font lacks, so that the gap is seen."""

NO_DATE: Final = "2000-01-01"
"""The file's date when the design has none: it must not depend on the day of printing."""

ROUND: Final = 1
"""Line ends and joins are round: PDF's number for both."""


@dataclass(frozen=True, eq=False, slots=True)
class PrintJob:
    """A PDF, and the map that says where on its pages every piece lies."""

    pdf: bytes
    map: dict[str, Any]


def print_pdf(
    design: Design,
    replay: Replay,
    *,
    paper: PaperName,
    scale: float = 1.0,
    progress: Callable[[int, int], None] = lambda _done, _total: None,
) -> PrintJob:
    """All pieces of the garment on pages of a paper, at scale 1, 1/2 or 1/4.

    `progress` is called with (pages done, pages in all); `core.errors.Cancelled` raised there stops the work. Refusal
    when a step of the design cannot be done, for a paper or scale that is not known.
    """
    if replay.refused is not None:
        raise Refusal(replay.refused.sentence, piece=replay.refused.piece, edge=replay.refused.edge)
    if paper not in PAPERS:
        raise Refusal(f"There is no paper {paper} to print on; choose one of: {', '.join(PAPERS)}.")
    if scale not in SCALE_WORDS:
        raise Refusal(f"A print at scale {scale:g} is not offered; choose 1, 1/2 or 1/4.")
    return _printed(plan(design, finish(design, replay.garment), PAPERS[paper], scale=scale), progress)


def _printed(job: Plan, progress: Callable[[int, int], None]) -> PrintJob:
    out = BytesIO()
    canvas = _begun(job, out)
    drawn: list[Page] = []
    progress(0, job.count)
    for page in pages(job):
        _draw(canvas, page, job)
        canvas.showPage()
        drawn.append(page)
        progress(len(drawn), job.count)
    canvas.save()
    return PrintJob(out.getvalue(), print_map(job, drawn))


def _begun(job: Plan, out: BytesIO) -> Canvas:
    _fonts()
    size = (job.paper.width * mm, job.paper.height * mm)
    canvas = Canvas(
        out,
        pagesize=size,
        invariant=1,
        pageCompression=1,
        initialFontName=PLAIN,  # type: ignore[arg-type]  # the stub says a number; reportlab wants the font's name
        lang="en-GB",
    )
    year, month, day = (int(part) for part in (job.design.date or NO_DATE).split("-"))
    canvas.setDateFormatter(lambda *_now: f"D:{year:04d}{month:02d}{day:02d}000000+00'00'")
    canvas.setTitle(printable(job.design.name))
    canvas.setAuthor("")
    canvas.setSubject("")
    canvas.setCreator(f"Sheerwright {VERSION}")
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


@cache
def _fonts() -> dict[str, TTFont]:
    """The fonts by name, known to reportlab from the first call on."""
    fonts = {name: TTFont(name, f"{name}.ttf") for name in (PLAIN, BOLD)}
    for font in fonts.values():
        pdfmetrics.registerFont(font)
    return fonts


# --------------------------------------------------------------------------------------------------------------
# drawing


def _draw(canvas: Canvas, page: Page, job: Plan) -> None:
    """The page: all but its foot is cut off at the border of the live area."""
    canvas.bookmarkPage(page.label)
    canvas.addOutlineEntry("Map" if page.kind == "map" else page.label, page.label)
    canvas.setLineCap(ROUND)
    canvas.setLineJoin(ROUND)
    canvas.saveState()
    left, bottom, right, top = (side * mm for side in live_box(job.paper))
    live = canvas.beginPath()
    live.rect(left, bottom, right - left, top - bottom)
    canvas.clipPath(live, stroke=0, fill=0)
    for item in page.drawing.items:
        _item(canvas, item)
    canvas.restoreState()
    _item(canvas, page.foot)


def _item(canvas: Canvas, item: Item) -> None:
    if isinstance(item, Text):
        _text(canvas, item)
    elif isinstance(item, Fill):
        canvas.setFillGray(PENS[item.role].grey)
        canvas.drawPath(_path(canvas, item.points, closed=True), stroke=0, fill=1)
    else:
        _stroke(canvas, item)


def _stroke(canvas: Canvas, stroke: Stroke) -> None:
    pen = PENS[stroke.role]
    canvas.setLineWidth(pen.width * mm)
    canvas.setStrokeGray(pen.grey)
    canvas.setDash([dash * mm for dash in pen.dashes])
    canvas.drawPath(_path(canvas, stroke.points, closed=stroke.closed), stroke=1, fill=0)


def _path(canvas: Canvas, points: Points, *, closed: bool) -> PDFPathObject:
    path = canvas.beginPath()
    scaled = (points * mm).tolist()
    path.moveTo(*scaled[0])
    for x, y in scaled[1:]:
        path.lineTo(x, y)
    if closed:
        path.close()
    return path


def _text(canvas: Canvas, text: Text) -> None:
    pen = PENS[text.role]
    font = BOLD if pen.bold else PLAIN
    size, shown = text.height * mm, printable(text.text, font)
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * pdfmetrics.stringWidth(shown, font, size)
    c, s = cos(text.angle), sin(text.angle)
    words = canvas.beginText()
    words.setFont(font, size)
    words.setFillGray(pen.grey)
    words.setTextTransform(c, s, -s, c, text.at[0] * mm - shift * c, text.at[1] * mm - shift * s)
    words.textOut(shown)
    canvas.drawText(words)


def printable(text: str, font: str = PLAIN) -> str:
    """The text as the font can show it: control characters dropped, a visible stand-in for each glyph it lacks."""
    _fonts()
    known = _fonts()[font].face.charToGlyph
    seen = unicodedata.normalize("NFC", text)
    shown = (" " if character in "\n\t" else character for character in seen)
    kept = (character for character in shown if not unicodedata.category(character).startswith("C"))
    return "".join(character if ord(character) in known else STAND_IN for character in kept)
