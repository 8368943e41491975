"""Where pieces lie on the table: a shift for each, kept apart from their geometry.

Panels of one block stay where they were cut, spread a little so that each is seen whole; the back lies left of the
front, cups at the right, copies below what they were copied from. A piece keeps its place while something is dragged;
places are worked out anew afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations
from typing import Final

from app.canvas.view import Box
from core.geometry.planar import distance_between, shared_area
from core.geometry.polyline import Point, Points
from core.pieces.names import RIGHT
from core.pieces.records import Garment, Piece

BETWEEN_BLOCKS: Final = 70.0
"""mm between front and back, and before the cup: room for seam marks and labels."""

BETWEEN_PANELS: Final = 9.0
"""mm wanted between panels that were cut apart."""

SPREADS: Final = (0.0, 0.06, 0.1, 0.15, 0.2, 0.26, 0.33, 0.4, 0.5)
"""How far a panel is moved from its block's middle, as a share of its middle's distance from there."""

SAME: Final = 1e-6
"""mm² of overlap that is none."""


def places(garment: Garment, kept: Mapping[str, Point] | None = None, *, gathered: str = "") -> dict[str, Point]:
    """The shift in mm of every piece, by name. A piece in `kept` stays there; `gathered` is a block left unspread."""
    if kept is not None and set(garment.pieces) <= set(kept):
        return {name: kept[name] for name in garment.pieces}
    found: dict[str, Point] = {}
    below: dict[str, float] = {}
    for (block, layer), pieces in _by_layer(garment).items():
        x, y = block_place(garment, block)
        low, high = _heights(pieces)
        corner = (x, below[block] - BETWEEN_BLOCKS - high) if layer and block in below else (x, y)
        below[block] = min(below.get(block, low), low + corner[1])
        spread = {piece.name: (0.0, 0.0) for piece in pieces} if block == gathered else _spread(pieces)
        for name, (dx, dy) in spread.items():
            found[name] = (corner[0] + dx, corner[1] + dy)
    return found | {name: place for name, place in (kept or {}).items() if name in found}


def _by_layer(garment: Garment) -> dict[tuple[str, str], list[Piece]]:
    """Pieces by their block and by what they were copied as ("lining"), "" for what was cut from the block itself."""
    found: dict[tuple[str, str], list[Piece]] = {}
    for piece in garment.pieces.values():
        found.setdefault((piece.block, _layer(piece)), []).append(piece)
    return found


def _layer(piece: Piece) -> str:
    words = piece.edges[0].origin.edge.split(".")
    return words[0] if len(words) > 2 and words[0] != RIGHT else ""


def _heights(pieces: Sequence[Piece]) -> tuple[float, float]:
    """The lowest and the highest place of some pieces where they were cut, in mm."""
    _, low, _, high = extent([piece.loop for piece in pieces])
    return low, high


def block_place(garment: Garment, block: str) -> Point:
    """Where a block lies before it is cut; its panels lie round about there.

    The front lies at its own coordinates, the back clear of it at the left, anything else at the right. Where a block
    has been unfolded or mirrored, its pieces lie across the centre line and need more room.
    """
    if block == "front":
        return (0.0, 0.0)
    if block == "back":
        front, back = (extent([p.loop for p in garment.pieces.values() if p.block == b]) for b in ("front", "back"))
        across = min(front[0], 0.0) - max(back[2], 0.0)
        return (across * (1 + SPREADS[2]) - BETWEEN_BLOCKS, 0.0)
    taken = [piece for piece in garment.pieces.values() if piece.block in ("front", "back")]
    taken += [piece for piece in garment.blocks.values() if piece.block == "front"]
    own = [piece for piece in garment.pieces.values() if piece.block == block]
    if not own or not taken:
        return (0.0, 0.0)
    right = max(float(piece.loop[:, 0].max()) for piece in taken)
    left = min(float(piece.loop[:, 0].min()) for piece in own)
    return (right * (1 + SPREADS[2]) + BETWEEN_BLOCKS - left, 0.0)


def _spread(pieces: Sequence[Piece]) -> dict[str, Point]:
    """The shift of each piece of one block from where it was cut: the least spread that parts them all."""
    if len(pieces) < 2:
        return {piece.name: (0.0, 0.0) for piece in pieces}
    middles = {piece.name: _middle([piece]) for piece in pieces}
    middle = _middle(pieces)
    shifts: dict[str, Point] = {}
    for spread in SPREADS:
        shifts = {name: (spread * (x - middle[0]), spread * (y - middle[1])) for name, (x, y) in middles.items()}
        if all(_are_apart(a, b, shifts) for a, b in combinations(pieces, 2)):
            break
    return shifts


def _middle(pieces: Iterable[Piece]) -> Point:
    box = extent([piece.loop for piece in pieces])
    return ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _are_apart(first: Piece, second: Piece, shifts: Mapping[str, Point]) -> bool:
    a, b = first.loop + shifts[first.name], second.loop + shifts[second.name]
    return distance_between(a, b) >= BETWEEN_PANELS and shared_area(a, b) <= SAME


def extent(loops: Iterable[Points]) -> Box:
    """The box round several polylines, in mm; a box of no size at the origin for none."""
    corners = [(*loop.min(axis=0).tolist(), *loop.max(axis=0).tolist()) for loop in loops]
    if not corners:
        return (0.0, 0.0, 0.0, 0.0)
    lefts, bottoms, rights, tops = zip(*corners, strict=True)
    return (min(lefts), min(bottoms), max(rights), max(tops))
