"""A design on another body, ease or block: what of it follows, and what cannot, step by step."""

from __future__ import annotations

from typing import Final

import msgspec
from msgspec.structs import replace

from core.body.body import Body
from core.design.design import Design
from core.design.replay import Refused, Replay, replay
from core.steps.move_edge import MoveEdge
from core.steps.slash import SlashAndSpread
from core.steps.take_in import TakeIn

PINNED: Final = (TakeIn, SlashAndSpread, MoveEdge)
"""The kinds of steps that a fitting makes."""


class Followed(msgspec.Struct, frozen=True, eq=False):
    """The design with what cannot follow switched off, its replay, and each of those steps with its reason."""

    design: Design
    done: Replay
    lost: tuple[Refused, ...]


def pinned(design: Design) -> tuple[str, ...]:
    """The ids of steps that were pinned on the client's toile: another body may want none of them."""
    done = (step for step in design.steps if step.id not in design.off)
    return tuple(step.id for step in done if isinstance(step, PINNED) and step.fitting is not None)


def for_another(design: Design, body: Body) -> Design:
    """The style as a design of another client's own: without the notes of the first one's fitting."""
    return replace(design, body=body, sheets=replace(design.sheets, fitting=""))


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
