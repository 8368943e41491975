"""Pins of a fitting: where the toile was pinned, as it is being entered at the table."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from core.errors import Refusal
from core.geometry.polyline import Point, point_at
from core.pieces.names import spoken, spoken_in_full
from core.pieces.places import Place, place_at, place_words
from core.pieces.records import Edge, Garment, Piece
from core.pieces.seams import Match, chain_length, match, on_chain, seams_of
from core.steps.fittings import EdgePinch, FoldPinch, Pinch, SeamPinch, level_near
from core.units import Unit, show_length

Kind: TypeAlias = Literal["seam", "fold", "edge"]


class Pin(msgspec.Struct):
    """One place in hand: on an edge of a piece, at a level of a seam where the edge is sewn; `at` in the piece's mm."""

    piece: str
    edge: str
    place: Place
    at: Point
    seam: str = ""
    level: str = ""
    offset: float = 0.0
    kind: Kind = "fold"
    hinge: Place | None = None
    is_parallel: bool = False
    amount: float = 0.0
    note: str = ""

    def pinch(self) -> Pinch | None:
        """What was pinned, once its amount and, for a fold, the place where it comes to nothing are known."""
        if self.amount == 0.0:
            return None
        if self.kind == "seam":
            return SeamPinch(self.seam, self.level, self.amount, self.offset, note=self.note)
        if self.kind == "edge":
            return EdgePinch(self.piece, self.edge, self.amount, self.note)
        if self.hinge is None:
            return None
        return FoldPinch(self.piece, self.place, self.hinge, self.amount, self.is_parallel, self.note)

    def words(self, unit: Unit) -> str:
        """Where it is: "the side, at the waist", "the neck of the yoke, 2 in from the shoulder"."""
        if self.kind == "seam":
            where = f"at the {spoken(self.level)}"
            if self.offset:
                way = "on" if self.offset > 0.0 else "back"
                where = f"{show_length(abs(self.offset), unit)} {way} from the {spoken(self.level)}"
            return f"the {spoken_in_full(self.seam)} seam, {where}"
        if self.kind == "edge":
            return f"the whole {spoken(self.edge)} of the {self.piece}"
        return f"the {self.piece}, {place_words(self.place, show_length(self.place.distance or 0.0, unit))}"


def pin_on(garment: Garment, piece: Piece, edge: Edge, distance: float) -> Pin:
    """A pin at a distance along an edge (mm): across its seam where that joins two panels, else for a fold."""
    pin = Pin(piece.name, edge.name, place_at(garment, edge, distance), point_at(edge.points, distance))
    for seam in seams_of(garment, edge)[:1]:
        found = match(garment, seam)
        try:
            pin.level, pin.offset = level_near(found, _along_first_side(found, edge, distance))
        except Refusal:
            return pin
        pin.seam, pin.kind = seam.name, "seam"
    return pin


def pin_at_level(garment: Garment, found: Match, name: str, along: float) -> Pin:
    """A pin at a level of a seam, so far along its side a (mm)."""
    link, here = on_chain(found.a, along, slack=1e-6)
    distance = link.on_edge(here)
    at, place = point_at(link.edge.points, distance), place_at(garment, link.edge, distance)
    return Pin(link.piece.name, link.edge.name, place, at, found.seam.name, name, kind="seam")


def _along_first_side(found: Match, edge: Edge, distance: float) -> float:
    """How far along side a lies what is so far along an edge of either side, the two taken as equally long."""
    for chain in (found.a, found.b):
        before = 0.0
        for link in chain:
            if link.edge is edge:
                here = before + link.on_edge(distance)
                return here * found.length_a / max(chain_length(chain), 1e-9)
            before += link.edge.length
    return 0.0
