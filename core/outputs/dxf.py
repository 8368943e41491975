"""The one door to ezdxf: pieces as DXF at true size, with the layers of ASTM D6673-10 (withdrawn in 2019).

Each piece is a block. Values are mm with two decimals. The standard knows nothing of which edge is sewn to which: the
pieces' JSON carries that.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, degrees, hypot, remainder, tau
from typing import Final

from ezdxf import options, units  # type: ignore[attr-defined]  # named in its documentation, not marked as exported
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.blocklayout import BlockLayout

from core.finishing.finish import Finished
from core.geometry.polyline import Point, Points
from core.outputs.drawing import Text
from core.outputs.piece_drawing import piece_drawing
from core.outputs.printable import plain
from core.outputs.table_layout import side_by_side

BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INTERNAL, SEWN, WORDS = "1", "2", "3", "4", "6", "7", "8", "14", "15"
LAYERS: Final = {
    BOUNDARY: "piece boundary",
    TURN: "turn points",
    CURVE: "curve points",
    NOTCH: "notches",
    MIRROR: "mirror line",
    GRAIN: "grain line",
    INTERNAL: "internal lines",
    SEWN: "sew lines",
    WORDS: "annotation",
}
"""The layers of D6673 that are used (trade.md A8, read at second hand)."""

CORNER: Final = 0.17
"""Radians: a point of the boundary where it turns by more is a turn point, else a curve point."""

DECIMALS: Final = 2
SYSTEM_SIZE: Final = 2.5
"""mm: the words that the standard wants of every piece, small beside the grain line."""


def pieces_dxf(pieces: Sequence[Finished]) -> bytes:
    """The pieces side by side; equal pieces give equal bytes."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # neither clock nor random names
    try:
        out = io.StringIO()
        document = _document(pieces)
        document.write(out)
        return document.encode(out.getvalue())
    finally:
        options.write_fixed_meta_data_for_testing = before


def _document(pieces: Sequence[Finished]) -> Drawing:
    document = new("R2000", units=units.MM)
    for name, words in LAYERS.items():
        document.layers.add(name).description = words
    for piece, place in zip(pieces, side_by_side(pieces), strict=True):
        block = document.blocks.new(_block_name(piece))
        _fill(block, piece)
        document.modelspace().add_blockref(block.name, (_mm(place.x), _mm(place.y)))
    return document


def _block_name(piece: Finished) -> str:
    kept = "".join(character if character.isascii() and character.isalnum() else "_" for character in piece.name)
    return f"{piece.number}_{kept}"


def _fill(block: BlockLayout, piece: Finished) -> None:
    drawing = piece_drawing(piece)
    _line(block, piece.cutting_line, BOUNDARY, is_closed=True)
    for place, is_corner in _vertices(piece.cutting_line):
        block.add_point(_point(place), dxfattribs={"layer": TURN if is_corner else CURVE})
    for edge in piece.piece.edges:
        _line(block, edge.points, MIRROR if edge.kind == "fold" else SEWN)
    for stroke in drawing.strokes("dart", "level", "mark"):
        _line(block, stroke.points, INTERNAL)
    first, last = piece.grain
    block.add_line(_point(first), _point(last), dxfattribs={"layer": GRAIN})
    for stroke in drawing.strokes("notch"):
        _notch(block, stroke.points)
    (ax, ay), (bx, by) = piece.grain
    for index, words in enumerate(_system_words(piece)):
        at = (_mm((ax + bx) / 2 + SYSTEM_SIZE), _mm((ay + by) / 2 - 1.6 * SYSTEM_SIZE * index))
        block.add_text(words, height=SYSTEM_SIZE, dxfattribs={"layer": BOUNDARY, "insert": at})
    for text in drawing.texts():
        if text.role != "label":  # the words above say the same, and would lie under it in a small piece
            _text(block, text)


def _system_words(piece: Finished) -> Iterator[str]:
    """What the standard wants of every piece in words (from memory)."""
    yield f"Piece Name: {piece.number} {plain(piece.name)}"
    yield "Size: made to measure"
    yield f"Quantity: {plain(piece.count)}"
    yield f"Material: {plain(piece.fabric.name)}"


def _line(block: BlockLayout, points: Points, layer: str, *, is_closed: bool = False) -> None:
    places = [_point(place) for place in points.tolist()]
    kept = [place for place, after in pairwise(places) if place != after]
    kept += [] if is_closed else places[-1:]
    block.add_polyline2d(kept, close=is_closed, dxfattribs={"layer": layer})


def _notch(block: BlockLayout, points: Points) -> None:
    """A slit: a point on the boundary with its depth as z and the direction inwards, no width (D6673).

    Few readers show such a point, so its tick is drawn too, as an internal line.
    """
    inner, outer = points[0], points[-1]
    dx, dy = (inner - outer).tolist()
    place = (*_point(outer), _mm(hypot(dx, dy)))
    angle = round(degrees(atan2(dy, dx)) % 360.0, DECIMALS)
    block.add_point(place, dxfattribs={"layer": NOTCH, "angle": angle, "thickness": 0.0})
    block.add_line(_point(inner), _point(outer), dxfattribs={"layer": INTERNAL})


def _text(block: BlockLayout, text: Text) -> None:
    align = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[text.anchor]
    # A letter's height in DXF is that of a capital, about seven tenths of the font's size.
    shown = block.add_text(
        plain(text.text), height=0.7 * text.height, rotation=degrees(text.angle), dxfattribs={"layer": WORDS}
    )
    shown.set_placement(_point(text.at), align=align)


def _vertices(line: Points) -> Iterator[tuple[Point, bool]]:
    """Every point of a closed line once, with whether the line turns a corner there."""
    sides = line[1:] - line[:-1]
    ways = [atan2(dy, dx) for dx, dy in sides.tolist()]
    for place, way, before in zip(line[:-1].tolist(), ways, [ways[-1], *ways[:-1]], strict=True):
        yield (place[0], place[1]), abs(remainder(way - before, tau)) > CORNER


def _mm(value: float) -> float:
    return round(float(value), DECIMALS) + 0.0


def _point(place: Sequence[float]) -> Point:
    return (_mm(place[0]), _mm(place[1]))
