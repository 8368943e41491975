"""Where a dart can be pivoted to: another dart with its pivot, a place on an edge, or gathers in its own place."""

from __future__ import annotations

from dataclasses import dataclass

from app.canvas.hits import dart_at, edge_at
from app.canvas.laid import Laid
from app.canvas.snaps import Snap, edge_middles, snap
from app.canvas.table import CuttingTable
from app.canvas.tool import Pointer
from core.geometry.placement import gap
from core.geometry.polyline import Point
from core.pieces.names import spoken
from core.pieces.outline import is_centre
from core.pieces.places import Place
from core.pieces.records import Dart, Garment, Piece


@dataclass(frozen=True, slots=True)
class Goal:
    """Where the dart is to go: into another dart, or to a place on an edge; `at` in the piece's mm."""

    words: str
    at: Point
    into: str = ""
    place: Place | None = None


def goals(garment: Garment, piece: Piece, dart: Dart) -> list[Goal]:
    """The goals that are offered by name: other darts with this pivot, the middles of edges without fold, itself."""
    others = [other for other in piece.darts if other.name != dart.name and gap(other.pivot, dart.pivot) < 1e-6]
    found = [Goal(spoken(other.name), mouth(other), into=other.name) for other in others]
    middles = edge_middles(garment, piece)
    return [*found, *(Goal(middle.name, middle.at, place=middle.place) for middle in middles), _in_place(dart)]


def goal_at(table: CuttingTable, base: Laid, dart: Dart, at: Pointer) -> Goal | None:
    """The goal under the pointer: another dart or the dart itself, else a place on an edge that is no fold."""
    hit = dart_at([base], at.at, at.reach / 2)
    if hit is not None and hit.dart.name != dart.name:
        return Goal(spoken(hit.dart.name), mouth(hit.dart), into=hit.dart.name)
    if hit is not None:
        return _in_place(dart)
    edge = edge_at([base], at.at, at.reach)
    if edge is None or is_centre(edge.edge):
        return None
    here, reach = base.to_piece(at.at), at.reach / 4 if at.free else at.reach
    found: Snap | None = snap(table.session.replay.garment, base.piece, here, reach, unit=table.unit)
    return Goal(found.name, found.at, place=found.place) if found is not None and found.place else None


def mouth(dart: Dart) -> Point:
    """The middle between a dart's leg ends."""
    return ((dart.legs[0][0] + dart.legs[1][0]) / 2, (dart.legs[0][1] + dart.legs[1][1]) / 2)


def _in_place(dart: Dart) -> Goal:
    """The dart itself as a goal: it is gathered or eased where it lies."""
    return Goal("gathers in its own place", mouth(dart), into=dart.name)
