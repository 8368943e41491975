"""Lay plans on paper: a page a fabric at a reduced scale, and the marker at full size for a roll."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Final

import msgspec

from core.geometry.placement import Placement
from core.geometry.polyline import Point
from core.outputs.drawing import GLYPH_WIDTH, Box, Drawing, Item, Role, Text
from core.outputs.lay_drawing import lay_drawing, marker_drawing
from core.outputs.lay_plan import Lay, parts_of
from core.outputs.lay_plans import FabricPlan, comparison, notes, summary
from core.outputs.sheet import letters
from core.units import Unit

SCALES: Final = (2, 4, 5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 200, 500)
"""The plan is drawn at one to the smallest of these at which it fits."""

PAPERS: Final[Mapping[Unit, tuple[float, float]]] = {"in": (279.4, 215.9), "cm": (297.0, 210.0), "mm": (297.0, 210.0)}
"""Width and height in mm: US Letter (ANSI A) where inches are used, else A4 (ISO 216)."""

EDGE: Final = 12.0
"""mm of paper left bare on every side."""

TITLE: Final = 5.0
LINE: Final = 4.0
SIZE: Final = 2.7
"""mm: the heading, lines of words, and their letters."""

AROUND: Final = 12.0
"""mm on paper round the cloth for the words at its sides."""

COLUMN: Final = 105.0
GUTTER: Final = 10.0
"""mm: words beside the cloth, and how far off it. Bold letters are wider than `GLYPH_WIDTH` has them."""

LONGEST_MARKER: Final = 5000.0
"""mm. A page of PDF is at most 200 in (5080 mm) long: a longer marker goes on by the yard of it, page after page."""

MARKER_EDGE: Final = 40.0

FOOT: Final = 6.0
FOOT_LINE: Final = 8.0
FOOT_LINES: Final = 3
"""mm: the letters and lines of the words at a marker's foot, and how many lines there are at most."""


class PlanPage(msgspec.Struct, frozen=True, eq=False):
    """A page of a size in mm and what is drawn on it, from its lower left corner."""

    width: float
    height: float
    drawing: Drawing
    label: str


def plan_page(plan: FabricPlan, day: str) -> PlanPage:
    """The plan of a fabric on a sheet of paper that lies on its side."""
    width, height = PAPERS[plan.unit]
    divisor, words, first = _arranged(plan, (EDGE, EDGE, width - EDGE, height - EDGE - 2 * TITLE))
    found = plan.needed()
    drawn = lay_drawing(plan.lay, found, plan.unit, scale=1.0 / divisor, has_many=len(plan.names) > 1)
    at = Placement(0.0, EDGE + AROUND, height - EDGE - 2 * TITLE - AROUND - plan.lay.strip / divisor)
    below = ".  ".join(part for part in (_designs(plan), day, f"Scale 1:{divisor}") if part) + "."
    items: list[Item] = [
        Text(
            (EDGE, height - EDGE - TITLE), TITLE, f"Lay plan: {plan.lay.fabric.words}"[:70], "heading", anchor="start"
        ),
        Text((EDGE, height - EDGE - 2 * TITLE), SIZE, below, "words", anchor="start"),
        *drawn.scaled(1.0 / divisor).placed(at).items,
    ]
    what_to_buy = words.index("")
    for index, line in enumerate(words):
        role: Role = "heading" if index < what_to_buy else "words"
        items.append(Text((first[0], first[1] - (index + 1) * LINE), SIZE, line, role, anchor="start"))
    return PlanPage(width, height, Drawing(tuple(items)), plan.lay.fabric.name)


def _designs(plan: FabricPlan) -> str:
    """The design's name; where there are many, how many: each is named among the pieces."""
    return plan.names[0][:120] if len(plan.names) == 1 else f"{len(plan.names)} designs laid together"


def _arranged(plan: FabricPlan, box: Box) -> tuple[int, list[str], Point]:
    """At one to what the plan is drawn, and the words with their upper left corner: beside the cloth, or below it.

    Whichever leaves more room for the cloth.
    """
    left, bottom, right, top = box
    length, across = plan.needed().to_buy, plan.lay.strip
    narrow, wide = _words(plan, COLUMN), _words(plan, right - left)
    beside = _divisor(length, across, (right - left - AROUND - GUTTER - COLUMN, top - bottom - 2 * AROUND))
    below = _divisor(length, across, (right - left - AROUND, top - bottom - 2 * AROUND - LINE * len(wide)))
    if beside <= below and len(narrow) * LINE <= top - bottom - AROUND:
        return beside, narrow, (right - COLUMN, top - AROUND)
    return below, wide, (left, top - 2 * AROUND - across / below)


def _divisor(length: float, across: float, room: tuple[float, float]) -> int:
    for divisor in SCALES:
        if length / divisor <= room[0] and across / divisor <= room[1]:
            return divisor
    return SCALES[-1]


def _words(plan: FabricPlan, width: float) -> list[str]:
    """Lines of at most a width in mm: what to buy, the other ways, what lies there, what to mind."""
    glyphs = int(0.92 * width / (GLYPH_WIDTH * SIZE))
    said = [summary(plan), comparison(plan), _listed(plan.lay, plan), *notes(plan.lay, plan.needed(), plan.unit)]
    return [line for sentence in said if sentence for line in (*wrap(sentence, glyphs), "")]


def _listed(lay: Lay, plan: FabricPlan) -> str:
    """Every piece with its count."""
    has_many = len(plan.names) > 1
    parts = sorted(parts_of(lay.laid), key=lambda part: (part.owner, part.finished.number))
    said = [f"{letters(part.owner) if has_many else ''}{part.said}, {part.finished.count}" for part in parts]
    designs = "; ".join(f"{letters(index)}: {name}" for index, name in enumerate(plan.names)) + ". " if has_many else ""
    return f"{designs}Pieces: {'; '.join(said)}."


def marker_pages(plan: FabricPlan) -> Iterator[PlanPage]:
    """The marker at full size, on pages as wide as the cloth; a long one goes on over several."""
    drawn = marker_drawing(plan.lay, plan.needed(), plan.unit, has_many=len(plan.names) > 1)
    whole = plan.lay.length + 2 * MARKER_EDGE
    height = plan.lay.strip + 2 * MARKER_EDGE
    count = max(1, -int(-whole // LONGEST_MARKER))
    for index in range(count):
        start = -MARKER_EDGE + index * LONGEST_MARKER
        width = min(LONGEST_MARKER, whole - index * LONGEST_MARKER)
        part = drawn.inside((start, -MARKER_EDGE, start + width, height - MARKER_EDGE))
        label = f"{plan.lay.fabric.name}, marker" + (f" {index + 1} of {count}" if count > 1 else "")
        on_page = part.placed(Placement(0.0, -start, MARKER_EDGE))
        yield PlanPage(width, height, on_page + _foot(f"{label}, true size: {_designs(plan)}", width), label)


def _foot(words: str, width: float) -> Drawing:
    """What a marker is, in as many lines at its foot as there is room for."""
    lines = wrap(words, max(12, int(0.9 * (width - 2 * MARKER_EDGE) / (GLYPH_WIDTH * FOOT))))[:FOOT_LINES]
    at = (MARKER_EDGE, (FOOT_LINES - 1) * FOOT_LINE + 2.0)
    placed = (
        Text((at[0], at[1] - index * FOOT_LINE), FOOT, line, "words", anchor="start")
        for index, line in enumerate(lines)
    )
    return Drawing(tuple(placed))


def plan_pages(plans: Sequence[FabricPlan], day: str) -> tuple[PlanPage, ...]:
    """A page a fabric."""
    return tuple(plan_page(plan, day) for plan in plans)
