"""What a cutter would stop at: cloth too narrow, allowances missing or meddling, grain, layers, gaps without room."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import cos, degrees, isfinite, pi, sin
from typing import Final

import msgspec
import numpy as np

from core.checks.other_half import lacking_other_half
from core.checks.verdict import SIGNS, Verdict
from core.design.design import Design
from core.design.finishes import Finishing
from core.design.replay import Replay
from core.errors import Refusal
from core.fabrics.catalogue import Fabric
from core.finishing.finish import NO_GRAIN, Finished, finish
from core.geometry.planar import farthest_apart
from core.geometry.tolerances import CHECK, GOOD
from core.pieces.mirroring import prefixed
from core.pieces.names import spoken, spoken_in_full
from core.pieces.records import CutKind, Edge, Garment
from core.pieces.seams import Link, matches
from core.steps.copy_pieces import CopyPieces
from core.units import Unit, show_angle, show_length

FRAYS: Final = 5.0
"""Percent: cloth that stretches less both ways is woven and frays; mesh and net do not (trade.md D1)."""

LEAST: Final = 3.0
"""mm: a woven edge that is sewn with less outside it frays out of the seam (common practice)."""

SAME: Final = 0.5
"""mm: mates of one cloth whose allowances differ by more have cut edges that do not meet."""

CROSS: Final = pi / 6
"""Mates whose grain lies more than 30 degrees apart hang and give differently (trade.md D6; the figure is our own)."""


CUT_WORDS: Final[Mapping[CutKind, str]] = {"fold": "on the fold", "pair": "as a pair", "single": "once"}


class CuttingCheck(msgspec.Struct, frozen=True):
    """One thing to look at: its verdict, a sentence that names piece, edge and way out, and where it is."""

    verdict: Verdict
    sentence: str
    piece: str = ""
    edge: str = ""

    @property
    def sign(self) -> str:
        """The verdict's sign."""
        return SIGNS[self.verdict]


def cutting_checks(replay: Replay) -> tuple[CuttingCheck, ...]:
    """All that a cutter would stop at in the garment as it is; nothing where there is nothing to say.

    A garment whose pieces cannot be finished, as their fabric is not there, has other faults first and says nothing.
    """
    design, garment = replay.design, replay.garment
    first = (*_without_grain(garment), *not_flat(garment, design), *_halves(garment))
    try:
        pieces = finish(design, garment)
    except Refusal:
        return first
    return (
        *first,
        *_widths(pieces, design.unit),
        *_allowances(pieces, design.unit),
        *_mates(garment, pieces, design.unit),
        *_layers(garment, design),
        *_numbers(pieces),
        *_lost(garment, design.finishing),
    )


# --------------------------------------------------------------------------------------------------------------
# each piece


def _without_grain(garment: Garment) -> Iterator[CuttingCheck]:
    """Pieces without a grain line: nothing can be laid out or finished before they have one."""
    for name, piece in garment.pieces.items():
        if not isfinite(piece.grain):
            yield CuttingCheck("wrong", NO_GRAIN.format(name), name)


def not_flat(garment: Garment, design: Design) -> Iterator[CuttingCheck]:
    """The darts that stand open in pieces cut from a sheer cloth, which must lie flat (cutting.md 2)."""
    sheer = {fabric.name for fabric in design.fabrics if fabric.role == "sheer"}
    for piece in (piece for piece in garment.pieces.values() if piece.fabric in sheer):
        for dart in piece.darts:
            yield CuttingCheck(
                "check",
                f"The {spoken(dart.name)} ({show_angle(dart.angle)}) is open in the {piece.name}, and a sheer panel "
                f"lies flat: flatten it, pivot the dart into the main fabric before the panel is cut, or move the "
                f"sheer line through its pivot.",
                piece.name,
            )


def _halves(garment: Garment) -> Iterator[CuttingCheck]:
    """Pieces that are cut once for one half of the body, and the other half has none."""
    for name, half in lacking_other_half(garment):
        other = "left" if half == "right" else "right"
        yield CuttingCheck(
            "wrong",
            f"Piece {name} is cut once only, for the wearer's {half}, and her {other} half has none: copy the piece of "
            f"her {other} half as well, or take out the step that left it alone.",
            name,
        )


def _widths(pieces: Sequence[Finished], unit: Unit) -> Iterator[CuttingCheck]:
    """Pieces that are wider across the grain than their fabric."""
    for piece in pieces:
        wide, room = width_across(piece), piece.fabric.usable_width
        if wide > room:
            yield CuttingCheck(
                "wrong",
                f"Piece {piece.name} is {show_length(wide, unit)} wide across the grain, and {piece.fabric.name} has "
                f"only {show_length(room, unit)}; divide it by a seam, turn its grain or take wider cloth.",
                piece.name,
            )


def width_across(piece: Finished) -> float:
    """How wide a piece is across its grain in mm, as it lies on the open cloth: both halves of one cut on the fold."""
    across = np.array((-sin(piece.piece.grain), cos(piece.piece.grain)))
    off = piece.cutting_line @ across
    return float(np.ptp(off)) * (2.0 if piece.piece.cut == "fold" else 1.0)


def _allowances(pieces: Sequence[Finished], unit: Unit) -> Iterator[CuttingCheck]:
    """Sewn edges of cloth that frays without an allowance, and edges that must be cut on their line and are not."""
    for piece in pieces:
        for edge in piece.edges.values():
            least = min(part.allowance for part in edge.stretches)
            where = f"{spoken(edge.edge.name)} of piece {piece.name}"
            if edge.edge.name in piece.mates and _frays(piece.fabric) and edge.use == "plain" and least < LEAST:
                yield CuttingCheck(
                    "check",
                    f"The {where} is sewn with {show_length(least, unit)} outside it and would fray; give it more.",
                    piece.name,
                    edge.edge.name,
                )
            if edge.use == "lapped raw" and max(part.allowance for part in edge.stretches) > 0.0:
                yield CuttingCheck(
                    "check",
                    f"The {where} is to be lapped raw and has {show_length(edge.allowance, unit)} outside it; cut it "
                    f"on its line, or finish it otherwise.",
                    piece.name,
                    edge.edge.name,
                )


def _frays(fabric: Fabric) -> bool:
    return max(fabric.stretch_along, fabric.stretch_across) < FRAYS and fabric.role != "interlining"


# --------------------------------------------------------------------------------------------------------------
# pieces together


def _mates(garment: Garment, pieces: Sequence[Finished], unit: Unit) -> Iterator[CuttingCheck]:
    """Edges sewn together whose cut edges do not meet, or whose grain lies another way."""
    finished = {piece.name: piece for piece in pieces}
    for found in matches(garment):
        for a, b in _neighbours(found.a, found.b):
            words = spoken_in_full(found.seam.name)
            fabrics = [finished[link.piece.name].fabric for link in (a, b)]
            given = [finished[link.piece.name].allowances[link.edge.name] for link in (a, b)]
            if fabrics[0] == fabrics[1] and abs(given[0] - given[1]) > SAME:
                shown = [show_length(one, unit) for one in given]
                yield CuttingCheck(
                    "check",
                    f"In the seam {words} {a.piece.name} has {shown[0]} outside it and {b.piece.name} {shown[1]}; give "
                    f"both the same, or mind that their cut edges do not meet.",
                    a.piece.name,
                    a.edge.name,
                )
            turned = abs(_off_grain(a) - _off_grain(b))
            if all(_frays(fabric) for fabric in fabrics) and turned > CROSS:
                yield CuttingCheck(
                    "check",
                    f"In the seam {words} the grain of {a.piece.name} and {b.piece.name} lies {degrees(turned):.0f} "
                    f"degrees apart; turn the grain of one.",
                    a.piece.name,
                    a.edge.name,
                )


def _neighbours(a: Sequence[Link], b: Sequence[Link]) -> Iterator[tuple[Link, Link]]:
    """Links of both sides that lie beside each other for the most part, each pair of pieces once."""
    seen = set()
    reached = 0.0
    for link in a:
        middle, along = reached + link.edge.length / 2, 0.0
        reached += link.edge.length
        for other in b:
            along += other.edge.length
            if middle <= along or other is b[-1]:
                if (link.piece.name, other.piece.name) not in seen:
                    seen.add((link.piece.name, other.piece.name))
                    yield link, other
                break


def _off_grain(link: Link) -> float:
    """The angle between an edge's chord and its piece's grain, 0 to a quarter turn, in radians."""
    dx, dy = link.edge.points[-1] - link.edge.points[0]
    turn = float(np.mod(np.arctan2(dy, dx) - link.piece.grain, pi))
    return min(turn, pi - turn)


def _layers(garment: Garment, design: Design) -> Iterator[CuttingCheck]:
    """Layers whose seams do not lie on those of the piece that they lie on."""
    for step in design.steps:
        if not isinstance(step, CopyPieces):
            continue
        for name, copy in zip(step.pieces, step.names, strict=True):
            if name not in garment.pieces or copy not in garment.pieces:
                continue
            ways = [garment.pieces[one].cut for one in (name, copy)]
            if ways[0] != ways[1]:
                yield CuttingCheck(
                    "wrong",
                    f"Piece {copy} is cut {CUT_WORDS[ways[1]]} and the {name} that it lies on {CUT_WORDS[ways[0]]}, so "
                    f"that their numbers differ; copy it afresh.",
                    copy,
                )
                continue
            apart, edge = _apart(garment, name, copy, step.word)
            if apart > GOOD:
                yield CuttingCheck(
                    "wrong" if apart > CHECK else "check",
                    f"The {spoken(edge)} of {copy} lies {show_length(apart, design.unit)} off that of {name}, and the "
                    f"seam of one shows through the other; copy it afresh.",
                    copy,
                    edge,
                )


def _apart(garment: Garment, name: str, copy: str, word: str) -> tuple[float, str]:
    """How far in mm the farthest edge of a copy lies from that of its piece, and which edge."""
    layer = {(edge.origin.edge, edge.origin.side): edge for edge in garment.pieces[copy].edges}
    worst: tuple[float, str] = (0.0, "")
    for edge in garment.pieces[name].edges:
        other = layer.get((prefixed(edge.origin.edge, word), edge.origin.side))
        if other is not None and edge.kind != "dart base":
            worst = max(worst, (farthest_apart(edge.points, other.points), other.name))
    return worst


def _numbers(pieces: Sequence[Finished]) -> Iterator[CuttingCheck]:
    for first, second in combinations(pieces, 2):
        if first.number == second.number:
            yield CuttingCheck(
                "wrong", f"Pieces {first.name} and {second.name} both have the number {first.number}.", second.name
            )


# --------------------------------------------------------------------------------------------------------------
# what is said and holds no more


def _lost(garment: Garment, finishing: Finishing) -> Iterator[CuttingCheck]:
    """Finishes of edges that are gone, and turning gaps that have no room any more."""
    for finish_ in finishing.edges:
        if not _holds(garment, finish_.piece, (finish_.edge, finish_.side)):
            yield CuttingCheck(
                "check",
                f"The finish of the {spoken(finish_.edge)} of piece {finish_.piece} has lost its edge; finish the edge "
                f"that is there now.",
                finish_.piece,
            )
    for doubled in finishing.doubled:
        edges = _holds(garment, doubled.piece, (doubled.through, doubled.side))
        if not any(edge.length >= doubled.gap for edge in edges):
            yield CuttingCheck(
                "wrong",
                f"Piece {doubled.piece} is to be turned through its {spoken(doubled.through)}, where there is no room "
                f"for the gap now; choose another place.",
                doubled.piece,
            )


def _holds(garment: Garment, piece: str, origin: tuple[str, str]) -> list[Edge]:
    if piece not in garment.pieces:
        return []
    return [
        e for e in garment.pieces[piece].edges if (e.origin.edge, e.origin.side) == origin and e.kind != "dart base"
    ]
