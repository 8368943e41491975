"""The one door to Pillow: a drawing as PNG, a picture of ours as JPEG. No picture from outside is ever read."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from math import degrees
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from core.geometry.polyline import Points, as_points, between, length
from core.outputs.drawing import Box, Drawing, Item, Text
from core.outputs.pdf import BOLD, PLAIN, font_file, printable
from core.outputs.pens import PENS, Pen

DPI: Final = 150.0
FINER: Final = 3
"""Drawn three times as large and made smaller, so that lines are smooth."""

QUALITY: Final = 88
"""Of a JPEG: no blocks are seen on paper."""

PX: Final = FINER * DPI / 25.4
"""Pixels to a mm while it is drawn."""


def drawing_png(drawing: Drawing, box: Box) -> bytes:
    """What lies in a box (mm) of a drawing, at 150 dots per inch."""
    size = [max(round((box[k + 2] - box[k]) * PX / FINER), 1) for k in (0, 1)]
    image = Image.new("L", (FINER * size[0], FINER * size[1]), 255)
    for item in drawing.items:
        _draw(image, item, box)
    out = BytesIO()
    small = image.resize((size[0], size[1]), Image.Resampling.BOX)
    small.save(out, "PNG", dpi=(DPI, DPI))
    return out.getvalue()


def pixels_jpeg(pixels: NDArray[np.uint32]) -> bytes:
    """A picture of ours, (H, W) as 0xffrrggbb, as JPEG."""
    parts = np.stack([(pixels >> np.uint32(shift)) & np.uint32(255) for shift in (16, 8, 0)], axis=-1)
    out = BytesIO()
    Image.fromarray(parts.astype(np.uint8), "RGB").save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _draw(image: Image.Image, item: Item, box: Box) -> None:
    pen = PENS[item.role]
    if isinstance(item, Text):
        _text(image, item, box, pen)
        return
    path = as_points(np.vstack((item.points, item.points[:1]))) if getattr(item, "closed", False) else item.points
    for part in _dashed(path, pen.dashes):
        places = [tuple(place) for place in ((part - (box[0], box[3])) * (PX, -PX)).tolist()]
        ImageDraw.Draw(image).line(places, fill=_grey(pen), width=max(round(pen.width * PX), 1), joint="curve")


def _grey(pen: Pen) -> int:
    return round(255 * pen.grey)


def _dashed(path: Points, dashes: tuple[float, ...]) -> Iterator[Points]:
    """The parts of a polyline that a dashed pen draws; all of it for a whole line."""
    if not dashes:
        yield path
        return
    whole, at, index = length(path), 0.0, 0
    while at < whole:
        end = min(at + dashes[index % len(dashes)], whole)
        if index % 2 == 0 and end > at:
            yield between(path, at, end)
        at, index = end, index + 1


def _text(image: Image.Image, text: Text, box: Box, pen: Pen) -> None:
    """The text on a piece of its own, turned, and pasted so that its anchor comes to its place."""
    name = BOLD if pen.bold else PLAIN
    font = _font(name, round(text.height * PX))
    shown = printable(text.text, name)
    wide, high = int(font.getlength(shown)) + 4, int(3 * text.height * PX)
    side = 2 * max(wide, high)
    mask = Image.new("L", (side, side), 0)
    anchor = {"start": "ls", "middle": "ms", "end": "rs"}[text.anchor]
    ImageDraw.Draw(mask).text((side / 2, side / 2), shown, fill=255, font=font, anchor=anchor)
    turned = mask.rotate(degrees(text.angle), Image.Resampling.BILINEAR) if text.angle else mask
    x, y = (text.at[0] - box[0]) * PX, (box[3] - text.at[1]) * PX
    image.paste(_grey(pen), (round(x - side / 2), round(y - side / 2)), turned)


@cache
def _font(name: str, size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(font_file(name), max(size, 1))
