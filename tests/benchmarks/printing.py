"""Printing the demo on A4: against reportlab drawing as many bare lines."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from core.design.replay import replay
from core.outputs.pdf import print_pdf
from tests.benchmarks.timing import shown, times
from tests.demo_designs import concert


def bare_lines(operators: int, pages: int) -> bytes:
    """A PDF of as many path operators on as many pages, straight through reportlab."""
    file = BytesIO()
    canvas = Canvas(file, pageCompression=1)
    for _ in range(pages):
        path = canvas.beginPath()
        path.moveTo(0, 0)
        for number in range(operators // pages):
            path.lineTo(number % 500 + 0.5, number % 700 + 0.25)
        canvas.drawPath(path)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def figures() -> Iterator[str]:
    """Rows to print."""
    design = concert()
    last = replay(design)
    job = print_pdf(design, last, paper="a4", scale=1.0)
    pages = len(job.map["pages"])
    points = sum(len(edge.points) for piece in last.garment.pieces.values() for edge in piece.edges)
    baseline = times(lambda _: bare_lines(points * 2, pages), runs=5, warm_up=1)
    yield shown(f"reportlab alone, {points * 2} operators on {pages} pages", baseline)
    found = times(lambda _: print_pdf(design, last, paper="a4", scale=1.0), runs=5, warm_up=1)
    yield shown(f"print of {pages} pages", found, baseline)
