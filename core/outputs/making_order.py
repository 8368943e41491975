"""The making order: in which sequence the pieces are sewn, worked out from seams, fabrics and finishes.

It goes from the small to the whole, as the trade does (common practice, no source): what is cut double is closed and
turned; darts; panels of one cloth; the sheer onto them; shoulders; sides; edges and closures; the cup by hand at last.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

import msgspec

from core.checks.verdict import verdict
from core.design.design import Design
from core.finishing.allowances import FinishedEdge
from core.finishing.finish import Finished, finish
from core.finishing.sewing_list import LineKind, sewing_list
from core.finishing.turning import turning_words
from core.outputs.making_words import (
    BLADE,
    BONING,
    PINS,
    cloth_edge_words,
    cup_words,
    dart_words,
    lined_edge_words,
    lining_words,
    net_edge_words,
    numbered,
    preparing_words,
    seam_words,
)
from core.pieces.names import spoken
from core.pieces.records import Garment
from core.pieces.seams import Match, matches


class MakingLine(msgspec.Struct, frozen=True):
    """One thing to do, under the heading of its stage, with the numbers of the pieces it is done to."""

    stage: str
    words: str
    pieces: tuple[int, ...] = ()
    caution: str = ""

    @property
    def text(self) -> str:
        """The line with its caution."""
        return f"{self.words} {self.caution}".strip()


PREPARE, DARTS, PANELS, CUPS, SHEER, WHOLE, LINING, EDGES, LAST = (
    "Cut and prepare", "Darts", "Panels", "Cups", "Sheer", "Shoulders and sides", "Lining", "Edges and closures",
    "Last",
)  # fmt: skip

FINISHES: Final[Mapping[LineKind, str]] = {"closure": EDGES, "edge": EDGES, "bone": EDGES, "waist stay": EDGES}


def making_order(garment: Garment, design: Design) -> tuple[MakingLine, ...]:
    """Every line in order. Where the user has written her own, those lines stand under one heading of no name."""
    if design.sheets.making.strip():
        return tuple(MakingLine("", line.strip()) for line in design.sheets.making.splitlines() if line.strip())
    pieces = finish(design, garment)
    found = [*_prepare(pieces, design), *_darts(pieces)]
    found += sorted(_seams(pieces, garment, design), key=lambda line: _STAGES.index(line.stage))
    found += [*_edges(pieces, garment, design), *_last(pieces, garment)]
    return tuple(found)


_STAGES: Final = (PANELS, CUPS, SHEER, WHOLE, LINING)


def making_text(lines: Sequence[MakingLine]) -> str:
    """The order as text to be edited, a line each."""
    return "\n".join(line.text for line in lines)


def _prepare(pieces: Sequence[Finished], design: Design) -> Iterator[MakingLine]:
    every = tuple(piece.number for piece in pieces)
    cut = "Cut by the cutting list, grain lines with the selvedge; snip notches no deeper than half the allowance."
    yield MakingLine(PREPARE, cut, every, BLADE)
    by_name = {piece.name: piece.number for piece in pieces}
    for line in sewing_list(pieces, design):
        if line.kind == "stay tape":
            yield MakingLine(PREPARE, line.words, (by_name[line.piece],))
    for piece in pieces:
        if piece.doubled:
            for words in turning_words(piece.doubled, piece.piece, design.unit):
                yield MakingLine(PREPARE, words, (piece.number,))
        yield from (MakingLine(PREPARE, words, (piece.number,), caution) for words, caution in preparing_words(piece))


def _darts(pieces: Sequence[Finished]) -> Iterator[MakingLine]:
    for piece in pieces:
        for dart in piece.piece.darts:
            yield MakingLine(DARTS, dart_words(piece, dart), (piece.number,))


# --------------------------------------------------------------------------------------------------------------
# seams


def _seams(pieces: Sequence[Finished], garment: Garment, design: Design) -> Iterator[MakingLine]:
    by_name = {piece.name: piece for piece in pieces}
    for found in sorted(matches(garment), key=lambda match: _rank(match, by_name)):
        if found.a and found.b:
            stage = _stage(found, by_name)
            words, caution = seam_words(found, by_name, design.unit, is_sound=verdict(found.difference) != "wrong")
            numbers = tuple(sorted({by_name[name].number for name in found.pieces}))
            yield MakingLine(stage, words, numbers, caution)


def _roles(found: Match, pieces: Mapping[str, Finished]) -> set[str]:
    return {pieces[name].fabric.role for name in found.pieces}


def _blocks(found: Match, pieces: Mapping[str, Finished]) -> set[str]:
    return {pieces[name].piece.block for name in found.pieces}


def _stage(found: Match, pieces: Mapping[str, Finished]) -> str:
    roles = _roles(found, pieces)
    if roles == {"cup"} or _blocks(found, pieces) == {"cup"}:
        return CUPS
    if roles == {"lining"}:
        return LINING
    if len(_blocks(found, pieces)) > 1:
        return WHOLE
    return SHEER if "sheer" in roles and len(roles) > 1 else PANELS


def _rank(found: Match, pieces: Mapping[str, Finished]) -> tuple[int, int]:
    """The order within a stage: shoulders before sides, then by the lowest number that is sewn."""
    is_shoulder = any(span.edge.endswith("shoulder") for span in (*found.seam.a, *found.seam.b))
    return (0 if is_shoulder else 1, min(pieces[name].number for name in found.pieces))


# --------------------------------------------------------------------------------------------------------------
# edges and what is last


def _edges(pieces: Sequence[Finished], garment: Garment, design: Design) -> Iterator[MakingLine]:
    by_name = {piece.name: piece.number for piece in pieces}
    found = sewing_list(pieces, design)
    for line in found:
        if line.kind in FINISHES:
            numbers = (by_name[line.piece],) if line.piece in by_name else ()
            yield MakingLine(FINISHES[line.kind], line.words, numbers, BONING if line.kind == "bone" else "")
    has_closure = any(line.kind == "closure" for line in found)
    for name, reason in garment.open_edges.items():
        if "closed by" in reason and not has_closure:
            yield MakingLine(EDGES, f"Put the closure into the {spoken(name)}: it is {reason}.")
    yield from _free_edges(pieces)
    hems = tuple(piece.number for piece in pieces if any(edge.use == "hem" for edge in piece.edges.values()))
    if hems:
        yield MakingLine(EDGES, f"Turn back and slip-stitch the hems of {numbered(hems)}.", hems)


def _free_edges(pieces: Sequence[Finished]) -> Iterator[MakingLine]:
    """Necks and armholes: those of cloth, those that a lining is felled to, those of net. A lining's own wait."""
    lined = {edge.origin.edge.partition(".")[2] for piece in pieces if _is_lining(piece) for edge in piece.piece.edges}
    found: dict[Callable[[Sequence[str]], str], list[tuple[Finished, FinishedEdge]]]
    found = {cloth_edge_words: [], lined_edge_words: [], net_edge_words: []}
    for piece in pieces:
        if not piece.doubled and not _is_lining(piece):
            for edge in filter(_is_free, piece.edges.values()):
                over = lined_edge_words if edge.edge.origin.edge in lined else cloth_edge_words
                found[net_edge_words if piece.fabric.role == "sheer" else over].append((piece, edge))
    for words, held in found.items():
        if held:
            named = [f"{spoken(edge.edge.name)} of {piece.number} {piece.name}" for piece, edge in held]
            yield MakingLine(EDGES, words(named), tuple(dict.fromkeys(piece.number for piece, _ in held)))


def _is_lining(piece: Finished) -> bool:
    return piece.fabric.role == "lining" and piece.piece.block != "cup"


def _is_free(edge: FinishedEdge) -> bool:
    """Whether it is a neck or an armhole about whose finish nothing is said."""
    return edge.edge.kind == "opening" and edge.use == "plain"


def _last(pieces: Sequence[Finished], garment: Garment) -> Iterator[MakingLine]:
    linings = tuple(piece.number for piece in pieces if _is_lining(piece))
    if linings:
        yield MakingLine(LAST, lining_words(linings), linings)
    waists = [name for name, reason in garment.open_edges.items() if "skirt" in reason]
    if waists:
        yield MakingLine(LAST, "Join the skirt to the waist edge, side seams and centre lines meeting.")
    cups = tuple(piece.number for piece in pieces if piece.piece.block == "cup")
    if cups:
        yield MakingLine(
            LAST, cup_words(cups, has_foam=any(piece.fabric.role == "interlining" for piece in pieces)), cups
        )
    yield MakingLine(LAST, "Press once more, and try the bodice on before the last hand stitches are made.", (), PINS)
