"""A demo's style put on other bodies, and the laws that its panels, seams and darts hold there."""

from __future__ import annotations

from dataclasses import dataclass

import msgspec

from core.body.body import Body
from core.design.design import Design
from core.design.replay import Replay, replay
from core.errors import Refusal
from core.geometry.placement import gap
from core.geometry.planar import is_simple_loop
from core.pieces.outline import cloth_area
from core.pieces.seams import matches


@dataclass(frozen=True, slots=True)
class Laws:
    """What a redraft leaves over: names of panels that cross themselves or hold no cloth, and mm."""

    spoilt: tuple[str, ...]
    seam: float
    """The worst seam's difference."""
    legs: float
    """The worst difference between a dart's two legs."""


def redrafted(design: Design, body: Body) -> Replay:
    """The design on a body; Refusal of the draft, or of the first step that cannot follow."""
    done = replay(msgspec.structs.replace(design, body=body))
    if done.refused:
        raise Refusal(f"{done.refused.step_id}: {done.refused.sentence}")
    return done


def laws_of(done: Replay) -> Laws:
    """Measured on the pieces after the last step."""
    pieces = done.garment.pieces.values()
    spoilt = tuple(piece.name for piece in pieces if not is_simple_loop(piece.loop) or cloth_area(piece) <= 0.0)
    legs = [abs(gap(dart.pivot, dart.legs[0]) - gap(dart.pivot, dart.legs[1])) for p in pieces for dart in p.darts]
    seams = [abs(match.difference) for match in matches(done.garment)]
    return Laws(spoilt, max(seams, default=0.0), max(legs, default=0.0))
