"""Slash and spread: cut a piece from edge to edge and spread it over paper, or fold it out; hinged or parallel."""

from __future__ import annotations

from math import asin

from core.errors import Refusal
from core.geometry.placement import Placement, about, angle_between, gap
from core.geometry.polyline import Point
from core.pieces.names import spoken, spoken_in_full
from core.pieces.outline import OnLoop, cloth_area, point_on
from core.pieces.places import Place, place_words, resolve
from core.pieces.records import Change, Edge, Garment, Piece
from core.pieces.slashing import fold, laid_over, loose_first, slashed, spread, without_fold
from core.steps.step import Effect, Note, Step, fitted
from core.steps.trim import touched_seams
from core.units import Unit, show_length

WIDEST = 200.0
"""Spreading wider than this (mm) is taken for a slip of the pen."""

SEEN = 0.2
"""A step in an edge (mm) that a pencil does not show is not spoken of."""


class SlashAndSpread(Step, frozen=True, tag="slash and spread"):
    """Slash a piece from `opens` to `hinge` and spread it by `width` mm at `opens`; less than nothing folds it out.

    Hinged, the parts stay together at `hinge`; `parallel`, both ends open by the width. The edge at `opens` grows by
    the width (at `hinge` too when parallel), or loses it where it lies square to the fold, and less on a slant, where
    the step that it meets with is shared by both sides; every other edge keeps its length. `fitting`: what was said
    when it was pinned on the toile; None, it was not.
    """

    piece: str
    opens: Place
    hinge: Place
    width: float
    parallel: bool = False
    fitting: str | None = None

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece, the origins of the two places, and every seam that its edges may be in."""
        origins = garment.origins
        places = origins.get(self.opens.edge), origins.get(self.hinge.edge)
        return (garment.piece(self.piece), *places, *garment.seams.values())

    def effect(self, garment: Garment) -> Effect:
        """The piece spread or folded, a note of the paper added or taken out, and every seam that changes.

        Refusal for a width over 200 mm, a slash along an edge, into a fold, over a dart or out of the piece, and a fold
        that runs off an edge.
        """
        piece = garment.piece(self.piece)
        if not -WIDEST <= self.width <= WIDEST:
            raise Refusal(
                f"Piece {self.piece} cannot be spread or folded by {abs(self.width):.0f} mm; give up to "
                f"{WIDEST:.0f} mm.",
                piece=self.piece,
            )
        if self.width == 0.0:
            return Effect(Change())
        ends = resolve(garment, piece, self.opens), resolve(garment, piece, self.hinge)
        self._refuse_ends(piece, ends)
        after, step = self._spread(piece, ends) if self.width > 0.0 else self._folded(piece, ends)
        notes = [_paper_note(piece, after)]
        if step > SEEN:
            notes.append(_step_note(piece, step, piece.edges[ends[0].index]))
        touched = [
            Note("touched", f"It changes the seam {spoken_in_full(seam.name)} by {by:+.2f} mm.", piece.name)
            for seam, by in touched_seams(garment, "", [after])
        ]
        return Effect(Change(pieces={piece.name: (after,)}), (*notes, *touched))

    def _spread(self, piece: Piece, ends: tuple[OnLoop, OnLoop]) -> tuple[Piece, float]:
        parts = slashed(piece, *ends)
        return spread(piece, parts, self._placement(piece, ends, moves_first=loose_first(parts))), 0.0

    def _folded(self, piece: Piece, ends: tuple[OnLoop, OnLoop]) -> tuple[Piece, float]:
        """The piece with the fold laid shut, and the step in its edge there (mm)."""
        lines = fold(piece, *ends, wide=-self.width, parallel=self.parallel)
        parts = without_fold(piece, lines)
        if self.parallel:
            return laid_over(piece, parts, self._placement(piece, ends, moves_first=loose_first(parts)))
        after, before = (point_on(piece.edges, end) for end in lines[:2])
        goes, comes = (after, before) if loose_first(parts) else (before, after)
        hinge = point_on(piece.edges, ends[1])
        return laid_over(piece, parts, about(hinge, angle_between(hinge, goes, comes)))

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
        wide = show_length(abs(self.width), unit)
        if self.width >= 0.0:
            how = "parallel" if self.parallel else "hinged there"
            return fitted(f"Slash the {self.piece} from {opens} to {hinge} and spread it {wide}, {how}.", self.fitting)
        how = "all along" if self.parallel else "to nothing there"
        return fitted(f"Fold {wide} out of the {self.piece} from {opens} to {hinge}, {how}.", self.fitting)


def _paper_note(before: Piece, after: Piece) -> Note:
    added = (cloth_area(after) - cloth_area(before)) / 100.0
    what = f"added to piece {before.name}" if added >= 0.0 else f"folded out of piece {before.name}"
    return Note("paper", f"Paper {what}: {abs(added):.1f} cm².", before.name)


def _step_note(piece: Piece, step: float, edge: Edge) -> Note:
    return Note(
        "advice",
        f"Folded shut, the {spoken(edge.origin.edge)} of piece {piece.name} met with a step of {step:.1f} mm, which "
        f"both sides share: true it there.",
        piece.name,
    )
