"""Folding darts on the table: which the pointer or a key means, and what was folded, said in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.canvas.hits import dart_at, piece_at
from core.pieces.names import spoken

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable


def fold_under_pointer(table: CuttingTable) -> None:
    """Fold the dart under the pointer, or of the piece taken up the next one; open the piece that is folded."""
    at = table.hand.pointer
    hit = dart_at(table.scene.laid, at.at, at.reach) if at is not None else None
    under = hit.laid if hit is not None else piece_at(table.scene.laid, at.at) if at is not None else None
    item = under or table.scene.piece(table.selection)
    if item is not None:
        dart = hit.dart.name if hit is not None else next((dart.name for dart in item.piece.darts), None)
        fold(table, item.name, None if item.folded else dart)


def fold(table: CuttingTable, piece: str, dart: str | None) -> None:
    """Fold one dart of a piece shut, or open all it has, and say which is folded now."""
    table.set_folded(piece, dart)
    table.say(folded_words(table, piece, dart))


def folded_words(table: CuttingTable, piece: str, wanted: str | None) -> str:
    """What is folded on a piece now, when `wanted` was to be: said by name, and why where it cannot be."""
    item = table.scene.piece(piece)
    if item is None:
        return "Take up a piece, or point at a dart, to fold it."
    if not item.piece.darts:
        return f"The {piece} has no open dart to fold."
    if wanted is None:
        return f"All darts of the {piece} are open."
    if not item.folded:
        return f"The {spoken(wanted)} of the {piece} cannot be folded: its angle has nowhere to go meanwhile."
    names = " and the ".join(spoken(name) for name in item.folded)
    return f"The {names} of the {piece} is folded shut: what you draw runs on across it. Fold again to go on."
