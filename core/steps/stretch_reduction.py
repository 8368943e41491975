"""Cutting stretch cloth smaller: a free edge is folded out, a sewn one keeps its length and its seam says the stretch.

A sewn edge must meet its mate, so only the seam's ease says that it is to be stretched on to it (trade.md D6).
"""

from __future__ import annotations

from math import ceil, cos, pi, radians, sin
from typing import Final, TypeAlias

from core.errors import Refusal
from core.geometry.polyline import Point, as_points, crossings, point_at, tangent_at
from core.pieces.names import spoken
from core.pieces.places import Place, place_at
from core.pieces.records import Edge, Garment, Piece
from core.pieces.seams import matches
from core.steps.seam_ease import SeamEase
from core.steps.slash import SlashAndSpread

MOST: Final = 0.25
"""Share of an edge: more than a quarter would draw any cloth out of shape (common practice)."""

FAR: Final = 3000.0


KINK: Final = radians(1.5)
"""One fold turns an edge by no more, so that it still runs smoothly; a larger amount takes several."""

Reduction: TypeAlias = SlashAndSpread | SeamEase


def reduced(garment: Garment, piece: Piece, edge: Edge, *, share: float) -> tuple[Reduction, ...]:
    """The steps, still without ids, that make an edge smaller by a share of its length.

    A free edge is folded out at even distances, each fold hinged where it ends straight across the piece, so that every
    other edge keeps its length. A sewn edge stays; its seam is given the amount as ease of less than nothing. Refusal
    for a fold, a dart, a share of nothing or over a quarter, and where nothing lies across.
    """
    words = f"{spoken(edge.name)} of piece {piece.name}"
    if edge.kind in ("fold", "dart base"):
        raise Refusal(f"The {words} is a {edge.kind} and is not made smaller; choose another edge.", piece=piece.name)
    if not 0.0 < share <= MOST:
        raise Refusal(f"The {words} cannot be cut {share:.0%} smaller; give more than 0 and at most {MOST:.0%}.")
    amount = share * edge.length
    ease = _on_seam(garment, (piece.name, edge.name), amount)
    if ease is not None:
        return (ease,)
    _, deep = _across(garment, piece, edge, edge.length / 2)
    count = ceil(amount / deep / KINK)
    folds = []
    for index in range(count):
        along = (index + 0.5) / count * edge.length
        hinge, _ = _across(garment, piece, edge, along)
        folds.append(SlashAndSpread("", piece.name, place_at(garment, edge, along), hinge, -amount / count))
    return tuple(folds)


def _on_seam(garment: Garment, held: tuple[str, str], amount: float) -> SeamEase | None:
    """The ease of the seam that holds an edge, given by piece and name, with the amount off its side; None in none."""
    for found in matches(garment):
        for chain, sign in ((found.a, -1.0), (found.b, 1.0)):
            if held in {(link.piece.name, link.edge.name) for link in chain}:
                return SeamEase("", found.seam.name, found.seam.ease + sign * amount)
    return None


def _across(garment: Garment, piece: Piece, edge: Edge, along: float) -> tuple[Place, float]:
    """Where a line square to an edge at a place first meets another edge, and how far away that is in mm."""
    start, way = point_at(edge.points, along), tangent_at(edge.points, along) + pi / 2
    ray = as_points((start, _ahead(start, way)))
    met = [
        (off, other, at)
        for other in piece.edges
        if other is not edge and other.kind != "dart base"
        for off, at in crossings(ray, other.points)
        if off > 1.0
    ]
    if not met:
        raise Refusal(
            f"Nothing lies across from the {spoken(edge.name)} of piece {piece.name}; slash and fold it by hand.",
            piece=piece.name,
        )
    off, other, at = min(met, key=lambda found: found[0])
    return place_at(garment, other, at), off


def _ahead(start: Point, way: float) -> Point:
    return (start[0] + FAR * cos(way), start[1] + FAR * sin(way))
