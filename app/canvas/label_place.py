"""Where a piece's number and name stand: well inside the cloth, clear of its darts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from app.canvas.paths import thinned
from core.geometry.planar import inside
from core.geometry.polyline import Point, Points, as_points
from core.pieces.fold_lines import FoldLine
from core.pieces.records import Piece

COLUMNS: Final = 15
"""Places tried across the piece, and as many up it."""

CROSSED: Final = 2.0
"""A label may stand nearer to a line on the piece than to its outline, by this much."""

ENOUGH: Final = 64
"""Chords of an outline that tell how far off it is, besides its corners: the work grows with them."""

TALL: Final = 0.5
"""A label is about twice as wide as it is high, so room at its sides counts half."""


def label_place(piece: Piece, folds: Sequence[FoldLine] = ()) -> Point:
    """The place in mm, of a grid over the piece, that is farthest from outline, darts and folds."""
    low, high = piece.loop.min(axis=0), piece.loop.max(axis=0)
    share = (np.arange(COLUMNS) + 0.5) / COLUMNS
    x, y = np.meshgrid(low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1]))
    grid = as_points(np.column_stack((x.ravel(), y.ravel())))
    room = _room(grid, piece)
    for fold in folds:
        room = np.minimum(room, _away(grid, as_points((fold.mouth, fold.pivot))))
    room[~inside(piece.loop, grid)] = -1.0
    best = grid[int(np.argmax(room))]
    return (float(best[0]), float(best[1]))


def _room(grid: Points, piece: Piece) -> NDArray[np.float64]:
    """How far each place is from the nearest outline, dart leg or line, shape (N,); width counts half."""
    closed = np.vstack((piece.loop, piece.loop[:1]))
    found = _away(grid, thinned(closed, max(1, len(closed) // ENOUGH)))
    for dart in piece.darts:
        found = np.minimum(found, _away(grid, as_points((dart.legs[0], dart.pivot, dart.legs[1]))))
    if piece.number:  # on a panel levels carry no names that the label could lie on
        return found
    for stretch in (stretch for line in piece.lines for stretch in line.stretches):
        found = np.minimum(found, CROSSED * _away(grid, stretch[:: max(1, len(stretch) // 24)]))
    return found


def _away(grid: Points, path: Points) -> NDArray[np.float64]:
    squeeze = np.array((TALL, 1.0))
    points, starts = grid * squeeze, path[:-1] * squeeze
    spans = path[1:] * squeeze - starts
    to_start = points[:, None, :] - starts[None, :, :]
    size = np.maximum((spans**2).sum(axis=1), 1e-12)
    share = np.clip((to_start * spans).sum(axis=2) / size, 0.0, 1.0)
    gaps = to_start - share[..., None] * spans
    return np.asarray(np.hypot(gaps[..., 0], gaps[..., 1]).min(axis=1))
