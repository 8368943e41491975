"""Slash and spread: cut a piece from edge to edge, spread the parts, hinged or parallel, and fill with paper."""

from __future__ import annotations

from math import asin

from core.errors import Refusal
from core.geometry.placement import Placement, about, gap
from core.geometry.polyline import Point
from core.pieces.outline import OnLoop, cloth_area, point_on
from core.pieces.places import Place, place_words, resolve
from core.pieces.records import Change, Garment, Piece
from core.pieces.slashing import loose_first, slashed, spread
from core.steps.step import Effect, Note, Step
from core.units import Unit, show_length

WIDEST = 200.0
"""Spreading wider than this (mm) is taken for a slip of the pen."""


class SlashAndSpread(Step, frozen=True, tag="slash and spread"):
    """Slash a piece from `opens` to `hinge` and spread it by `width` mm at `opens`.

    Hinged, the parts stay together at `hinge`; `parallel`, both ends open by the width. The edge at `opens` grows by
    the width (at `hinge` too when parallel); every other edge keeps its length.
    """

    piece: str
    opens: Place
    hinge: Place
    width: float
    parallel: bool = False

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece and the origins of the two places."""
        origins = garment.origins
        return (garment.piece(self.piece), origins.get(self.opens.edge), origins.get(self.hinge.edge))

    def effect(self, garment: Garment) -> Effect:
        """The piece spread, and a note of the paper added.

        Refusal for a width of nothing or over 200 mm, a slash along an edge, into a fold, over a dart or out of the
        piece.
        """
        piece = garment.piece(self.piece)
        if not 0.0 <= self.width <= WIDEST:
            raise Refusal(
                f"Piece {self.piece} cannot be spread by {self.width:.0f} mm; give from 0 to {WIDEST:.0f} mm.",
                piece=self.piece,
            )
        if self.width == 0.0:
            return Effect(Change())
        ends = resolve(garment, piece, self.opens), resolve(garment, piece, self.hinge)
        self._refuse_ends(piece, ends)
        parts = slashed(piece, *ends)
        moved = self._placement(piece, ends, moves_first=loose_first(parts))
        after = spread(piece, parts, moved)
        added = cloth_area(after) - cloth_area(piece)
        note = Note("paper", f"Paper added to piece {self.piece}: {added / 100.0:.1f} cm².", self.piece)
        return Effect(Change(pieces={piece.name: (after,)}), (note,))

    def _refuse_ends(self, piece: Piece, ends: tuple[OnLoop, OnLoop]) -> None:
        edges = [piece.edges[end.index] for end in ends]
        if edges[0] is edges[1]:
            raise Refusal(
                f"The slash lies along one edge of piece {piece.name}, the {edges[0].name}; choose its ends on two.",
                piece=piece.name,
            )
        opening = edges if self.parallel else edges[:1]
        if any(edge.kind == "fold" for edge in opening):
            raise Refusal(
                f"Piece {piece.name} cannot be spread at its fold; hinge it there, or unfold it first.",
                piece=piece.name,
            )

    def _placement(self, piece: Piece, ends: tuple[OnLoop, OnLoop], *, moves_first: bool) -> Placement:
        """How the loose part moves away from the other; the first part lies to the left of the slash, seen from it."""
        start, stop = (point_on(piece.edges, end) for end in ends)
        away = 1.0 if moves_first else -1.0
        if self.parallel:
            dx, dy = (b - a for a, b in zip(start, stop, strict=True))
            step = away * self.width / gap(start, stop)
            return Placement(0.0, step * dy, -step * dx)
        angle = 2.0 * asin(min(self.width / (2.0 * gap(start, stop)), 1.0))
        return about(stop, away * angle)

    def loose_corner(self, garment: Garment) -> Point:
        """Where the corner of the part that moves lies at `opens`, once it is spread. Refusal as for the step."""
        piece = garment.piece(self.piece)
        ends = resolve(garment, piece, self.opens), resolve(garment, piece, self.hinge)
        self._refuse_ends(piece, ends)
        placement = self._placement(piece, ends, moves_first=loose_first(slashed(piece, *ends)))
        return placement.point(point_on(piece.edges, ends[0]))

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Slash the yoke from the neck to the armhole and spread it 1/2 in, hinged at the armhole."""
        opens, hinge = (place_words(p, show_length(p.distance or 0.0, unit)) for p in (self.opens, self.hinge))
        how = "parallel" if self.parallel else "hinged there"
        wide = show_length(self.width, unit)
        return f"Slash the {self.piece} from {opens} to {hinge} and spread it {wide}, {how}."
