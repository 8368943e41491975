"""Points stored as drawn, with the landmarks they were drawn beside, laid on the piece as it is now."""

from __future__ import annotations

from collections.abc import Sequence

from core.errors import Refusal
from core.geometry.polyline import Point, as_points
from core.geometry.thin_plate import landmark_map
from core.pieces.folded_piece import with_folded
from core.pieces.places import resolved_point
from core.pieces.records import Garment, Piece
from core.steps.step import Landmarks, LinePoint


def landmarks_of(piece: Piece) -> Landmarks:
    """The landmarks to store beside points drawn on a piece."""
    return dict(piece.landmarks)


def mapped_points(piece: Piece, points: Sequence[Point], drawn_on: Landmarks) -> list[Point]:
    """Points as they lie on the piece now; unchanged while its landmarks are those they were drawn beside."""
    if not points:
        return []
    fold = any(edge.kind == "fold" for edge in piece.edges) or piece.block == "back"
    carry = landmark_map(drawn_on, dict(piece.landmarks), fold=fold)
    return [(float(x), float(y)) for x, y in carry(as_points(points))]


def placed_points(
    garment: Garment, piece: Piece, points: Sequence[LinePoint], drawn_on: Landmarks, *, folded: Sequence[str] = ()
) -> list[Point]:
    """Line points as they lie now: snapped ones on their landmark or place, the others mapped from where drawn.

    With darts folded, what is snapped to on the loose side lies where the fold carries it.
    """
    carried = mapped_points(piece, [(point.x, point.y) for point in points], drawn_on)
    if folded and any(point.landmark or point.place for point in points):
        piece = with_folded(piece, folded)
    return [_snapped(garment, piece, point) or free for point, free in zip(points, carried, strict=True)]


def _snapped(garment: Garment, piece: Piece, point: LinePoint) -> Point | None:
    if point.landmark:
        if point.landmark not in piece.landmarks:
            raise Refusal(
                f"Piece {piece.name} has no landmark {point.landmark.replace('_', ' ')} to draw through; "
                f"move that point.",
                piece=piece.name,
            )
        return piece.landmarks[point.landmark]
    return resolved_point(garment, piece, point.place) if point.place else None
