"""A piece as it lies on the table with darts folded shut, so that lines can be drawn across them.

The angle has to go somewhere for the while: into another dart with the same pivot, or into a slit from the pivot to the
outline that is thought open and is gone when the dart is let out again. The side with the fold lies still. Where
several darts of one pivot are shut, the slit runs beside the centre, so that a line over all of them need not cross it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain
from math import cos, radians, sin
from typing import Final

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point, as_points, crossings
from core.pieces.fold_lines import FoldLine, fold_lines
from core.pieces.folding import fold_placement
from core.pieces.names import spoken
from core.pieces.outline import OnLoop, is_centre, placed_piece, point_on
from core.pieces.records import Dart, Piece
from core.pieces.turning import refuse_path, turn, with_opening

SLIT: Final = ".slit"
"""Added to a dart's name for the slit that is thought open while the dart is folded."""

RAY: Final = 3000.0
"""Longer (mm) than any piece is across."""

TURNS: Final = (0, 15, -15, 30, -30, 45, -45, 60, -60, 75, -75, 90, -90)
"""Degrees off the straight continuation of the dart at which a slit is tried, in this order."""

CORNER: Final = 1.0
"""A slit keeps this far (mm) from a corner, and is at least this long."""

BESIDE: Final = 4.0
"""A slit beside the centre ends so far (mm) from its corner."""

SAME: Final = 1e-6
"""Pivots this near (mm) are one."""

NOTHING_LEFT: Final = 1e-9
"""A dart under this angle (radians) is as good as folded."""


@lru_cache(maxsize=32)
def folded_piece(
    piece: Piece, dart_name: str, *, beside_centre: bool = False, shut: tuple[FoldLine, ...] = ()
) -> Piece:
    """The piece with one dart shut: the loose side, with all that lies on it, laid leg on leg.

    `beside_centre`: a slit for its angle is tried there first. `shut` are darts that lie shut already: a slit keeps off
    them where it can, for no scissors go through a pinned dart.

    Places on its edges are found by origin as on the flat piece. Refusal when it has no such dart, or when there is no
    way to let the angle out elsewhere.
    """
    dart = piece.dart(dart_name)
    if dart.angle < NOTHING_LEFT:
        return piece
    opened, into = _receiving(piece, dart, beside_centre=beside_centre, shut=shut)
    turned = turn(opened, opened.dart(dart_name), into)
    if any(is_centre(edge) for edge in piece.edges):  # it lay still
        return turned.piece
    wanted, _ = fold_placement(piece, dart)
    if wanted.angle * turned.moved.angle < 0.0:  # the other side turned: lay the whole back on the side with the fold
        return placed_piece(turned.piece, turned.moved.inverse())
    return turned.piece


def with_folded(piece: Piece, dart_names: Sequence[str]) -> Piece:
    """The piece with several darts shut, one after the other."""
    pivots = [piece.dart(name).pivot for name in dart_names]
    shown = piece
    for done, (name, pivot) in enumerate(zip(dart_names, pivots, strict=True)):
        shares = sum(gap(pivot, other) <= SAME for other in pivots) > 1
        shown = folded_piece(shown, name, beside_centre=shares, shut=fold_lines(piece, shown, dart_names[:done]))
    return shown


def _receiving(piece: Piece, dart: Dart, *, beside_centre: bool, shut: Sequence[FoldLine]) -> tuple[Piece, str]:
    """The piece with a place for the angle to go, and the name of the base edge there."""
    for other in piece.darts:
        if other.name != dart.name and gap(other.pivot, dart.pivot) <= SAME:
            return piece, other.base
    first = _slits_beside_centre(piece, dart) if beside_centre else iter(())
    for place in _off_folds(piece, dart, chain(first, _slits(piece, dart)), shut):
        opened = with_opening(piece, place, dart.name + SLIT)
        return opened, next(edge.name for edge in opened.edges if edge.origin.edge == dart.name + SLIT)
    raise Refusal(
        f"The {spoken(dart.name)} of piece {piece.name} cannot be shown folded: there is no way from its pivot to "
        f"another edge; show it open.",
        piece=piece.name,
    )


def _off_folds(piece: Piece, dart: Dart, places: Iterable[OnLoop], shut: Sequence[FoldLine]) -> Iterator[OnLoop]:
    """The places in order, those to which a slit runs through a dart that lies shut last."""
    folds = [as_points((fold.mouth, fold.pivot)) for fold in shut if gap(fold.pivot, dart.pivot) > SAME]
    through = []
    for place in places:
        slit = as_points((dart.pivot, point_on(piece.edges, place)))
        if any(crossings(slit, fold) for fold in folds):
            through.append(place)
        else:
            yield place
    yield from through


def _slits(piece: Piece, dart: Dart) -> Iterator[OnLoop]:
    """Places on the outline to which a slit from the pivot may run, the straightest continuation first."""
    away = complex(*dart.pivot) - complex(*dart.mouth)
    for turned in TURNS:
        direction = away / abs(away) * complex(cos(radians(turned)), sin(radians(turned)))
        place = _met(piece, dart.pivot, direction)
        if place is not None and _is_free(piece, dart, place):
            yield place


def _slits_beside_centre(piece: Piece, dart: Dart) -> Iterator[OnLoop]:
    """Places beside both ends of the centre, the lower end first."""
    corners = []
    for index, edge in enumerate(piece.edges):
        before = piece.edges[index - 1]
        if is_centre(edge) and not is_centre(before):
            corners.append((edge.points[0][1], OnLoop((index - 1) % len(piece.edges), before.length - BESIDE)))
        if is_centre(before) and not is_centre(edge):
            corners.append((before.points[-1][1], OnLoop(index, BESIDE)))
    for _, place in sorted(corners, key=lambda corner: float(corner[0])):
        if _is_free(piece, dart, place):
            yield place


def _met(piece: Piece, pivot: Point, direction: complex) -> OnLoop | None:
    """Where a ray from the pivot first meets the outline, off the very pivot."""
    far = (pivot[0] + RAY * direction.real, pivot[1] + RAY * direction.imag)
    ray = as_points((pivot, far))
    met = [
        (along, OnLoop(index, on_edge))
        for index, edge in enumerate(piece.edges)
        for along, on_edge in crossings(ray, edge.points)
        if along > CORNER
    ]
    return min(met, key=lambda found: found[0])[1] if met else None


def _is_free(piece: Piece, dart: Dart, place: OnLoop) -> bool:
    """Whether a slit may end there: on cloth that may part, clear of corners, and past no dart with another pivot."""
    edge = piece.edges[place.index]
    if is_centre(edge) or edge.kind == "dart base" or not CORNER < place.distance < edge.length - CORNER:
        return False
    try:
        refuse_path(piece, dart, point_on(piece.edges, place))
    except Refusal:
        return False
    return True
