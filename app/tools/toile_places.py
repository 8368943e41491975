"""Where a toile can be pinned by keys alone: at the levels of seams, and at the middles of edges."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from app.canvas.laid import Laid
from app.canvas.tool import Handle
from core.geometry.polyline import point_at
from core.pieces.levels import seam_levels
from core.pieces.names import spoken, spoken_in_full
from core.pieces.records import Garment
from core.pieces.seams import matches


def level_handles(garment: Garment, base: Callable[[str], Laid]) -> Iterator[Handle]:
    """One for each level of each seam, on its first side; `base` tells how a piece lies."""
    for found in matches(garment):
        for level in seam_levels(found) if found.a and found.b else ():
            words = f"Pin the {spoken_in_full(found.seam.name)} at the {spoken(level.name)}"
            at = base(level.a.piece).to_table(level.a.at)
            yield Handle(f"level|{found.seam.name}|{level.name}", words, at, level.a.at, "quiet", moves=False)


def middle_handles(garment: Garment, base: Laid, verb: str) -> Iterator[Handle]:
    """One for the middle of each edge of a piece that can be pinned; `verb` is what is done there."""
    for edge in base.piece.edges:
        if edge.kind != "dart base" and edge.origin.edge in garment.origins:
            at = point_at(edge.points, edge.length / 2)
            words = f"{verb} at the middle of the {spoken(edge.name)} of {base.name}"
            yield Handle(f"edge|{base.name}|{edge.name}", words, base.to_table(at), at, "quiet", moves=False)
