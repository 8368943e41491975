"""Printing three demos on A4, some two dozen pages: against reportlab drawing the same by its own calls."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from core.design.design import Design
from core.design.replay import Replay, replay
from core.outputs.choices import Choices
from core.outputs.drawing import Drawing, Text
from core.outputs.pages import pages
from core.outputs.pdf import begun, draw, print_pdf
from core.outputs.plan import planned
from tests.benchmarks.timing import shown, times
from tests.demo_designs import concert, ice, stage


def by_reportlab(drawings: list[Drawing]) -> bytes:
    """The same paths, points and words as a print's, straight through reportlab, a page a drawing."""
    file = BytesIO()
    canvas = Canvas(file, pageCompression=1)
    for drawing in drawings:
        for item in drawing.items:
            if isinstance(item, Text):
                words = canvas.beginText(item.at[0] * mm, item.at[1] * mm)
                words.setFont("Helvetica", item.height * mm)
                words.textOut(item.text.encode("latin-1", "replace").decode("latin-1"))
                canvas.drawText(words)
                continue
            path = canvas.beginPath()
            places = (item.points * mm).tolist()
            path.moveTo(*places[0])
            for x, y in places[1:]:
                path.lineTo(x, y)
            canvas.drawPath(path)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def by_the_door(drawings: list[Drawing]) -> bytes:
    """The same pages through the project's own door to reportlab: pens, embedded fonts and all."""
    out = BytesIO()
    canvas = begun(out, title="", day="")
    for drawing in drawings:
        for item in drawing.items:
            draw(canvas, item)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def all_pages(made: list[tuple[Design, Replay]]) -> list[Drawing]:
    """Every page of the prints, as it is drawn."""
    plans = [planned(design, done, "a4", choices=Choices()) for design, done in made]
    return [page.drawing + page.margin for plan in plans for page in pages(plan)]


def figures() -> Iterator[str]:
    """Rows to print."""
    made = [(design, replay(design)) for design in (concert(), stage(), ice())]
    drawings = all_pages(made)
    operators = sum(len(item.points) for drawing in drawings for item in drawing.items if not isinstance(item, Text))
    baseline = times(lambda _: by_reportlab(drawings), runs=9, warm_up=2)
    yield shown(f"reportlab alone, {operators} path operators and the words on {len(drawings)} pages", baseline)
    written = times(lambda _: by_the_door(drawings), runs=9, warm_up=2)
    yield shown(f"the same {len(drawings)} pages written with pens and embedded fonts", written, baseline)
    found = times(lambda _: [print_pdf(design, done, paper="a4") for design, done in made], runs=9, warm_up=2)
    yield shown(f"print of {len(drawings)} A4 pages, from pieces to PDF", found, baseline)
    laid = times(lambda _: [planned(design, done, "a4", choices=Choices()) for design, done in made], runs=9, warm_up=2)
    yield shown("of that finishing and laying on pages", laid, baseline)
