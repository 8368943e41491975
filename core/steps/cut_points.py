"""Where a seam that was just cut turns sharply within a panel: a point that a cutter rounds before cloth is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import degrees, remainder, tau
from typing import Final

from core.geometry.placement import gap
from core.geometry.polyline import Point, as_point, end_direction
from core.geometry.tolerances import CORNER_CHORD, SAME_POINT
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import local_name
from core.pieces.records import Edge, Piece, Seam
from core.steps.step import Note

SHARP: Final = 20.0
"""Degrees from which a turn of a seam in a panel shows as a point when it is sewn (house value; that it is rounded over
the bust point: trade.md C5)."""


def points_to_round(panels: Sequence[Piece], seams: Sequence[Seam]) -> Iterator[Note]:
    """Advice for each seam with a point that stands out of a panel: the sharpest, where it lies, and what to do."""
    for seam in seams:
        found = [(turn, panel, at) for panel in panels for turn, at in _outward(panel, seam)]
        turn, panel, at = max(found, key=lambda one: one[0], default=(0.0, None, (0.0, 0.0)))
        if panel is not None and turn > SHARP:
            yield Note(
                "advice",
                f"Cut so, the {spoken_in_full(seam.name)} turns {turn:.0f} degrees at the {_said(panel, at)} on "
                f"{panel.name}, and pokes there: round it by truing, with paper beside the point, before cloth is cut.",
                panel.name,
            )


def _outward(panel: Piece, seam: Seam) -> Iterator[tuple[float, Point]]:
    """How far (degrees) the panel's outline turns at joints within one side of a seam, and where; outward above 0."""
    sides = [{(span.edge, span.side) for span in chain} for chain in (seam.a, seam.b)]
    for before, after in pairwise((*panel.edges, panel.edges[0])):
        if any({_key(before), _key(after)} <= side for side in sides):
            ways = (end_direction(edge.points, at_end=edge is before, chord=CORNER_CHORD) for edge in (before, after))
            first, second = ways
            yield degrees(remainder(second - first, tau)), as_point(after.points[0])


def _key(edge: Edge) -> tuple[str, str]:
    return (edge.origin.edge, edge.origin.side)


def _said(panel: Piece, at: Point) -> str:
    """The landmark that lies there, or the end of the dart that went into the seam."""
    names = (name for name, place in panel.landmarks.items() if gap(place, at) <= SAME_POINT and "pivot" not in name)
    name = next(names, None)
    return spoken(local_name(name)) if name else "end of the dart"
