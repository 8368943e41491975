"""Undo and redo: a list of labelled designs. The records share their parts, so a history costs next to nothing."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from core.design.design import Design


class Entry(msgspec.Struct, frozen=True, eq=False):
    """A design and the label of the act that led to it."""

    label: str
    design: Design


class History(msgspec.Struct, frozen=True, eq=False):
    """Entries in order and the index of the one that is current."""

    entries: tuple[Entry, ...]
    index: int = 0

    @property
    def design(self) -> Design:
        """The current design."""
        return self.entries[self.index].design

    @property
    def undo_label(self) -> str:
        """What undo would take back, or "" when there is nothing to take back."""
        return self.entries[self.index].label if self.index else ""

    @property
    def redo_label(self) -> str:
        """What redo would do again, or ""."""
        return self.entries[self.index + 1].label if self.index + 1 < len(self.entries) else ""

    def done(self, label: str, design: Design) -> History:
        """The history after an act; what had been undone is dropped."""
        kept = self.entries[: self.index + 1]
        return History((*kept, Entry(label, design)), len(kept))

    def undone(self) -> History:
        """One act back; the same history when there is none."""
        return replace(self, index=max(self.index - 1, 0))

    def redone(self) -> History:
        """One act forward again; the same history when there is none."""
        return replace(self, index=min(self.index + 1, len(self.entries) - 1))


def begun(design: Design) -> History:
    """The history of a design that has just been begun or opened."""
    return History((Entry("", design),))
