"""Sheets of words as PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO
from typing import Final

from core.outputs.pdf import ROUND, begun, draw
from core.outputs.written import WrittenPage

POINTS: Final = 72.0 / 25.4


def written_pdf(
    pages: Sequence[WrittenPage],
    *,
    title: str,
    day: str,
    progress: Callable[[int, int], None] = lambda _done, _total: None,
) -> bytes:
    """The pages as one PDF. `day` is the design's own (ISO) or "": equal sheets give equal bytes."""
    out = BytesIO()
    canvas = begun(out, (pages[0].width * POINTS, pages[0].height * POINTS), title=title, day=day)
    progress(0, len(pages))
    for number, page in enumerate(pages, start=1):
        canvas.bookmarkPage(page.label)
        canvas.addOutlineEntry(page.label, page.label)
        canvas.setLineCap(ROUND)
        canvas.setLineJoin(ROUND)
        for photo in page.photos:
            canvas.photo(photo.image, photo.box)
        for item in page.drawing.items:
            draw(canvas, item)
        canvas.showPage()
        progress(number, len(pages))
    canvas.save()
    return out.getvalue()
