"""Lay plans and markers as PDF."""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO
from typing import Final

from core.outputs.lay_pages import PlanPage
from core.outputs.pdf import ROUND, begun, draw

POINTS: Final = 72.0 / 25.4
"""PDF's points to a millimetre."""


def plan_pdf(pages: Iterable[PlanPage], *, title: str, day: str) -> bytes:
    """Pages of any sizes as one PDF, true to scale. `day` is the design's own (ISO) or "": equal plans, equal bytes."""
    out = BytesIO()
    canvas = begun(out, (1.0, 1.0), title=title, day=day)
    for page in pages:
        size = (page.width * POINTS, page.height * POINTS)
        canvas.setPageSize(size)
        canvas.setCropBox((0.0, 0.0, *size))
        canvas.bookmarkPage(page.label)
        canvas.addOutlineEntry(page.label, page.label)
        canvas.setLineCap(ROUND)
        canvas.setLineJoin(ROUND)
        for item in page.drawing.items:
            draw(canvas, item)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
