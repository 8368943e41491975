"""The needle that arrow keys move over the table: where it begins."""

from __future__ import annotations

from app.canvas.table import CuttingTable
from core.geometry.polyline import Point


def needle_start(table: CuttingTable) -> Point:
    """The middle of the piece that is taken up, or of the first one, on the table."""
    item = table.scene.piece(table.selection) or table.scene.laid[0]
    return item.to_table(table.pictures.label(item, fast=False))
