"""What is bought and marked for edges: closures, gaps, bindings, tapes, bones and stays, each one line of a list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, Literal, TypeAlias

import msgspec

from core.body.body import complete
from core.design.design import Design
from core.design.finishes import EdgeUse
from core.finishing.allowances import FinishedEdge
from core.finishing.edge_marks import EdgeMark
from core.finishing.finish import Finished
from core.finishing.stay_tape import stay_tapes
from core.finishing.turning import turning_words
from core.pieces.names import RIGHT, is_right, spoken
from core.units import Unit, show_length

LineKind: TypeAlias = Literal["closure", "edge", "turning", "stay tape", "bone", "waist stay"]

ZIP_LOSES: Final = 25.0
"""An invisible zip opens 2.5 cm less than it is long (a maker's brochure, at second hand, trade.md D1)."""

BINDING_ENDS: Final = 40.0
"""mm of binding for turning in both ends (common practice)."""

STAY_ENDS: Final = 50.0
"""mm of ribbon for hemming and closing both ends of a waist stay (common practice)."""


_WORDS: Final[Mapping[EdgeUse, tuple[LineKind, str]]] = {
    "zip": ("closure", "Zip at the {where}: it opens {long}; an invisible one is {zip} or longer, and is cut down."),
    "buttons": ("closure", "Buttons at the {where}: over {long}, on a stand of {stand} that is turned back."),
    "binding": ("edge", "Binding for the {where}: {strip} for {long} of edge."),
    "facing": ("edge", "Facing along the {where}: {long}, cut to the shape of the edge."),
    "lapped raw": ("edge", "Raw edge at the {where}: cut on its line and laid over its mate, {long}."),
    "turning gap": ("turning", "Turning gap in the {where}: {long}, closed by hand."),
}


class SewingLine(msgspec.Struct, frozen=True):
    """One line: what it is for, the piece and edge by name, how long it is in mm (0: no length) and how often."""

    kind: LineKind
    piece: str
    edge: str
    words: str
    length: float = 0.0
    count: int = 1


def sewing_list(pieces: Sequence[Finished], design: Design) -> tuple[SewingLine, ...]:
    """Every line for the pieces of a design, in their order. Refusal for a body that no block could be drafted for."""
    unit = design.unit
    lines = [line for piece in pieces for line in (*_edges(piece, unit, _closed(pieces)), *_turning(piece, unit))]
    lines += [_bone_line(piece, mark, unit) for piece in pieces for mark in piece.marks if mark.kind == "bone"]
    lines += list(_tapes(pieces, unit))
    if design.finishing.waist_stay:
        length = complete(design.body).values["waist"] + STAY_ENDS
        words = f"Waist stay: {show_length(length, unit)} of firm ribbon, hooked at the waist line."
        lines.append(SewingLine("waist stay", "", "waist", words, length))
    return tuple(lines)


def _closed(pieces: Sequence[Finished]) -> frozenset[str]:
    """The origins of edges on the left half, or over both, that a closure is put into."""
    edges = (edge for piece in pieces for edge in piece.edges.values() if _closes(edge))
    return frozenset(edge.edge.origin.edge for edge in edges if not is_right(edge.edge.origin.edge))


def _closes(edge: FinishedEdge) -> bool:
    return edge.use in _WORDS and _WORDS[edge.use][0] == "closure"


def _edges(piece: Finished, unit: Unit, closed: frozenset[str]) -> Iterator[SewingLine]:
    """The lines of a piece's edges; a closure joins both halves and is bought once, for the left one."""
    for edge in piece.edges.values():
        origin = edge.edge.origin.edge
        is_bought = is_right(origin) and _closes(edge) and origin.removeprefix(f"{RIGHT}.") in closed
        line = None if is_bought else _edge_line(piece, edge, unit)
        if line is not None:
            yield line


def _edge_line(piece: Finished, edge: FinishedEdge, unit: Unit) -> SewingLine | None:
    """What a finish asks for; a piece that is cut on the fold has the edge twice, as one."""
    if edge.use not in _WORDS:
        return None
    kind, words = _WORDS[edge.use]
    long = edge.edge.length * (2 if piece.piece.cut == "fold" else 1)
    lengths = {
        "long": long,
        "zip": long + ZIP_LOSES,
        "strip": long + BINDING_ENDS,
        "stand": edge.finish.extension if edge.finish else 0.0,
    }
    shown = {name: show_length(length, unit) for name, length in lengths.items()}
    said = words.format(where=f"{spoken(edge.edge.name)} of {piece.number} {piece.name}", **shown)
    length = lengths["strip"] if edge.use == "binding" else long
    count = 2 if piece.piece.cut == "pair" and kind != "closure" else 1
    return SewingLine(kind, piece.name, edge.edge.name, said, length, count)


def _turning(piece: Finished, unit: Unit) -> Iterator[SewingLine]:
    if piece.doubled is not None:
        for words in turning_words(piece.doubled, piece.piece, unit):
            yield SewingLine("turning", piece.name, "", words)


def _bone_line(piece: Finished, mark: EdgeMark, unit: Unit) -> SewingLine:
    long = mark.stop - mark.start
    count = 2 if piece.piece.cut == "pair" else 1
    words = (
        f"Bone along the {spoken(mark.edge)} of {piece.number} {piece.name}: {show_length(long, unit)}; "
        f"cut {count}, and cap both ends."
    )
    return SewingLine("bone", piece.name, mark.edge, words, long, count)


def _tapes(pieces: Sequence[Finished], unit: Unit) -> Iterator[SewingLine]:
    numbers = {piece.name: piece.number for piece in pieces}
    for tape in stay_tapes(pieces):
        where = f"{spoken(tape.edge)} of {numbers[tape.piece]} {tape.piece}"
        words = (
            f"Stay tape, {show_length(tape.wide, unit)} wide, for the {where}: "
            f"{show_length(tape.length, unit)} on an edge of {show_length(tape.edge_length, unit)}; cut {tape.count}."
        )
        yield SewingLine("stay tape", tape.piece, tape.edge, words, tape.length, tape.count)
