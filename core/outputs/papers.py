"""Papers: sheets with their sizes, and rolls that are as long as the print needs.

No page is longer than 14,400 points, the most that readers of PDF agree on: what needs more is split into pages.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

import msgspec

from core.design.design import PaperName
from core.errors import Refusal
from core.units import MM_PER

INCH: Final = MM_PER["in"]

MARGIN: Final = 10.0
"""mm of paper that are left bare on every side: printers leave 3 to 6.35 (trade.md A9)."""

OVERLAP: Final = 10.0
"""mm that neighbouring pages share; at least the printer's margin."""

LONGEST: Final = 14_400.0 / 72.0 * INCH
"""5,080 mm."""

NARROWEST: Final = 210.0
"""mm: a narrower roll has no room for the test square and the words beside it on the map."""


class Paper(msgspec.Struct, frozen=True):
    """A paper and its size in mm, upright. A roll is as long as it may get until a print settles its length."""

    name: PaperName
    words: str
    width: float
    height: float
    is_roll: bool = False

    @property
    def live(self) -> tuple[float, float]:
        """Width and height in mm of what is printed on."""
        return (self.width - 2 * MARGIN, self.height - 2 * MARGIN)


def live_box(paper: Paper) -> tuple[float, float, float, float]:
    """The live area on the page: left, bottom, right and top in mm from the paper's lower left corner."""
    return (MARGIN, MARGIN, MARGIN + paper.live[0], MARGIN + paper.live[1])


def _inches(width: float, height: float) -> tuple[float, float]:
    return (width * INCH, height * INCH)


PAPERS: Final[Mapping[PaperName, Paper]] = {
    paper.name: paper
    for paper in (
        Paper("a4", "A4", 210.0, 297.0),  # ISO 216, as are A3 to A0
        Paper("letter", "US Letter", *_inches(8.5, 11.0)),  # ANSI A
        Paper("a4-letter", "A4 or US Letter", 210.0, 11.0 * INCH),  # what both have room for
        Paper("legal", "US Legal", *_inches(8.5, 14.0)),
        Paper("a3", "A3", 297.0, 420.0),
        Paper("tabloid", "US Tabloid", *_inches(11.0, 17.0)),  # ANSI B
        Paper("a2", "A2", 420.0, 594.0),
        Paper("a1", "A1", 594.0, 841.0),
        Paper("a0", "A0", 841.0, 1189.0),
        Paper("roll-24in", "roll 24 in wide", 24.0 * INCH, LONGEST, is_roll=True),
        Paper("roll-36in", "roll 36 in wide", 36.0 * INCH, LONGEST, is_roll=True),
        Paper("roll-42in", "roll 42 in wide", 42.0 * INCH, LONGEST, is_roll=True),
    )
}

_ROLL: Final = re.compile(r"roll-(\d{1,4}(?:\.\d{1,2})?)(mm|cm|in)")
_MM: Final = {"mm": 1.0, "cm": 10.0, "in": INCH}


def paper_named(name: str) -> Paper:
    """A paper by its name; "roll-900mm", "roll-91.4cm" and "roll-30in" are rolls of any width.

    Refusal, with the papers there are, for a name that is none of these and for a roll too narrow or too wide.
    """
    if name in PAPERS:
        return PAPERS[name]
    found = _ROLL.fullmatch(name)
    if found is None:
        raise Refusal(
            f"There is no paper {name} to print on; choose one of: {', '.join(PAPERS)}, or a roll of any width such as "
            "roll-900mm."
        )
    width = float(found[1]) * _MM[found[2]]
    if not NARROWEST <= width <= LONGEST:
        raise Refusal(
            f"A roll {found[1]} {found[2]} wide cannot be printed on: it must be {NARROWEST:g} to {LONGEST:g} mm wide; "
            f"choose one of: {', '.join(PAPERS)}."
        )
    return Paper(name, f"roll {float(found[1]):g} {found[2]} wide", width, LONGEST, is_roll=True)
