"""Where a dart can be pivoted to: another dart with its pivot, a place on an edge, or gathers in its own place."""

from __future__ import annotations

from math import asin, radians

import msgspec

from app.canvas.hits import dart_at, edge_at
from app.canvas.laid import Laid
from app.canvas.snaps import Snap, edge_middles, snap
from app.canvas.tool import Handle, Pointer
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.names import spoken
from core.pieces.outline import is_centre
from core.pieces.places import Place, place_words, resolved_point
from core.pieces.records import Dart, Garment, Piece
from core.steps.pivot import Receiver
from core.units import Unit, parse_length, show_angle, show_length


class Goal(msgspec.Struct, frozen=True):
    """Where the dart is to go: into another dart, or to a place on an edge; `at` in the piece's mm."""

    words: str
    at: Point
    into: str = ""
    place: Place | None = None


def goals(garment: Garment, piece: Piece, dart: Dart) -> list[Goal]:
    """The goals that are offered by name: other darts with this pivot, the middles of edges without fold, itself."""
    others = [other for other in piece.darts if other.name != dart.name and gap(other.pivot, dart.pivot) < 1e-6]
    found = [Goal(spoken(other.name), other.mouth, into=other.name) for other in others]
    middles = edge_middles(garment, piece)
    return [*found, *(Goal(middle.name, middle.at, place=middle.place) for middle in middles), _in_place(dart)]


def goal_of(garment: Garment, piece: Piece, dart: str, receiver: Receiver, *, unit: Unit) -> Goal:
    """The goal that a share of a dart is sent to. Refusal where the place or the dart is there no more."""
    if receiver.place is not None:
        at = resolved_point(garment, piece, receiver.place)
        return Goal(
            place_words(receiver.place, show_length(receiver.place.distance or 0.0, unit)), at, place=receiver.place
        )
    if receiver.into == dart:
        return _in_place(piece.dart(dart))
    return Goal(spoken(receiver.into), piece.dart(receiver.into).mouth, into=receiver.into)


def goal_at(garment: Garment, base: Laid, dart: Dart, at: Pointer, *, unit: Unit) -> Goal | None:
    """The goal under the pointer: another dart or the dart itself, else a place on an edge that is no fold.

    `garment` is the one that `base` is a piece of, as places are counted along its edges.
    """
    hit = dart_at([base], at.at, at.reach / 2)
    if hit is not None and hit.dart.name != dart.name:
        return Goal(spoken(hit.dart.name), hit.dart.mouth, into=hit.dart.name)
    if hit is not None:
        return _in_place(dart)
    edge = edge_at([base], at.at, at.reach)
    if edge is None or is_centre(edge.edge):
        return None
    here, reach = base.to_piece(at.at), at.reach / 4 if at.free else at.reach
    found: Snap | None = snap(garment, base.piece, here, reach, unit=unit)
    return Goal(found.name, found.at, place=found.place) if found is not None and found.place else None


def typed_share(text: str, dart: Dart, *, away: float, rest: float, unit: Unit) -> float:
    """The share of a dart's angle that was typed: "50 %", "6.5 degrees", or how wide it opens ("3/4 in").

    `away` (mm) is how far from the pivot it opens, `rest` the share that is left of the angle. Refusal for another
    text, and for nothing or more than is left.
    """
    words = text.strip().rstrip(".")
    if words.endswith("%"):
        share = number_in(words.removesuffix("%")) / 100.0
    elif words.endswith(("°", "degrees", "degree", "deg")):
        share = radians(number_in(words.rstrip("°degrs"))) / dart.angle
    else:
        wide = parse_length(words, unit)
        share = 2.0 * asin(min(max(wide / (2.0 * away), -1.0), 1.0)) / dart.angle
    if not 0.0 < share <= rest + 5e-4:
        left = f"{100.0 * rest:.3g} % ({show_angle(rest * dart.angle)})"
        raise Refusal(f"“{text.strip()}” is {100.0 * share:.3g} % of the {spoken(dart.name)}; up to {left} is left.")
    return min(share, rest)


def number_in(text: str) -> float:
    """The number that a text says. Refusal for another text."""
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise Refusal(f"“{text.strip()}” is no number: write 50 %, 6.5 degrees, or how wide it opens.") from None


def dart_handle(item: Laid, dart: Dart) -> Handle:
    """The handle by which a dart is picked."""
    x, y = ((a + b) / 2 for a, b in zip(dart.mouth, dart.pivot, strict=True))
    words = f"{spoken(dart.name).capitalize()} of {item.name}"
    return Handle(f"dart |{item.name}|{dart.name}", words, item.to_table((x, y)), (x, y), "choice", moves=False)


def _in_place(dart: Dart) -> Goal:
    """The dart itself as a goal: it is gathered or eased where it lies."""
    return Goal("gathers in its own place", dart.mouth, into=dart.name)
