"""The one family of exceptions that a user may meet: each carries the sentence that is shown to her."""

from __future__ import annotations


class Refusal(Exception):
    """Work that cannot be done as asked, said in one sentence that names piece, edge and way out.

    `piece` and `edge` repeat, for a window that wants to point at the place, what the sentence says in words.
    """

    def __init__(self, sentence: str, *, piece: str = "", edge: str = "") -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.piece = piece
        self.edge = edge


class Cancelled(Exception):
    """Raised by a progress callback to stop long work; nothing has been written when it is."""
