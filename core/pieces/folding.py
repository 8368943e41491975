"""Lines drawn with darts folded shut, laid out on the flat piece.

While a dart is folded its legs lie on each other, so a line that runs over it is one curve. On the flat piece it is
interrupted: it leaves one leg and goes on from the other at the same distance from the pivot.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from itertools import accumulate, product

import msgspec

from core.errors import Refusal
from core.geometry.placement import Placement, about, angle_between, gap
from core.geometry.polyline import Point, Points, as_points, between, crossings, length, nearest, point_at
from core.geometry.tolerances import AT_PIVOT, LEG_DIFFERENCE
from core.pieces.names import is_right, spoken
from core.pieces.outline import is_centre
from core.pieces.records import Dart, Piece

PASSED = 1e-3
"""A crossing this near (mm) behind the place reached is the one just made."""


class Crossing(msgspec.Struct, frozen=True):
    """A leg met by the line: how far along, which dart, the turn that carries flat places over the dart."""

    along: float
    dart: Dart
    carry: float


def fold_placement(piece: Piece, dart: Dart) -> tuple[Placement, int]:
    """How the loose side of a folded dart lies, and the leg (0 or 1) on the side with the fold, which lies still."""
    still = _still_leg(piece, dart)
    return about(dart.pivot, dart.closing_turn if still == 0 else -dart.closing_turn), still


def _still_leg(piece: Piece, dart: Dart) -> int:
    """The leg whose side of the loop reaches the centre first; legs[0] where the piece has none."""
    centres = _centres(piece)
    if not centres:
        return 0
    names = [edge.name for edge in piece.edges]
    stops = list(accumulate((edge.length for edge in piece.edges), initial=0.0))
    base = names.index(dart.base)
    ahead = min((start - stops[base + 1]) % stops[-1] for start, _ in centres)
    behind = min((stops[base] - stop) % stops[-1] for _, stop in centres)
    return 1 if ahead < behind else 0


def _centres(piece: Piece) -> list[tuple[float, float]]:
    """Where along the loop the centre lies, from and to (mm).

    It is the fold or centre seam, or where the halves of an unfolded piece meet.
    """
    stops = list(accumulate((edge.length for edge in piece.edges), initial=0.0))
    found = []
    for index, edge in enumerate(piece.edges):
        if is_centre(edge):
            found.append((stops[index], stops[index + 1]))
        elif is_right(edge.origin.edge) != is_right(piece.edges[index - 1].origin.edge):
            found.append((stops[index], stops[index]))
    return found


def laid_flat(piece: Piece, curve: Points, folded: Sequence[str]) -> tuple[Points, ...]:
    """The stretches on the flat piece of a curve (N, 2) drawn with darts folded.

    The curve is in the frame in which the side with the fold lies still. Refusal when a stretch runs over a dart that
    was not folded and meets its legs at unequal distances from the pivot.
    """
    if not folded:
        return tuple(_over_open_darts(piece, curve))
    darts = [piece.dart(name) for name in folded]
    frame = _first_frame(piece, curve, darts)
    stretches: list[Points] = []
    reached, total = 0.0, length(curve)
    while (crossing := _next_crossing(curve, frame, darts, reached)) is not None:
        stretches.append(frame.points(between(curve, reached, crossing.along)))
        frame = frame.then(about(crossing.dart.pivot, crossing.carry))
        reached = crossing.along
    stretches.append(frame.points(between(curve, reached, total)))
    return tuple(part for stretch in stretches for part in _over_open_darts(piece, stretch))


def _first_frame(piece: Piece, curve: Points, darts: Sequence[Dart]) -> Placement:
    """The frame in which the curve's first point lies best on the piece: as drawn, or unturned with a loose side.

    What lies between several folded darts has been turned by some of them, one way or the other.
    """
    turns = [fold_placement(piece, dart)[0] for dart in darts]
    choices = product(*((None, turn.inverse(), turn) if len(darts) > 1 else (None, turn.inverse()) for turn in turns))
    frames = [reduce(Placement.then, (turn for turn in chosen if turn is not None), Placement()) for chosen in choices]
    frames.sort(key=lambda frame: abs(frame.angle))

    def off(frame: Placement) -> float:
        closed_loop = as_points([*piece.loop, piece.loop[0]])
        start = frame.point(curve[0])
        return min([nearest(closed_loop, start)[1], *(gap(dart.pivot, start) for dart in piece.darts)])

    return min(frames, key=lambda frame: (round(off(frame), 3), frames.index(frame)))


def _next_crossing(curve: Points, frame: Placement, darts: Sequence[Dart], reached: float) -> Crossing | None:
    """The first leg that the curve meets beyond the place reached, seen from the cloth outside the dart."""
    back = frame.inverse()
    found = [
        Crossing(along, dart, angle_between(dart.pivot, dart.legs[leg], dart.legs[1 - leg]))
        for dart in darts
        for leg in (0, 1)
        for along, _ in crossings(curve, back.points(as_points((dart.pivot, dart.legs[leg]))))
        if along > reached + PASSED and _enters(curve, frame, along, dart)
    ]
    return min(found, key=lambda crossing: crossing.along, default=None)


def _enters(curve: Points, frame: Placement, along: float, dart: Dart) -> bool:
    """Whether just beyond the crossing the curve, laid by the frame, would lie in the dart's wedge."""
    if along >= length(curve) - PASSED:
        return False
    beyond = frame.point(point_at(curve, along + min(0.05, (length(curve) - along) / 2)))
    return _in_wedge(dart, beyond)


def _in_wedge(dart: Dart, place: Point) -> bool:
    turn = angle_between(dart.pivot, dart.legs[0], place)
    whole = angle_between(dart.pivot, dart.legs[0], dart.legs[1])
    return 0.0 < turn / whole < 1.0


def _unequal(piece: Piece, dart: Dart, at_first: float, at_second: float) -> Refusal:
    near = max(at_first, at_second) <= AT_PIVOT
    way_out = "snap a point of it to the pivot" if near else "draw it with the dart folded"
    places = 1 if abs(at_first - at_second) >= 0.1 else 2
    return Refusal(
        f"The line on piece {piece.name} meets the legs of the open {spoken(dart.name)} {at_first:.{places}f} and "
        f"{at_second:.{places}f} mm from its pivot, so it would show a step when the dart is sewn; {way_out}.",
        piece=piece.name,
    )


def _refuse_dip(piece: Piece, dart: Dart, met: list[tuple[float, float]]) -> None:
    """Refuse a line that enters an open wedge and leaves it by the same leg, which it runs beside but never along."""
    if len(met) > 1 and all(along > AT_PIVOT for _, along in met):
        raise Refusal(
            f"The line on piece {piece.name} dips into the open {spoken(dart.name)} and comes out by the same leg, "
            f"where there is no cloth; keep it on one side of the dart, or fold the dart and draw across.",
            piece=piece.name,
        )


def _over_open_darts(piece: Piece, stretch: Points) -> list[Points]:
    """The stretch with what lies in open wedges left out, each dart's legs being met at equal distances."""
    for dart in piece.darts:
        met = [crossings(stretch, as_points((dart.pivot, leg))) for leg in dart.legs]
        if not met[0] or not met[1]:
            _refuse_dip(piece, dart, met[0] or met[1])
            continue
        (first, at_first), (second, at_second) = met[0][0], met[1][0]
        if max(at_first, at_second) < PASSED:
            continue
        if abs(at_first - at_second) > LEG_DIFFERENCE:
            raise _unequal(piece, dart, at_first, at_second)
        low, high = sorted((first, second))
        before, after = between(stretch, 0.0, low), between(stretch, high, length(stretch))
        return [*_over_open_darts(piece, before), *_over_open_darts(piece, after)]
    return [stretch]
