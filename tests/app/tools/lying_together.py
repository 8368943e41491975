"""Front and back that lie together at the shoulder, and what is seen of them."""

from __future__ import annotations

from app.canvas.slip import Slip
from core.geometry.polyline import Point, as_point, point_at
from core.pieces.records import Edge
from core.pieces.seams import chain_points, match
from tests.app.at_table import AtTable, first_steps


def seam_ends(at: AtTable, seam: str, piece: str) -> tuple[Point, Point]:
    """Where the ends of a piece's side of a seam lie on the table, the seam's first end first."""
    garment = at.table.scene.shown_garment
    found = match(garment, garment.seam(seam))
    chain = next(chain for chain in (found.a, found.b) if chain[0].piece.name == piece)
    path = chain_points(chain)
    return at.on(piece, as_point(path[0])), at.on(piece, as_point(path[-1]))


def middle_of(at: AtTable, piece: str, origin: str) -> Point:
    """The middle of an edge on the table."""
    edge = edge_of(at, piece, origin)
    return at.on(piece, point_at(edge.points, edge.length / 2))


def edge_of(at: AtTable, piece: str, origin: str) -> Edge:
    """The edge of a piece as it is shown."""
    item = at.table.scene.piece(piece)
    assert item is not None
    return next(edge for edge in item.shown.edges if edge.origin.edge == origin)


def slip(at: AtTable) -> str:
    """What the slip says."""
    return next(one for one in at.table.findChildren(Slip) if one.isVisible()).accessibleName()


def together(end: str = "neck") -> AtTable:
    """Front and back together at the shoulder, end on end at the neck or the armhole."""
    at = AtTable(first_steps(2), tool="lay-together")
    at.click(middle_of(at, "front", "front.shoulder"))
    if end == "neck":
        at.push("Meet at the other end")
    at.push("Done")
    return at
