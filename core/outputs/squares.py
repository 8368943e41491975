"""The two test squares of every page, at true size whatever the scale, in the emptiest place of the page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from core.geometry.polyline import Point
from core.outputs.drawing import Box, Drawing, Stroke, Text, box_loop
from core.outputs.ink import Ink

SIDE: Final = 100.0
SIDE_IN_INCHES: Final = 101.6
"""4 in; the international inch is exactly 25.4 mm."""

WORDS: Final = (
    "Measure both squares, across and up:",
    "solid 100 mm, dashed 4 in.",
    "100 reads 94 to 97? Turn off “Fit”.",
    "Anything else? Print at 100 %.",
)
SIZE: Final = 2.5
LABEL_SIZE: Final = 9.0
CLEAR: Final = 2.0
"""Squares and words keep this far (mm) from the border of the live area and, where they can, from lines and texts."""

INSET: Final = 4.0
"""The words keep this far (mm) inside the squares."""

BLOCK: Final = (54.0, 25.0)
"""Width and height in mm of the words with the page's label over them."""


def squares(ink: Ink, live: Box, label: str, notes: Sequence[str]) -> Drawing:
    """Both squares where the page is emptiest, the words how to read them, the page's label, and further notes."""
    room = (live[0] + CLEAR, live[1] + CLEAR, live[2] - CLEAR, live[3] - CLEAR)
    block = (BLOCK[0], BLOCK[1] + 1.36 * SIZE * len(notes))
    held = (block[0] + 2 * INSET, block[1] + 2 * INSET)
    left, bottom = ink.emptiest((SIDE_IN_INCHES, SIDE_IN_INCHES), room, clear=CLEAR, holding=held)
    solid = (left, bottom, left + SIDE, bottom + SIDE)
    dashed = (left, bottom, left + SIDE_IN_INCHES, bottom + SIDE_IN_INCHES)
    inner = (left + INSET, bottom + INSET, left + SIDE - INSET, bottom + SIDE - INSET)
    at = ink.emptiest(block, inner, clear=CLEAR)
    return Drawing(
        (
            Stroke(box_loop(solid), "test square", closed=True),
            Stroke(box_loop(dashed), "test square in inches", closed=True),
            *_words(at, label, notes),
        )
    )


def _words(at: Point, label: str, notes: Sequence[str]) -> Iterator[Text]:
    x, y = at
    lines = (*WORDS, *notes)
    for index, line in enumerate(reversed(lines)):
        yield Text((x, y + 0.8 + index * 1.36 * SIZE), SIZE, line, "test words", anchor="start")
    top = y + 0.8 + len(lines) * 1.36 * SIZE
    yield Text((x, top + 1.0), LABEL_SIZE, label, "page label", anchor="start")
