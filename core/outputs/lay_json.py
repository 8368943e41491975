"""Lay plans as plain data: the format of `lay --json`.

A place p of a piece's cutting line, its x negated where it is mirrored, lies on the cloth at p turned by `turn` degrees
and shifted by (x, y) mm. x runs along the cloth, y from a selvedge or, on folded cloth, from the fold. An unfolded
piece has its other half over its fold too.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from core.outputs.lay_plan import Laid, Lay
from core.outputs.lay_plans import FabricPlan

SCHEMA: Final = 1
DECIMALS: Final = 6


def lays_document(plans: Sequence[FabricPlan]) -> dict[str, Any]:
    """Every fabric with its proposed lay, and how long the others are."""
    return {
        "schema": SCHEMA,
        "units": "mm",
        "designs": list(plans[0].names) if plans else [],
        "lays": [_plan(plan) for plan in plans],
    }


def _plan(plan: FabricPlan) -> dict[str, Any]:
    lay, found = plan.lay, plan.needed()
    return {
        "fabric": lay.fabric.name,
        "cloth": lay.fabric.cloth,
        **_lay(lay),
        "gap": lay.choices.gap,
        "to_buy": _number(found.to_buy),
        "price": None if found.price is None else round(found.price, 2),
        "currency": lay.fabric.currency,
        "placements": [_placement(piece) for piece in lay.laid],
        "others": [_lay(other) for other in plan.lays[1:]],
    }


def _lay(lay: Lay) -> dict[str, Any]:
    return {
        "model": lay.model,
        "width": _number(lay.fabric.usable_width),
        "length": _number(lay.length),
        "density": _number(lay.used),
    }


def _placement(piece: Laid) -> dict[str, Any]:
    part = piece.part
    return {
        "design": part.owner,
        "piece": part.name,
        "number": part.finished.number,
        "x": _number(piece.x),
        "y": _number(piece.y),
        "turn": _number(piece.turn),
        "mirrored": piece.mirrored,
        "on_fold": part.on_fold,
        "unfolded": part.finished.piece.cut == "fold" and not part.on_fold,
    }


def _number(value: float) -> float:
    return round(float(value), DECIMALS) + 0.0
