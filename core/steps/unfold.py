"""Unfold: both halves of the garment drawn out, so that left and right can then differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec.structs import replace

from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.tolerances import SAME_POINT
from core.pieces.mirroring import prefixed, prefixed_seam, right_piece, unfolded
from core.pieces.names import RIGHT, all_of, spoken_in_full
from core.pieces.records import Change, Garment, Line, OriginEdge, Piece, Seam
from core.pieces.seams import matches
from core.steps.step import Effect, Note, Step
from core.units import Unit


class Unfold(Step, frozen=True, tag="unfold"):
    """Unfold a piece, with every piece that is sewn to it, directly or by others.

    A piece cut on the fold gets its right half; a piece of a pair stays the left one and gets a right one beside it,
    called "right side front" with the smallest number that is free. Seams of the right half are called "right.side".
    """

    piece: str

    def reads(self, garment: Garment) -> tuple[object, ...]:
        """What is sewn together with the piece, and all seams; of the other pieces only names and numbers."""
        group = sewn_together(garment, self.piece)
        others = garment.taken(*(piece.name for piece in group))
        return (*group, *others, *garment.seams.values(), *garment.open_edges.items())

    def effect(self, garment: Garment) -> Effect:
        """Both halves; every seam of the left one stands twice.

        Refusal when a piece is cut once already, has more than one fold edge, or a name is taken.
        """
        group = sewn_together(garment, self.piece)
        self._refuse(garment, group)
        numbers = garment.free_numbers()
        pieces = {piece.name: _both_halves(piece, numbers) for piece in group}
        seams = {seam.name: seam for seam in (prefixed_seam(seam, RIGHT) for seam in _seams_of(garment, group))}
        change = Change(
            pieces,
            seams=seams,
            origins=_origins(garment, pieces),
            open_edges={prefixed(name, RIGHT): why for name, why in garment.open_edges.items()},
        )
        return Effect(change, tuple(_notes(pieces, tuple(seams))))

    def _refuse(self, garment: Garment, group: Sequence[Piece]) -> None:
        for piece in group:
            if piece.is_single:
                raise Refusal(
                    f"Piece {piece.name} is cut once already: it is unfolded, or one of two that may differ; work on "
                    f"it as it lies.",
                    piece=piece.name,
                )
            if not _is_folded(piece) and f"{RIGHT} {piece.name}" in garment.pieces:
                raise Refusal(
                    f"There is a piece {RIGHT} {piece.name} already, where the right one of {piece.name} would stand; "
                    f"give it another name.",
                    piece=piece.name,
                )

    def sentence(self, garment: Garment, unit: Unit) -> str:
        """For example: Unfold the yoke, with the centre front and the side front, to a left and a right half."""
        others = [piece.name for piece in sewn_together(garment, self.piece) if piece.name != self.piece]
        along = f", with {all_of(others)}," if others else ""
        return f"Unfold the {self.piece}{along} to a left and a right half."


def sewn_together(garment: Garment, name: str) -> tuple[Piece, ...]:
    """A piece and all that are sewn to it, directly or by others, in the garment's order."""
    held = {garment.piece(name).name}
    joins = [set(found.pieces) for found in matches(garment)]
    while more := [join for join in joins if join & held and not join <= held]:
        held.update(*more)
    return tuple(piece for piece in garment.pieces.values() if piece.name in held)


def _is_folded(piece: Piece) -> bool:
    return any(edge.kind == "fold" for edge in piece.edges)


def _both_halves(piece: Piece, numbers: Iterator[int]) -> tuple[Piece, ...]:
    if _is_folded(piece):
        return (unfolded(piece),)
    number = next(numbers) if piece.number else 0
    return replace(piece, is_single=True), replace(right_piece(piece), number=number)


def _seams_of(garment: Garment, group: Sequence[Piece]) -> list[Seam]:
    names = {piece.name for piece in group}
    return [found.seam for found in matches(garment) if names & set(found.pieces)]


def _origins(garment: Garment, pieces: Mapping[str, tuple[Piece, ...]]) -> dict[str, OriginEdge]:
    """The origins of the right half, and those of the lines that run on over the fold."""
    found = {}
    for name, halves in pieces.items():
        before = garment.pieces[name]
        for held in [edge.origin.edge for edge in before.edges] + [line.name for line in before.lines]:
            if held in garment.origins:
                found[prefixed(held, RIGHT)] = replace(garment.origins[held], name=prefixed(held, RIGHT))
        for line in halves[0].lines:
            if line.name in garment.origins and line.length > before.line(line.name).length + SAME_POINT:
                del found[prefixed(line.name, RIGHT)]
                found[line.name] = _over_the_fold(before, line, garment.origins[line.name])
    return found


def _over_the_fold(before: Piece, line: Line, origin: OriginEdge) -> OriginEdge:
    """The origin of a line that now runs from one half to the other."""
    outer_first = gap(line.path[0], before.line(line.name).path[0]) <= SAME_POINT
    outer = origin.ends[0 if outer_first else 1]
    ends = (outer, f"{RIGHT}_{outer}")
    return OriginEdge(line.name, line.length, ends if outer_first else (ends[1], ends[0]))


def _notes(pieces: Mapping[str, tuple[Piece, ...]], seams: Sequence[str]) -> list[Note]:
    """What each piece became, and the seams that now stand twice."""
    notes = []
    for name, halves in pieces.items():
        now = f"whole, without a fold, and is cut once as {name}"
        if len(halves) > 1:
            now = f"two pieces, {name} and {halves[1].name}"
        notes.append(Note("named", f"Piece {name} is {now}.", name))
    if seams:
        notes.append(Note("named", f"Seams of the right half: {', '.join(map(spoken_in_full, seams))}."))
    return notes
