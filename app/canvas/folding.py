"""Folding darts on the table: which the pointer or a key means, and what was folded, said in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from app.canvas.hits import dart_at, piece_at
from core.pieces.folded_piece import SLIT
from core.pieces.names import spoken

if TYPE_CHECKING:
    from app.canvas.table import CuttingTable


def fold_under_pointer(table: CuttingTable) -> None:
    """Fold the open dart under the pointer with those that are folded; elsewhere open all, or fold the first one."""
    at = table.hand.pointer
    hit = dart_at(table.scene.laid, at.at, at.reach) if at is not None else None
    under = hit.laid if hit is not None else piece_at(table.scene.laid, at.at) if at is not None else None
    item = under or table.scene.piece(table.selection)
    if item is None:
        return
    if hit is not None:
        fold(table, item.name, (*item.folded, hit.dart.name))
    else:
        fold(table, item.name, () if item.folded else tuple(dart.name for dart in item.piece.darts[:1]))


def fold(table: CuttingTable, piece: str, darts: tuple[str, ...]) -> None:
    """Fold these darts of a piece shut, open its others, and say which are folded now."""
    table.set_folded(piece, darts)
    table.say(folded_words(table, piece, darts))


def turned(table: CuttingTable, piece: str, dart: str) -> None:
    """Fold one more dart of a piece, or open it; the others stay as they are."""
    folded = table.scene.folded(piece)
    others = tuple(name for name in folded if name != dart)
    fold(table, piece, others if dart in folded else (*folded, dart))


def next_folds(darts: tuple[str, ...], folded: tuple[str, ...]) -> tuple[str, ...]:
    """What is folded next when one goes on: each dart in turn, then all together, then none."""
    rounds = [(), *((name,) for name in darts), *([darts] if len(darts) > 1 else [])]
    here = rounds.index(folded) if folded in rounds else len(rounds) - 1
    return rounds[(here + 1) % len(rounds)]


def folded_words(table: CuttingTable, piece: str, wanted: tuple[str, ...]) -> str:
    """What is folded on a piece now, when `wanted` were to be: said by name, and why where one cannot be."""
    item = table.scene.piece(piece)
    if item is None:
        return "Take up a piece, or point at a dart, to fold it."
    if not item.piece.darts:
        return f"The {piece} has no open dart to fold."
    if not wanted:
        return f"All darts of the {piece} are open."
    stuck = [name for name in wanted if name not in item.folded]
    words = (
        [f"The {_all(stuck)} of the {piece} cannot be folded: its angle has nowhere to go meanwhile."] if stuck else []
    )
    if item.folded:
        is_are = "is" if len(item.folded) == 1 else "are"
        words.append(f"The {_all(item.folded)} of the {piece} {is_are} folded shut: what you draw runs on across.")
    if any(dart.name.endswith(SLIT) for dart in item.shown.darts):
        words.append("The gap is there only for the while: keep the line off it.")
    return " ".join(words)


def _all(names: Sequence[str]) -> str:
    return " and the ".join(spoken(name) for name in names)
