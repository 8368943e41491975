"""What is said about the left half, said about the right one too once a piece is unfolded."""

from __future__ import annotations

from msgspec.structs import replace

from core.design.design import Design
from core.design.finishes import EdgeFinish, Finishing
from core.pieces.mirroring import prefixed
from core.pieces.names import RIGHT
from core.pieces.places import Place
from core.pieces.records import Garment


def for_both_halves(design: Design, garment: Garment) -> Design:
    """The design with its finishes for the right half too, where that is drawn out; what is said of it itself stays."""
    if not any(name.startswith(f"{RIGHT}.") for name in garment.origins):
        return design
    return replace(design, finishing=_both(design.finishing, garment))


def _both(finishing: Finishing, garment: Garment) -> Finishing:
    both = finishing
    for finish in finishing.edges:
        right = _right_finish(finish, garment)
        if right.edge in garment.origins and not any(right.is_about(known) for known in finishing.edges):
            both = both.with_edge(right)
    for doubled in finishing.doubled:
        piece = _right_piece(doubled.piece, garment)
        if piece != doubled.piece and finishing.doubled_piece(piece) is None:
            both = both.with_doubled(replace(doubled, piece=piece, through=prefixed(doubled.through, RIGHT)))
    for pressed in finishing.darts:
        right_dart = replace(pressed, piece=_right_piece(pressed.piece, garment), dart=prefixed(pressed.dart, RIGHT))
        if not any((one.piece, one.dart) == (right_dart.piece, right_dart.dart) for one in finishing.darts):
            both = both.with_dart(right_dart)
    boned = {(bone.piece, bone.edge, bone.side) for bone in finishing.bones}
    for bone in finishing.bones:
        right_bone = replace(bone, piece=_right_piece(bone.piece, garment), edge=prefixed(bone.edge, RIGHT))
        if right_bone.edge in garment.origins and (right_bone.piece, right_bone.edge, right_bone.side) not in boned:
            both = both.with_bone(right_bone)
    return both


def _right_piece(piece: str, garment: Garment) -> str:
    """The other one of a pair; a piece that was on the fold holds both halves itself."""
    other = f"{RIGHT} {piece}"
    return other if other in garment.pieces else piece


def _right_finish(finish: EdgeFinish, garment: Garment) -> EdgeFinish:
    start, stop = (_right_place(place) for place in (finish.start, finish.stop))
    return replace(
        finish,
        piece=_right_piece(finish.piece, garment),
        edge=prefixed(finish.edge, RIGHT),
        start=start,
        stop=stop,
    )


def _right_place(place: Place | None) -> Place | None:
    return None if place is None else replace(place, edge=prefixed(place.edge, RIGHT))
