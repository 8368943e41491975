"""What has changed on the table since the frame before, so that a frame of a drag draws no more than that."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import TYPE_CHECKING, Final, TypeVar

import msgspec
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QFontMetrics, QRegion

from app.canvas.laid import Laid
from app.canvas.piece_marks import small

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable

HANDLE: Final = 15
"""Pixels from the middle of a handle to the outside of all that is drawn there."""

BESIDE: Final = 24
"""Pixels of a seam mark and round its words."""


_Key = TypeVar("_Key", bound=Hashable)


class _Piece(msgspec.Struct, frozen=True):
    """A piece as it lies, and what its seam marks say: verdicts and words."""

    item: Laid
    said: tuple[tuple[str, str], ...]


class Redrawing:
    """Where everything stood that was drawn last."""

    def __init__(self) -> None:
        self._ground: tuple[object, ...] = ()
        self._pieces: dict[_Piece, QRect] = {}
        self._over: dict[Hashable, QRect] = {}
        self._frame = 0

    def forget(self) -> None:
        """Everything is drawn anew."""
        self._ground, self._pieces, self._over = (), {}, {}

    def region(self, table: CuttingTable) -> QRegion | None:
        """The pixels that differ from the frame before: where things stand now, and where they stood; None: all."""
        covered = table.tool.covers()
        if covered is None:
            self.forget()
            return None
        ground, self._frame = _ground(table), self._frame + 1
        is_same = ground == self._ground
        stood = self._pieces if is_same else {}
        pieces = {piece: stood.get(piece) or _piece_box(table, piece) for piece in _pieces(table)}
        over = {**_handles(table), self._frame: covered.toAlignedRect()}
        region = _different(self._pieces, pieces) + _different(self._over, over)
        self._ground, self._pieces, self._over = ground, pieces, over
        return region if is_same else None

    def touches(self, item: Laid, region: QRegion) -> bool:
        """Whether a piece with its marks stands in a region, as far as that is known."""
        box = next((box for piece, box in self._pieces.items() if piece.item is item), None)
        return box is None or region.intersects(box)


def _different(before: Mapping[_Key, QRect], now: Mapping[_Key, QRect]) -> QRegion:
    """Where there is something now that was not there before, or was and is not now."""
    region = QRegion()
    for key in before.keys() ^ now.keys():
        region += before.get(key) or now[key]
    return region


def _ground(table: CuttingTable) -> tuple[object, ...]:
    """What all else depends on, or what is drawn right across the table."""
    ghost = table.tool.ghost()
    under = None if ghost is None else (ghost.shown, ghost.place)
    session = table.session
    over = (table.revealed, table.selection, session.shown.design.pictures, session.shown is session.replay)
    return (table.view, table.size(), table.look(), table.has_grid, under, *over)


def _pieces(table: CuttingTable) -> list[_Piece]:
    said: dict[str, list[tuple[str, str]]] = {}
    for mark in table.scene.marks:
        said.setdefault(mark.piece, []).append((mark.verdict, mark.words))
    return [_Piece(item, tuple(said.get(item.name, ()))) for item in table.scene.laid]


def _piece_box(table: CuttingTable, piece: _Piece) -> QRect:
    box = table.pictures.box(piece.item, table.frame(), table.look(), table.devicePixelRatioF())
    words = [words for _, words in piece.said if words]
    if not words:
        return box
    metrics = QFontMetrics(small(table.font()))
    return box.adjusted(0, 0, max(map(metrics.horizontalAdvance, words)) + BESIDE, 0)


def _handles(table: CuttingTable) -> dict[Hashable, QRect]:
    found: dict[Hashable, QRect] = {}
    focused = table.focused_handle
    for handle in table.shown_handles:
        at = table.frame().point(handle.at).toPoint()
        corner = QPoint(HANDLE, HANDLE)
        found[handle.key, handle.kind, handle.at, handle is focused] = QRect(at - corner, at + corner)
    return found
