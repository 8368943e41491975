"""A design on another body, ease or block: what of it follows, and what cannot, step by step."""

from __future__ import annotations

from dataclasses import dataclass

from msgspec.structs import replace

from core.design.design import Design
from core.design.replay import Refused, Replay, replay


@dataclass(frozen=True, eq=False, slots=True)
class Followed:
    """The design with what cannot follow switched off, its replay, and each of those steps with its reason."""

    design: Design
    done: Replay
    lost: tuple[Refused, ...]


def followed(design: Design, previous: Replay | None = None) -> Followed:
    """Replay a design, switching off each step that refuses in turn.

    The first has its own reason; those after it may only refuse because they need it. Refusal when no block drafts.
    """
    lost: list[Refused] = []
    done = replay(design, previous)
    while done.refused:
        lost.append(done.refused)
        design = replace(design, off=(*design.off, done.refused.step_id))
        done = replay(design, done)
    return Followed(design, done, tuple(lost))
