"""Drawings as SVG at true size: a user unit is a millimetre, and the page says how many millimetres it is wide.

Written by hand: the few elements that are needed take no library. y runs downwards in SVG and is turned here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from itertools import groupby
from math import degrees
from typing import Final

from core.finishing.finish import Finished
from core.geometry.polyline import Points
from core.outputs.drawing import Box, Drawing, Fill, Item, Stroke, Text, bounds, box_loop
from core.outputs.layers import LAYER_OF
from core.outputs.pens import PENS
from core.outputs.piece_drawing import piece_drawing
from core.outputs.printable import plain
from core.outputs.squares import SIDE
from core.outputs.table_layout import GAP, side_by_side

DECIMALS: Final = 4
"""A ten thousandth of a millimetre."""


def pieces_svg(title: str, pieces: Sequence[Finished]) -> str:
    """The pieces side by side at true size, each a group with its number and name, with a square of 100 mm."""
    places = side_by_side(pieces)
    drawn = [piece_drawing(piece).placed(place) for piece, place in zip(pieces, places, strict=True)]
    lines = [place.points(piece.cutting_line) for piece, place in zip(pieces, places, strict=True)]
    square = _square(0.0)
    right = max([bounds(line)[2] for line in lines], default=0.0)
    top = max([bounds(line)[3] for line in lines], default=0.0)
    box = (0.0, -SIDE - GAP, max(right, SIDE + GAP) + GAP, top + GAP)
    groups = [
        _group(f"piece-{piece.number}", f"{piece.number} {piece.name}", drawing, box)
        for piece, drawing in zip(pieces, drawn, strict=True)
    ]
    return document(title, box, [*groups, _group("test-square", "100 mm", square, box)])


def _square(top: float) -> Drawing:
    loop = box_loop((GAP, top - SIDE, GAP + SIDE, top))
    words = Text((GAP + SIDE / 2, top - SIDE / 2), 4.0, "100 mm: measure this square", "test words")
    return Drawing((Stroke(loop, "test square", closed=True), words))


def drawing_svg(title: str, drawing: Drawing, box: Box) -> str:
    """One drawing as a document that shows a box of it at true size."""
    return document(title, box, [_group("drawing", title, drawing, box)])


def document(title: str, box: Box, groups: Sequence[str]) -> str:
    """A whole document that shows a box, in mm, of groups that were made for it."""
    width, height = _number(box[2] - box[0]), _number(box[3] - box[1])
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" fill="none" stroke-linecap="round" stroke-linejoin="round" '
        f'font-family="sans-serif">'
    )
    words = f"<title>{escape(plain(title))}</title>"
    return "\n".join(('<?xml version="1.0" encoding="UTF-8"?>', head, words, *groups, "</svg>", ""))


def _group(name: str, title: str, drawing: Drawing, box: Box) -> str:
    """A group of a drawing; what lies in one layer and follows each other is a group in it."""
    parts = [f'<g id="{escape(name)}">', f"<title>{escape(plain(title))}</title>"]
    for layer, items in groupby(drawing.items, key=lambda item: LAYER_OF[item.role]):
        parts += [f'<g class="{layer.replace(" ", "-")}">', *_elements(items, box), "</g>"]
    return "\n".join((*parts, "</g>"))


def _elements(items: Iterator[Item], box: Box) -> Iterator[str]:
    for item in items:
        pen = PENS[item.role]
        colour, role = _grey(pen.grey), item.role.replace(" ", "-")
        if isinstance(item, Text):
            yield _text(item, box, colour, is_bold=pen.bold)
        elif isinstance(item, Fill):
            yield f'<path class="{role}" fill="{colour}" d="{_path(item.points, box)}Z"/>'
        else:
            dashes = " ".join(_number(dash) for dash in pen.dashes)
            dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
            path = _path(item.points, box) + ("Z" if item.closed else "")
            yield f'<path class="{role}" stroke="{colour}" stroke-width="{_number(pen.width)}"{dashed} d="{path}"/>'


def _text(text: Text, box: Box, colour: str, *, is_bold: bool) -> str:
    x, y = _number(text.at[0] - box[0]), _number(box[3] - text.at[1])
    turn = f' transform="rotate({_number(-degrees(text.angle))} {x} {y})"' if text.angle else ""
    weight = ' font-weight="bold"' if is_bold else ""
    return (
        f'<text x="{x}" y="{y}" font-size="{_number(text.height)}" text-anchor="{text.anchor}" '
        f'fill="{colour}"{weight}{turn}>{escape(plain(text.text))}</text>'
    )


def _path(points: Points, box: Box) -> str:
    places = [f"{_number(x - box[0])} {_number(box[3] - y)}" for x, y in points.tolist()]
    return f"M{'L'.join(places)}"


def _number(value: float) -> str:
    """The shortest decimal of a number, to a ten thousandth."""
    return f"{round(value, DECIMALS) + 0.0:.{DECIMALS}f}".rstrip("0").rstrip(".")


def _grey(share: float) -> str:
    level = round(255 * share)
    return f"#{level:02x}{level:02x}{level:02x}"
