"""The one door to reportlab: pages as PDF, exact to the last printed decimal and the same at every run.

The MediaBox is the paper; there is neither Rotate nor UserUnit, and the viewer is asked not to scale. All text is set
in the Bitstream Vera fonts that reportlab brings along, embedded from the first page on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from hashlib import sha256
from io import BytesIO
from itertools import groupby
from math import cos, sin
from typing import Any, Final

import msgspec
from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFImageXObject,
    PDFName,
    PDFResourceDictionary,
    PDFString,
)
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from core.design.design import Design, PaperName
from core.design.replay import Replay
from core.geometry.polyline import Points, as_points
from core.outputs.choices import Choices
from core.outputs.drawing import Box, Drawing, Fill, Item, Stroke, Text
from core.outputs.layers import LAYER_OF, LAYERS, Layer
from core.outputs.pages import Page, pages
from core.outputs.papers import live_box
from core.outputs.pens import PENS
from core.outputs.plan import Plan, planned
from core.outputs.print_map import print_map
from core.outputs.printable import STAND_IN, plain
from core.progress import Progress, untold
from core.shipped import VERSION

PLAIN, BOLD = "Vera", "VeraBd"

NO_DATE: Final = "2000-01-01"
"""The file's date when the design has none: it must not depend on the day of printing."""

ROUND: Final = 1
"""Line ends and joins are round: PDF's number for both."""


rl_config.useA85 = 0
"""Pages are written as bytes: as text they are a quarter larger and take longer than all their lines."""


class PrintJob(msgspec.Struct, frozen=True, eq=False):
    """A PDF, and the map that says where on its pages every piece lies."""

    pdf: bytes
    map: dict[str, Any]


def print_pdf(
    design: Design,
    replay: Replay,
    *,
    paper: PaperName,
    scale: float = 1.0,
    choices: Choices | None = None,
    progress: Progress = untold,
) -> PrintJob:
    """The pieces of the garment on pages of a paper, at scale 1, 1/2 or 1/4.

    `progress` is called with (pages done, pages in all); `core.errors.Cancelled` raised there stops the work. Refusal
    when a step of the design cannot be done, for a paper, scale or choice that cannot be had, and without pieces.
    """
    return printed(planned(design, replay, paper, scale=scale, choices=choices or Choices()), progress)


def printed(job: Plan, progress: Progress) -> PrintJob:
    """The pages of a plan as PDF, with their map; `progress` as `print_pdf` has it."""
    out = BytesIO()
    canvas = begun(out, title=job.design.name, day=job.design.date)
    canvas.declare(tuple(LAYERS))
    drawn: list[Page] = []
    progress(0, job.count)
    for page in pages(job):
        _draw(canvas, page, job)
        canvas.showPage()
        drawn.append(page)
        progress(len(drawn), job.count)
    canvas.save()
    return PrintJob(out.getvalue(), print_map(job, drawn))


def begun(out: BytesIO, *, title: str, day: str) -> LayeredCanvas:
    """An empty document, dated with the design's own day (ISO) or a fixed one."""
    _fonts()
    canvas = LayeredCanvas(
        out,
        invariant=1,
        pageCompression=1,
        initialFontName=PLAIN,  # type: ignore[arg-type]  # the stub says a number; reportlab wants the font's name
        lang="en-GB",
    )
    year, month, date = (int(part) for part in (day or NO_DATE).split("-"))
    canvas.setDateFormatter(lambda *_now: f"D:{year:04d}{month:02d}{date:02d}000000+00'00'")
    canvas.setTitle(printable(title))
    canvas.setAuthor("")
    canvas.setSubject("")
    canvas.setCreator(f"Sheerwright {VERSION}")
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


class LayeredCanvas(Canvas):
    """A canvas whose content lies in layers that a viewer can hide: optional content groups (ISO 32000-1, 8.11)."""

    # What the type information of reportlab keeps to itself.
    _doc: Any
    _code: list[str]
    _formsinuse: list[str]
    _setXObjects: Callable[[Any], None]  # noqa: N815 - reportlab's own name
    _properties: PDFDictionary | None = None

    def declare(self, names: tuple[str, ...]) -> None:
        """Name the layers, all of them shown at first."""
        made = [PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(name)}) for name in names]
        groups = [self._doc.Reference(group) for group in made]
        self._marks = {name: f"L{number}" for number, name in enumerate(names)}
        self._properties = PDFDictionary(dict(zip(self._marks.values(), groups, strict=True)))
        shown = PDFDictionary({"Name": PDFString("Layers"), "ON": PDFArray(groups), "Order": PDFArray(groups)})
        catalog = self._doc.Catalog
        catalog.__NoDefault__ = [*catalog.__NoDefault__, "OCProperties"]
        catalog.OCProperties = PDFDictionary({"OCGs": PDFArray(groups), "D": shown})

    def begin_page(self, width: float, height: float, label: str, *, listed: str = "") -> None:
        """A page of a size in mm, found by its label in the viewer's list, or by what is `listed` there for it."""
        size = (width * mm, height * mm)
        self.setPageSize(size)
        self.setCropBox((0.0, 0.0, *size))
        self.bookmarkPage(label)
        self.addOutlineEntry(listed or label, label)
        self.setLineCap(ROUND)
        self.setLineJoin(ROUND)

    @contextmanager
    def layer(self, name: str) -> Iterator[None]:
        """What is drawn within lies in the layer."""
        self._code.append(f"/OC /{self._marks[name]} BDC")
        yield
        self._code.append("EMC")

    def showPage(self) -> None:  # noqa: N802 - reportlab's own name
        """End the page; it knows the layers."""
        super().showPage()
        if self._properties is not None:
            resources: Any = PDFResourceDictionary()
            resources.basicFonts()
            resources.Properties = self._properties
            self._doc.Pages.pages[-1].Resources = resources

    def path(self, points: Points, *, closed: bool, stroke: bool) -> None:
        """Draw a polyline (N, 2) in points, stroked or filled.

        Written at once and not line by line: four decimals are a 28 thousandth of a millimetre.
        """
        places = ("%.4f %.4f l " * len(points)) % tuple(points.ravel().tolist())
        first, rest = places.split(" l ", 1)
        end = ("s" if closed else "S") if stroke else "f*"
        self._code.append(f"n {first} m {rest}{end}")

    def photo(self, image: bytes, box: Box) -> None:
        """A JPEG that `jpeg_size` knows, as it is, over a box in mm: its pixels are never unpacked here."""
        name = sha256(image).hexdigest()
        known = self._doc.getXObjectName(name)
        if known not in self._doc.idToObject:
            made: Any = PDFImageXObject(name)
            made.loadImageFromJPEG(BytesIO(image))
            self._setXObjects(made)
            self._doc.Reference(made, known)
            self._doc.addForm(name, made)
        self._formsinuse.append(name)
        left, bottom, right, top = (side * mm for side in box)
        self._code.append(f"q {right - left:.4f} 0 0 {top - bottom:.4f} {left:.4f} {bottom:.4f} cm /{known} Do Q")


def jpeg_size(image: bytes) -> tuple[int, int] | None:
    """Width and height in pixels of a grey or coloured JPEG; None for anything else, and for one that was cut short.

    Only its markers are read (ITU-T T.81, annex B): what a viewer makes of its pixels is the viewer's.
    """
    if not image.startswith(b"\xff\xd8\xff") or not image.rstrip(b"\0").endswith(b"\xff\xd9"):
        return None
    read: Any = PDFImageXObject("size")
    if not read.loadImageFromJPEG(BytesIO(image)) or read.colorSpace not in ("DeviceGray", "DeviceRGB"):
        return None
    return (read.width, read.height) if read.width and read.height else None


@cache
def _fonts() -> dict[str, TTFont]:
    """The fonts by name, known to reportlab from the first call on."""
    fonts = {name: TTFont(name, f"{name}.ttf") for name in (PLAIN, BOLD)}
    for font in fonts.values():
        pdfmetrics.registerFont(font)
    return fonts


def font_file(name: str) -> str:
    """Where the font of that name lies, for others that draw with it."""
    return str(_fonts()[name].face.filename)


# --------------------------------------------------------------------------------------------------------------
# drawing


def _draw(canvas: LayeredCanvas, page: Page, job: Plan) -> None:
    """The page: all but what belongs into the margin is cut off at the border of the live area."""
    canvas.begin_page(job.paper.width, job.paper.height, page.label, listed="Map" if page.kind == "map" else page.label)
    across, up = job.choices.stretch
    if (across, up) != (1.0, 1.0):
        middle = (job.paper.width * mm / 2, job.paper.height * mm / 2)
        canvas.transform(across, 0, 0, up, middle[0] * (1 - across), middle[1] * (1 - up))
    canvas.saveState()
    left, bottom, right, top = (side * mm for side in live_box(job.paper))
    live = canvas.beginPath()
    live.rect(left, bottom, right - left, top - bottom)
    canvas.clipPath(live, stroke=0, fill=0)
    _layered(canvas, page.drawing)
    canvas.restoreState()
    _layered(canvas, page.margin)


def _layered(canvas: LayeredCanvas, drawing: Drawing) -> None:
    """The items in their order, those of one layer that follow each other as one part of it."""
    for layer, items in groupby(drawing.items, key=_layer):
        with canvas.layer(layer):
            for item in items:
                draw(canvas, item)


def _layer(item: Item) -> Layer:
    return LAYER_OF[item.role]


def draw(canvas: LayeredCanvas, item: Item) -> None:
    """One item of a drawing."""
    if isinstance(item, Text):
        _text(canvas, item)
    elif isinstance(item, Fill):
        canvas.setFillGray(PENS[item.role].grey)
        canvas.path(as_points(item.points * mm), closed=True, stroke=False)
    else:
        _stroke(canvas, item)


def _stroke(canvas: LayeredCanvas, stroke: Stroke) -> None:
    pen = PENS[stroke.role]
    canvas.setLineWidth(pen.width * mm)
    canvas.setStrokeGray(pen.grey)
    canvas.setDash([dash * mm for dash in pen.dashes])
    canvas.path(as_points(stroke.points * mm), closed=stroke.closed, stroke=True)


def _text(canvas: LayeredCanvas, text: Text) -> None:
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
    known = _fonts()[font].face.charToGlyph
    return "".join(character if ord(character) in known else STAND_IN for character in plain(text))
