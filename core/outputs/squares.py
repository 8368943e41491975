"""The two test squares of every page, at true size whatever the scale, in the emptiest place of the page.

Beside them stands what they read when the printer scaled the page: a page of width w that is fitted between bare
margins of m is printed at (w - 2 m) / w, or at the same share of its height if that is less.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from core.outputs.drawing import Drawing, Item, Stroke, Text, box_loop
from core.outputs.ink import Ink
from core.outputs.papers import PAPERS, Paper, live_box

SIDE: Final = 100.0
SIDE_IN_INCHES: Final = 101.6
"""4 in; the international inch is exactly 25.4 mm."""

MARGINS: Final = (3.0, 4.2, 5.0, 6.35)
"""Bare margins in mm of common printers (makers' manuals say 3 to 6.35)."""

OTHER_PAPER: Final = {"a4": "letter", "letter": "a4"}
"""The paper that is in the tray when a page was made for the other half of the world."""

SIZE: Final = 2.2
STEP: Final = 1.36 * SIZE
COLUMNS: Final = (0.0, 12.0, 25.0)
LABEL_SIZE: Final = 9.0
CLEAR: Final = 2.0
"""Squares and words keep this far (mm) from the border of the live area and, where they can, from lines and texts."""

INSET: Final = 4.0
"""The words keep this far (mm) inside the squares."""

WIDTH: Final = 58.0
"""Width in mm of the words with the page's label over them."""


def readings(paper: Paper) -> list[tuple[float, str]]:
    """What part of the true size is printed when the printer fits the page, with the cause; true size first."""
    found = [(1.0, "right: go on")]
    found += [(_fitted(paper, paper, margin), f"fitted, margins of {margin:g} mm") for margin in MARGINS]
    if paper.name in OTHER_PAPER:
        tray = PAPERS[OTHER_PAPER[paper.name]]
        found += [(_fitted(paper, tray, margin), f"fitted to {tray.words}") for margin in (MARGINS[1],)]
    return found


def _fitted(page: Paper, tray: Paper, margin: float) -> float:
    return min((tray.width - 2 * margin) / page.width, (tray.height - 2 * margin) / page.height)


def squares(ink: Ink, paper: Paper, label: str, notes: Sequence[str]) -> Drawing:
    """Both squares where the page is emptiest, the words how to read them, the page's label, and further notes."""
    live = live_box(paper)
    room = (live[0] + CLEAR, live[1] + CLEAR, live[2] - CLEAR, live[3] - CLEAR)
    words = tuple(_words(label, notes, paper))
    block = (WIDTH, max(text.at[1] + text.height for text in words))
    held = (block[0] + 2 * INSET, block[1] + 2 * INSET)
    left, bottom = ink.emptiest((SIDE_IN_INCHES, SIDE_IN_INCHES), room, clear=CLEAR, holding=held)
    solid = (left, bottom, left + SIDE, bottom + SIDE)
    dashed = (left, bottom, left + SIDE_IN_INCHES, bottom + SIDE_IN_INCHES)
    inner = (left + INSET, bottom + INSET, left + SIDE - INSET, bottom + SIDE - INSET)
    x, y = ink.emptiest(block, inner, clear=CLEAR)
    shifted = (Text((x + t.at[0], y + t.at[1]), t.height, t.text, t.role, anchor=t.anchor) for t in words)
    strokes: tuple[Item, ...] = (
        Stroke(box_loop(solid), "test square", closed=True),
        Stroke(box_loop(dashed), "test square in inches", closed=True),
    )
    return Drawing((*strokes, *shifted))


def _words(label: str, notes: Sequence[str], paper: Paper) -> Iterator[Text]:
    """The words from their lower left corner: notes, how to read the squares, and the label on top."""
    table = [(f"{SIDE * share:.1f}", f"{4.0 * share:.2f}", cause) for share, cause in readings(paper)]
    rows: list[tuple[str, ...]] = [("Measure both squares, across and up:",)]
    rows += [("solid, mm", "dashed, in", "what it means"), *table]
    rows += [("Fitted? Print at actual size, 100 %, no “fit”.",), *((note,) for note in notes)]
    y = 0.8
    for row in reversed(rows):
        for x, words in zip(COLUMNS, row, strict=False):
            yield Text((x, y), SIZE, words, "test words", anchor="start")
        y += STEP
    if label:
        yield Text((0.0, y + 1.0), LABEL_SIZE, label, "page label", anchor="start")
