"""How much cloth is left outside each edge."""

from __future__ import annotations

from core.design.design import Allowances
from core.fabrics.catalogue import Fabric
from core.pieces.folding import fold_placement
from core.pieces.records import Dart, Edge, EdgeKind, Piece


def allowances_of(piece: Piece, fabric: Fabric, wanted: Allowances) -> dict[str, float]:
    """The allowance in mm of every edge, by its name.

    The fabric's own where it states one, else by the kind of edge; a fold has none, and a dart's base what the edge
    has that its cap continues.
    """
    given = {edge.name: _by_kind(edge.kind, fabric, wanted) for edge in piece.edges}
    bases = {dart.base: given[beside(piece, dart)[0].name] for dart in piece.darts}
    return {**given, **bases}


def _by_kind(kind: EdgeKind, fabric: Fabric, wanted: Allowances) -> float:
    if kind == "fold":
        return 0.0
    if fabric.allowance is not None:
        return fabric.allowance
    by_kind = {
        "seam": wanted.seam, "hem": wanted.hem, "opening": wanted.opening, "raw": wanted.raw, "dart base": wanted.seam,
    }  # fmt: skip
    return by_kind[kind]


def beside(piece: Piece, dart: Dart) -> tuple[Edge, int]:
    """The edge to which a dart is pressed, towards the centre, and the dart's leg (0 or 1) on that side."""
    leg = fold_placement(piece, dart)[1]
    return piece.neighbours(dart.base)[leg], leg
