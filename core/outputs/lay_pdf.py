"""Lay plans and markers as PDF."""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO

from core.outputs.lay_pages import PlanPage
from core.outputs.pdf import begun, draw


def plan_pdf(pages: Iterable[PlanPage], *, title: str, day: str) -> bytes:
    """Pages of any sizes as one PDF, true to scale. `day` is the design's own (ISO) or "": equal plans, equal bytes."""
    out = BytesIO()
    canvas = begun(out, title=title, day=day)
    for page in pages:
        canvas.begin_page(page.width, page.height, page.label)
        for item in page.drawing.items:
            draw(canvas, item)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
