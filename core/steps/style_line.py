"""Style line: a curve drawn on a piece, be it the sheer line, a panel seam or a mark."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, pi, sin

import numpy as np
from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.curve import fair_curve
from core.geometry.placement import gap
from core.geometry.planar import inside_path, is_simple, touches_outline
from core.geometry.polyline import Point, Points, as_point, nearest, point_at, with_ends
from core.geometry.tolerances import AT_PIVOT, ON_EDGE
from core.pieces.folded_piece import SLIT, with_folded
from core.pieces.folding import laid_flat
from core.pieces.names import line_said, spoken
from core.pieces.outline import box_gap, end_name, is_centre, locate, point_on
from core.pieces.records import Change, Dart, Garment, Line, LinePurpose, OriginEdge, Piece
from core.steps.mapping import placed_points
from core.steps.step import Effect, Landmarks, LinePoint, Note, Step
from core.units import Unit, show_length

PURPOSE_WORDS: dict[LinePurpose, str] = {"sheer": "sheer line", "panel": "panel seam", "mark": "mark", "level": "level"}

BESIDE = 25.4
"""A panel seam that passes a dart's pivot within 1 in (mm) can take the dart (trade.md C5)."""

RESIDUALS = (
    (3.0, "which is ignored"),
    (6.0, "to be pivoted there as ease between notches"),
    (inf, "too much to ease: leave a small dart there, or draw the line through the pivot"),
)
"""What becomes of so much (mm, at most) that a dart leaves in a seam beside its pivot (cutting.md 10)."""


class StyleLine(Step, frozen=True, tag="style line"):
    """Draw a line on a piece as a fair curve through placed points.

    Points are in the frame in which the darts named in `folded` are shut and the side with the fold lies still. An end
    on a fold leaves it squarely unless it is `intended` to make a point there.
    """

    piece: str
    name: str
    points: tuple[LinePoint, ...]
    drawn_on: Landmarks
    purpose: LinePurpose = "sheer"
    folded: tuple[str, ...] = ()
    intended: bool = False

    @property
    def said(self) -> str:
        """The line's name as it is spoken."""
        return line_said(self.name)

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The piece drawn on and the origins that its places are measured along."""
        origins = (garment.origins.get(point.place.edge) for point in self.points if point.place)
        return (garment.piece(self.piece), *origins)

    def effect(self, garment: Garment) -> Effect:
        """The piece with the line on it; the outline is unchanged.

        Refusal when there are under two points, when the curve crosses itself, leaves the piece or touches its outline
        between its ends, when an end hangs free, or when the line meets the legs of an open dart unequally.
        """
        piece = garment.piece(self.piece)
        if len(self.points) < 2:
            raise Refusal(
                f"The {self.said} on piece {self.piece} needs two points or more.",
                piece=self.piece,
            )
        curve = self.curve(garment, piece)
        self._refuse_island(curve)
        try:
            line, ends = self._on_piece(piece, curve)
        except Refusal:
            # Drawn on past the gap, a line lies on the cloth as if all of it were turned; drawn to what lies still
            # beyond, it misses, and the gap is why.
            self._refuse_gap(piece, curve)
            raise
        others = tuple(old for old in piece.lines if old.name != self.name)
        origin = OriginEdge(self.name, line.length, ends)
        change = Change(pieces={piece.name: (replace(piece, lines=(*others, line)),)}, origins={self.name: origin})
        return Effect(change, tuple(self._advice(piece, line)))

    def _on_piece(self, piece: Piece, curve: Points) -> tuple[Line, tuple[str, str]]:
        """The curve as a line on the flat piece, and what lies at its ends."""
        line = Line(self.name, self.purpose, laid_flat(piece, curve, self.folded))
        line, ends = self._ends_settled(piece, line)
        self._refuse_outside(piece, line)
        self._refuse_touch(piece, line)
        return line, ends

    def curve(self, garment: Garment, piece: Piece) -> Points:
        """The curve (N, 2) in the frame it is drawn in. Refusal when it crosses itself or points coincide."""
        points = placed_points(garment, piece, self.points, self.drawn_on, folded=self.folded)
        if self.purpose != "mark" and not self.folded:
            points = [_off_base(piece, points[0]), *points[1:-1], _off_base(piece, points[-1])]
        start, end = self._fold_directions(piece, points)
        corners = [point.corner for point in self.points]
        try:
            curve = fair_curve(points, corners=corners, start_direction=start, end_direction=end)
        except ValueError as error:
            raise Refusal(
                f"Two points of the {self.said} on piece {self.piece} lie on one spot; move one.",
                piece=self.piece,
            ) from error
        if not is_simple(curve):
            raise Refusal(
                f"The {self.said} on piece {self.piece} crosses itself; move its points apart.",
                piece=self.piece,
            )
        return curve

    def _fold_directions(self, piece: Piece, points: Sequence[Point]) -> tuple[float | None, float | None]:
        """Square to the fold where an end lies on it: the two halves then meet smoothly when unfolded."""
        if self.intended or self.purpose == "mark":
            return None, None
        folds = [edge.points for edge in piece.edges if is_centre(edge)]

        def square(end: Point, inward: Point) -> float | None:
            if not any(nearest(fold, end)[1] <= ON_EDGE for fold in folds):
                return None
            return 0.0 if inward[0] > end[0] else pi

        start = square(points[0], points[1])
        last = square(points[-1], points[-2])
        return start, None if last is None else (pi - last)

    def _refuse_island(self, curve: Points) -> None:
        if self.purpose != "mark" and gap(as_point(curve[0]), as_point(curve[-1])) <= AT_PIVOT:
            raise Refusal(
                f"The {self.said} on piece {self.piece} ends where it begins and would cut an island out; draw it from "
                f"one edge to another, or as a marking.",
                piece=self.piece,
            )

    def _refuse_gap(self, piece: Piece, curve: Points) -> None:
        """Refuse a line over the slit that is thought open while darts are folded: there is no gap in the cloth."""
        shown = with_folded(piece, self.folded) if self.folded else piece
        for dart in (dart for dart in shown.darts if dart.name.endswith(SLIT)):
            if dart.is_crossed_by(curve):
                folded = " and the ".join(spoken(name) for name in self.folded)
                raise Refusal(
                    f"The {self.said} on piece {self.piece} runs over the gap that is open only while the {folded} "
                    f"{'is' if len(self.folded) == 1 else 'are'} folded; keep it off the gap, or fold other darts.",
                    piece=self.piece,
                )

    def _ends_settled(self, piece: Piece, line: Line) -> tuple[Line, tuple[str, str]]:
        """The line with each end exactly on the outline, on another line or on a dart's pivot, and what lies there.

        A mark's ends hang free and have no names.
        """
        if self.purpose == "mark":
            return line, ("", "")
        first, first_name = self._end(piece, as_point(line.stretches[0][0]))
        last, last_name = self._end(piece, as_point(line.stretches[-1][-1]))
        stretches = list(line.stretches)
        stretches[0] = with_ends(stretches[0], first=first)
        stretches[-1] = with_ends(stretches[-1], last=last)
        return replace(line, stretches=tuple(stretches), starts=()), (first_name, last_name)

    def _end(self, piece: Piece, end: Point) -> tuple[Point, str]:
        """Where an end is laid, and the local name of the dart, edge or line that lies there."""
        for dart in piece.darts:
            if gap(dart.pivot, end) <= AT_PIVOT:
                return dart.pivot, end_name(dart.name)
        on, off = locate(piece.edges, end)
        if off <= AT_PIVOT:
            return point_on(piece.edges, on), end_name(piece.edges[on.index].origin.edge)
        for other in piece.lines:
            if other.name != self.name and other.purpose in ("sheer", "panel"):
                for stretch in other.stretches:
                    along, off_line = nearest(stretch, end)
                    if off_line <= AT_PIVOT:
                        return point_at(stretch, along), end_name(other.name)
        raise Refusal(
            f"An end of the {self.said} misses piece {self.piece}: it lies {off:.0f} mm from the nearest edge; "
            f"draw it to an edge, another line or a dart's pivot.",
            piece=self.piece,
        )

    def _refuse_outside(self, piece: Piece, line: Line) -> None:
        if not all(inside_path(piece.loop, stretch, slack=ON_EDGE) for stretch in line.stretches):
            raise Refusal(
                f"The {self.said} leaves piece {self.piece} between its ends; move its points inside the outline, or "
                f"draw each of its stretches as a line.",
                piece=self.piece,
            )

    def _refuse_touch(self, piece: Piece, line: Line) -> None:
        """Refuse a line that comes to the outline on its way: what it cuts off would hang by a thread there."""
        if self.purpose == "mark":
            return
        if touches_outline(piece.loop, np.vstack(line.stretches), within=ON_EDGE):
            raise Refusal(
                f"The {self.said} touches the outline of piece {self.piece} between its ends; keep it inside, or draw "
                f"each of its stretches as a line.",
                piece=self.piece,
            )

    def _advice(self, piece: Piece, line: Line) -> list[Note]:
        notes = []
        for dart in piece.darts:
            near = min(nearest(stretch, dart.pivot)[1] for stretch in line.stretches)
            if 1e-6 < near <= AT_PIVOT:
                notes.append(
                    Note(
                        "advice",
                        f"The {self.said} passes {near:.1f} mm from the pivot of the "
                        f"{spoken(dart.name)}: snap a point to it, and the dart is divided cleanly.",
                        self.piece,
                    )
                )
            elif self.purpose == "panel" and AT_PIVOT < near <= BESIDE:
                notes.append(Note("residual", self._beside(dart, near), self.piece))
        return notes

    def _beside(self, dart: Dart, near: float) -> str:
        """What a dart leaves that is pivoted into a seam beside its pivot: 2 e sin(angle / 2) (cutting.md 10)."""
        left = 2 * near * sin(dart.angle / 2)
        what = next(words for most, words in RESIDUALS if left <= most)
        return (
            f"The {self.said} passes {near:.1f} mm beside the pivot of the {spoken(dart.name)}: once it is cut and the "
            f"dart pivoted into that seam, {left:.1f} mm is left there, {what}."
        )

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Draw the sheer line on the front, from the armhole to the centre front, 11 3/8 in long."""
        return self.told(garment, self.effect(garment), unit)

    def told(self, garment: Garment, effect: Effect, unit: Unit) -> str:
        """The sentence, with the line's ends and length."""
        origin = effect.change.origins[self.name]
        ends = " to the ".join(spoken(end) for end in origin.ends)
        folded = ", ".join(spoken(name) for name in self.folded)
        shut = f", with the {folded} folded" if folded else ""
        long = show_length(origin.length, unit)
        return f"Draw the {PURPOSE_WORDS[self.purpose]} on the {self.piece} from the {ends}{shut}: {long} long."


def _off_base(piece: Piece, end: Point) -> Point:
    """An end that lies in the base of an open dart laid on the nearer leg: no cloth is sewn between (cutting.md 8)."""
    bases = (edge for edge in piece.edges if edge.kind == "dart base")
    if all(box_gap(base, end) > AT_PIVOT for base in bases):
        return end
    on, off = locate(piece.edges, end)
    if off > AT_PIVOT or piece.edges[on.index].kind != "dart base":
        return end
    base = piece.edges[on.index].points
    return min((as_point(base[0]), as_point(base[-1])), key=lambda leg: gap(leg, end))
