"""Where everything lies on the pages of a print, for whoever wants to check it or put it together again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from core.outputs.pages import Page
from core.outputs.plan import Plan


def print_map(plan: Plan, pages: Sequence[Page]) -> dict[str, Any]:
    """Pages and placements, in mm and degrees.

    A point p of a piece lies on its sheet at rotate(p, turn_deg) + (x, y). On a page it lies at that less `origin_mm`,
    counted from the lower left corner of the paper, times `scale`. Where the print makes up for a printer, `stretch`
    tells by how much lengths across and up are multiplied, about the middle of the paper.
    """
    return {
        "scale": plan.scale,
        "stretch": [round(share, 9) for share in plan.choices.stretch],
        "pages": [
            {
                "page": number,
                "label": page.label,
                "kind": page.kind,
                "sheet": page.sheet,
                "origin_mm": [round(side, 6) for side in page.origin],
            }
            for number, page in enumerate(pages, start=1)
        ],
        "placements": [
            {
                "piece": placed.finished.name,
                "sheet": placed.sheet,
                "x": round(placed.x, 6),
                "y": round(placed.y, 6),
                "turn_deg": placed.turn,
                "mirrored": False,
            }
            for placed in plan.placed
        ],
    }
