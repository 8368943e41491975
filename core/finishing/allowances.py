"""How much cloth is left outside each edge, and how it ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import msgspec
from msgspec.structs import replace

from core.design.design import Allowances, Design
from core.design.finishes import USE_ALLOWANCES, Doubled, EdgeFinish, EdgeUse, Pressed
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.geometry.margins import EndKind
from core.pieces.folding import fold_placement
from core.pieces.places import resolve
from core.pieces.records import Dart, Edge, EdgeKind, Garment, Piece
from core.pieces.seams import seams_of

SAME: Final = 1e-3
"""Two allowances that differ by less (mm) are one."""


class Stretch(msgspec.Struct, frozen=True):
    """A stretch of an edge, from and to in mm from its first point in loop order, and the allowance there in mm."""

    start: float
    stop: float
    allowance: float


class FinishedEdge(msgspec.Struct, frozen=True, eq=False):
    """An edge with its finish. `allowance` is that of most of it; `stretches` cover all of it, in loop order.

    `ends` tells how the allowance ends at its first and its last point. `gap` are the ends in mm of a turning gap.
    """

    edge: Edge
    use: EdgeUse
    allowance: float
    stretches: tuple[Stretch, ...]
    ends: tuple[EndKind, EndKind] = ("mitred", "mitred")
    gap: tuple[float, float] | None = None
    finish: EdgeFinish | None = None

    def allowance_at(self, along: float) -> float:
        """The allowance in mm at a distance from the edge's first point: the smaller where two stretches meet."""
        here = [part.allowance for part in self.stretches if part.start - SAME <= along <= part.stop + SAME]
        return min(here, default=self.allowance)


def finished_edges(garment: Garment, piece: Piece, fabric: Fabric, design: Design) -> dict[str, FinishedEdge]:
    """Every edge of a piece by its name, with what the design says about it.

    What is said about a place that the piece does not hold, as before a cut, is left out; the checks name it.
    """
    found = {edge.name: _finished(garment, piece, edge, fabric=fabric, design=design) for edge in piece.edges}
    for dart in piece.darts:
        allowance = found[beside(piece, dart, pressed(design, piece, dart))[0].name].allowance
        base = piece.edge(dart.base)
        found[dart.base] = FinishedEdge(base, "plain", allowance, (Stretch(0.0, base.length, allowance),))
    return found


def by_kind(kind: EdgeKind, fabric: Fabric, wanted: Allowances) -> float:
    """The allowance in mm of an edge of a kind: the fabric's for all, the fabric's for the kind, or the design's."""
    if kind == "fold":
        return 0.0
    if fabric.allowance is not None:
        return fabric.allowance
    if kind == "dart base":
        kind = "seam"
    own = {
        "seam": fabric.allowances.seam, "hem": fabric.allowances.hem, "opening": fabric.allowances.opening,
        "raw": fabric.allowances.raw,
    }[kind]  # fmt: skip
    every = {"seam": wanted.seam, "hem": wanted.hem, "opening": wanted.opening, "raw": wanted.raw}
    return every[kind] if own is None else own


def beside(piece: Piece, dart: Dart, towards: Pressed = "centre") -> tuple[Edge, int]:
    """The edge on the side to which a dart is pressed, and the dart's leg (0 or 1) on that side."""
    leg = fold_placement(piece, dart)[1]
    leg = leg if towards == "centre" else 1 - leg
    return piece.neighbours(dart.base)[leg], leg


def pressed(design: Design, piece: Piece, dart: Dart) -> Pressed:
    """To which side a dart is pressed: towards the centre where nothing else is said."""
    wanted = (one.towards for one in design.finishing.darts if (one.piece, one.dart) == (piece.name, dart.name))
    return next(wanted, "centre")


# --------------------------------------------------------------------------------------------------------------
# one edge


def _finished(garment: Garment, piece: Piece, edge: Edge, *, fabric: Fabric, design: Design) -> FinishedEdge:
    said = _said(piece, edge, design)
    whole = next((finish for finish in said if not finish.is_stretch), None)
    doubled = design.finishing.doubled_piece(piece.name)
    use: EdgeUse = whole.use if whole else "hem" if edge.kind == "hem" else "plain"
    allowance = _allowance(edge, whole, doubled, by_kind(edge.kind, fabric, design.allowances))
    stretches: tuple[Stretch, ...] = (Stretch(0.0, edge.length, allowance),)
    for finish in said:
        if finish.is_stretch and finish.allowance is not None and edge.kind != "fold":
            stretches = _laid_in(stretches, _stretch(garment, piece, edge, finish))
    gap = gap_of(edge, doubled) if doubled else None
    usual = _usual_ends(garment, piece, edge, use=use, design=design)
    return FinishedEdge(edge, use, allowance, stretches, _ends(edge, whole, usual), gap, whole)


def _said(piece: Piece, edge: Edge, design: Design) -> list[EdgeFinish]:
    held = edge.origin
    return [
        finish
        for finish in design.finishing.edges
        if (finish.piece, finish.edge, finish.side) == (piece.name, held.edge, held.side) and edge.kind != "dart base"
    ]


def _allowance(edge: Edge, whole: EdgeFinish | None, doubled: Doubled | None, usual: float) -> float:
    if edge.kind == "fold":
        return 0.0
    if whole is not None and whole.allowance is not None:
        return whole.allowance
    if doubled is not None:
        return doubled.allowance
    if whole is not None and whole.use == "buttons":
        return whole.extension + usual
    return USE_ALLOWANCES.get(whole.use, usual) if whole is not None else usual


def _usual_ends(garment: Garment, piece: Piece, edge: Edge, *, use: EdgeUse, design: Design) -> tuple[EndKind, EndKind]:
    """How an allowance ends in loop order where nothing is said about it.

    What is turned back over its line ends as the mirror image of its neighbour, a seam as the design has it; where two
    edges go into one seam, as they do at a bust point, nothing ends and both lines are mitred.
    """
    if use in ("hem", "buttons"):
        return "mirrored", "mirrored"
    if edge.kind != "seam":
        return "mitred", "mitred"
    own = {seam.name for seam in seams_of(garment, edge)}
    sewn_on = [own & {seam.name for seam in seams_of(garment, other)} for other in piece.neighbours(edge.name)]
    first, last = ("mitred" if same else design.finishing.corners for same in sewn_on)
    return first, last


def _ends(edge: Edge, whole: EdgeFinish | None, usual: tuple[EndKind, EndKind]) -> tuple[EndKind, EndKind]:
    """In loop order: as was said, else as usual."""
    said = whole.ends if whole is not None else ("", "")
    first, last = said if edge.origin.start <= edge.origin.stop else said[::-1]
    return first or usual[0], last or usual[1]


def _stretch(garment: Garment, piece: Piece, edge: Edge, finish: EdgeFinish) -> Stretch | None:
    """The stretch of this edge that a finish is about; None where the piece does not hold it."""
    assert finish.start is not None
    assert finish.stop is not None
    assert finish.allowance is not None
    try:
        ends = [resolve(garment, piece, place) for place in (finish.start, finish.stop)]
    except Refusal:
        return None
    index = piece.edges.index(edge)
    low, high = sorted(end.distance if end.index == index else _beyond(edge, end.index > index) for end in ends)
    if all(end.index != index for end in ends) and (ends[0].index < index) == (ends[1].index < index):
        return None
    return Stretch(low, high, finish.allowance) if high - low > SAME else None


def _beyond(edge: Edge, after: bool) -> float:
    return edge.length if after else 0.0


def _laid_in(stretches: Sequence[Stretch], new: Stretch | None) -> tuple[Stretch, ...]:
    """The stretches with another laid over them."""
    if new is None:
        return tuple(stretches)
    found = []
    for old in stretches:
        if old.stop <= new.start or old.start >= new.stop:
            found.append(old)
            continue
        if old.start < new.start - SAME:
            found.append(replace(old, stop=new.start))
        if old.stop > new.stop + SAME:
            found.append(replace(old, start=new.stop))
    return tuple(sorted([*found, new], key=lambda part: part.start))


def gap_of(edge: Edge, doubled: Doubled) -> tuple[float, float] | None:
    """From where to where (mm) the turning gap lies on an edge; None where it is on another, or does not fit."""
    held = edge.origin
    if (held.edge, held.side) != (doubled.through, doubled.side) or edge.length < doubled.gap or edge.kind == "fold":
        return None
    middle = edge.length / 2
    return middle - doubled.gap / 2, middle + doubled.gap / 2
