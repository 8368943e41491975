"""The pieces of a garment as plain data, so that other programs can check them: the format of `pieces --json`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import degrees
from typing import Any, Final

import msgspec

from core.body.body import complete
from core.checks.verdict import verdict
from core.design.design import Design
from core.design.replay import Replay, Stage
from core.finishing.allowances import FinishedEdge
from core.finishing.finish import Finished, finish
from core.geometry.polyline import Points
from core.pieces.easing import eased_on, limits_on
from core.pieces.records import Dart, Eased, Edge
from core.pieces.seams import Link, Match, matches

SCHEMA: Final = 1
DECIMALS: Final = 6
"""Lengths are written to a millionth of a millimetre: far below what can be drawn, and the same on every machine."""


def pieces_document(design: Design, replay: Replay, after: str | None = None) -> dict[str, Any]:
    """Body, pieces, seams and stages of a design, in mm in the frame of the block.

    `after` names the step after which the garment is shown; the last one that could be done when it is None. Refusal
    when that step is not there or could not be done, and, without `after`, when any step could not.
    """
    garment = replay.checked().garment if after is None else replay.after(after)
    pieces = finish(design, garment)
    measured = complete(design.body)
    return {
        "schema": SCHEMA,
        "units": "mm",
        "body": {id_: _number(value) for id_, value in measured.values.items()},
        "estimated": sorted(measured.estimated),
        "ease": msgspec.to_builtins(design.ease),
        "landmarks": {piece.name: _landmarks(piece) for piece in pieces},
        "pieces": [_piece(piece, garment.open_edges) for piece in pieces],
        "seams": [_seam(found) for found in matches(garment)],
        "stages": [_stage(stage, design) for stage in _stages(replay.stages, after)],
    }


def _stages(stages: Sequence[Stage], after: str | None) -> Sequence[Stage]:
    """The stages up to and with a step."""
    ids = [stage.step.id for stage in stages]
    return stages if after is None else stages[: ids.index(after) + 1]


def _number(value: float) -> float:
    """The value to a millionth, without a minus before nought."""
    return round(float(value), DECIMALS) + 0.0


def _point(place: Sequence[float] | Points) -> list[float]:
    return [_number(place[0]), _number(place[1])]


def _points(points: Points) -> list[list[float]]:
    return [_point(place) for place in points.tolist()]


def _landmarks(finished: Finished) -> Mapping[str, list[float]]:
    return {name: _point(place) for name, place in finished.piece.landmarks.items()}


def _piece(finished: Finished, open_edges: Mapping[str, str]) -> dict[str, Any]:
    """A piece; `eased` (what is sewn as ease or gathers along its edges) is there only where it says something."""
    piece = finished.piece
    row: dict[str, Any] = {
        "name": piece.name,
        "number": finished.number,
        "fabric": finished.fabric.name,
        "role": finished.fabric.role,
        "layers": finished.layers,
        "cut": piece.cut,
        "grain": [_point(end) for end in finished.grain],
        "edges": [_edge(finished.edges[edge.name], open_edges) for edge in piece.edges],
        "cutting_line": _points(finished.cutting_line),
        "darts": [_dart(dart) for dart in piece.darts],
        "notches": [{"edge": notch.edge, "at_mm": _number(notch.at)} for notch in finished.notches],
        "area_mm2": _number(finished.area),
    }
    eased = [_eased(edge, held) for edge in piece.edges for held in eased_on(piece, edge)]
    return {**row, "eased": eased} if eased else row


def _eased(edge: Edge, held: Eased) -> dict[str, Any]:
    """A stretch from the edge's first point on, and how much longer it is than it is sewn."""
    first, last = limits_on(edge, held)
    return {
        "edge": edge.name,
        "from_mm": _number(first),
        "to_mm": _number(last),
        "amount_mm": _number(held.amount),
        "kind": held.kind,
    }


def _edge(edge: FinishedEdge, open_edges: Mapping[str, str]) -> dict[str, Any]:
    """An edge; where stretches of it have allowances of their own, `allowance` is the smallest and all are listed.

    `finish`, `open` (why nothing is sewn there) and `allowances` are there only where they say something.
    """
    row: dict[str, Any] = {
        "name": edge.edge.name,
        "kind": edge.edge.kind,
        "allowance": _number(min(part.allowance for part in edge.stretches)),
        "points": _points(edge.edge.points),
    }
    if edge.use != "plain":
        row["finish"] = edge.use
    if edge.edge.kind == "seam" and edge.edge.origin.edge in open_edges:
        row["open"] = open_edges[edge.edge.origin.edge]
    if len(edge.stretches) > 1:
        row["allowances"] = [
            {"from_mm": _number(part.start), "to_mm": _number(part.stop), "allowance": _number(part.allowance)}
            for part in edge.stretches
        ]
    return row


def _dart(dart: Dart) -> dict[str, Any]:
    return {
        "name": dart.name,
        "pivot": _point(dart.pivot),
        "point": _point(dart.point),
        "legs": [_point(leg) for leg in dart.legs],
        "angle_deg": _number(degrees(dart.angle)),
        "edge": dart.base,
    }


def _seam(found: Match) -> dict[str, Any]:
    whole = bool(found.a) and bool(found.b)
    return {
        "name": found.seam.name,
        "a": _chain(found.a),
        "b": _chain(found.b),
        "length_a_mm": _number(found.length_a),
        "length_b_mm": _number(found.length_b),
        "ease_mm": _number(found.seam.ease),
        "difference_mm": _number(found.difference),
        "verdict": verdict(found.difference) if whole else "wrong",
    }


def _chain(chain: Sequence[Link]) -> list[dict[str, Any]]:
    return [{"piece": link.piece.name, "edge": link.edge.name, "reversed": link.reversed} for link in chain]


def _stage(stage: Stage, design: Design) -> dict[str, Any]:
    return {
        "step": stage.step.id,
        "kind": stage.step.__struct_config__.tag,
        "sentence": stage.sentence(design.unit),
        "pieces": list(stage.garment.pieces),
    }
