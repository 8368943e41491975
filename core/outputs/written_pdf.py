"""Sheets of words as PDF."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO

from core.outputs.pdf import begun, draw
from core.outputs.written import WrittenPage
from core.progress import Progress, untold


def written_pdf(
    pages: Sequence[WrittenPage],
    *,
    title: str,
    day: str,
    progress: Progress = untold,
) -> bytes:
    """The pages as one PDF. `day` is the design's own (ISO) or "": equal sheets give equal bytes."""
    out = BytesIO()
    canvas = begun(out, title=title, day=day)
    progress(0, len(pages))
    for number, page in enumerate(pages, start=1):
        canvas.begin_page(page.width, page.height, page.label)
        for photo in page.photos:
            canvas.photo(photo.image, photo.box)
        for item in page.drawing.items:
            draw(canvas, item)
        canvas.showPage()
        progress(number, len(pages))
    canvas.save()
    return out.getvalue()
