"""Copy: pieces laid on others as their lining, underlining or facing, with edges of their own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, TypeVar

from msgspec.structs import replace

from core.errors import Refusal
from core.pieces.mirroring import prefixed, prefixed_piece, prefixed_seam
from core.pieces.names import RIGHT, spoken_in_full
from core.pieces.records import Change, Garment, Origin, OriginEdge, Piece, Seam
from core.pieces.seams import Match, holding, matches
from core.steps.step import Effect, Note, Step
from core.units import Unit

SAME: Final = 1e-3
"""Stretches of an edge that share less (mm) only touch."""


class CopyPieces(Step, frozen=True, tag="copy"):
    """Copy pieces to be cut from another fabric: "lining yoke" from "yoke", with the smallest numbers that are free.

    Seams between pieces that are copied together are copied too; every other seam edge of a copy is open on purpose,
    as it is sewn in with the piece it lies on.
    """

    pieces: tuple[str, ...]
    word: str = "lining"
    fabric: str = "lining"

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """The pieces and the origins of their edges; of the others only names, numbers and where seams hold them."""
        copied = [garment.piece(name) for name in self.pieces]
        held = {edge.origin.edge: garment.origins.get(edge.origin.edge) for piece in copied for edge in piece.edges}
        sewn = tuple((found.seam, self._holds(found)) for found in matches(garment))
        return (*copied, *held.values(), *garment.taken(), *garment.origins, *sewn)

    def effect(self, garment: Garment) -> Effect:
        """The copies beside what was there, which stays as it is.

        Refusal when no piece is named, one is named twice, or a copy's name is taken or cannot be one.
        """
        copied = [garment.piece(name) for name in self.pieces]
        self._refuse(garment)
        free = garment.free_numbers()
        added = tuple(self._copy(piece, next(free) if piece.number else 0) for piece in copied)
        seams = [found.seam for found in matches(garment) if self._holds(found)]
        change = Change(
            added=added,
            seams={seam.name: seam for seam in (prefixed_seam(seam, self.word) for seam in seams)},
            origins=self._origins(garment, copied),
            open_edges=self._open(copied, seams),
        )
        numbered = ", ".join(f"{piece.number} {piece.name}" if piece.number else piece.name for piece in added)
        notes = [Note("named", f"Copied: {numbered}.", added[0].name)]
        if change.seams:
            notes.append(Note("named", f"Seams of the copies: {', '.join(map(spoken_in_full, change.seams))}."))
        return Effect(change, tuple(notes))

    def _refuse(self, garment: Garment) -> None:
        if not self.pieces or len(set(self.pieces)) < len(self.pieces):
            raise Refusal("Name each piece to copy once, and at least one.")
        if not self.word.strip() or "." in self.word or self.word == RIGHT:
            raise Refusal(
                f'The copy of {self.pieces[0]} cannot be called "{self.word}"; give a word such as lining.',
                piece=self.pieces[0],
            )
        for name in self.pieces:
            if self._name(name) in garment.pieces or self._is_there(garment, name):
                raise Refusal(
                    f"There is a piece {self._name(name)} already, or a copy of its edges called {self.word}; give the "
                    f"copy another word.",
                    piece=name,
                )

    def _is_there(self, garment: Garment, name: str) -> bool:
        """Whether another piece holds a stretch of an edge that the copy would hold: it is a copy of the same cloth."""
        return any(
            _overlap(mine.origin, edge.origin) > SAME
            for mine in garment.piece(name).edges
            for _, edge in holding(garment, prefixed(mine.origin.edge, self.word), mine.origin.side)
        )

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the copies."""
        return tuple(self._name(piece) for piece in self.pieces)

    def _name(self, piece: str) -> str:
        return f"{self.word} {piece}"

    def _copy(self, piece: Piece, number: int) -> Piece:
        copy = prefixed_piece(piece, self.word)
        return replace(copy, name=self._name(piece.name), number=number, fabric=self.fabric)

    def _holds(self, found: Match) -> bool:
        """Whether both sides of a seam lie on pieces that are copied."""
        return bool(found.a and found.b) and set(found.pieces) <= set(self.pieces)

    def _origins(self, garment: Garment, copied: Sequence[Piece]) -> dict[str, OriginEdge]:
        held = [edge.origin.edge for piece in copied for edge in piece.edges]
        held += [line.name for piece in copied for line in piece.lines]
        origins = (garment.origins[name] for name in held if name in garment.origins)
        copies = (OriginEdge(prefixed(old.name, self.word), old.length, old.ends) for old in origins)
        return {copy.name: copy for copy in copies}

    def _open(self, copied: Sequence[Piece], seams: Sequence[Seam]) -> Mapping[str, str]:
        sewn = {(span.edge, span.side) for seam in seams for span in (*seam.a, *seam.b)}
        return {
            prefixed(edge.origin.edge, self.word): f"sewn in with the {piece.name}"
            for piece in copied
            for edge in piece.edges
            if edge.kind == "seam" and (edge.origin.edge, edge.origin.side) not in sewn
        }

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Copy the yoke and the back yoke as lining."""
        return f"Copy the {' and the '.join(self.pieces)} as {self.word}, cut from {self.fabric}."


def _overlap(one: Origin, other: Origin) -> float:
    """How much of their original edge both stretches hold, in mm; less than nothing where they lie apart."""
    (low, high), (start, stop) = sorted((one.start, one.stop)), sorted((other.start, other.stop))
    return min(high, stop) - max(low, start)


def copy_of(steps: Sequence[Step], piece: str) -> CopyPieces | None:
    """The step that made a piece as a copy of another; None where the piece is no copy."""
    for step in reversed(steps):
        if isinstance(step, CopyPieces) and piece in step.names:
            return step
    return None


AnyOf = TypeVar("AnyOf", bound=Step)


def copied_again(steps: Sequence[AnyOf], step: CopyPieces) -> tuple[AnyOf, ...]:
    """The steps with a copy made last, so that it has all that was done to its piece meanwhile.

    Steps that work on the copy itself follow it in their order.
    """
    own = [later for later in steps if later is not step and works_on(later, step.names)]
    others = [other for other in steps if other is not step and other not in own]
    again = [one for one in steps if one is step]
    return (*others, *again, *own)


def works_on(step: Step, names: Sequence[str]) -> bool:
    """Whether a step names one of some pieces."""
    named = [getattr(step, "piece", ""), *getattr(step, "pieces", ())]
    return any(name in names for name in named)
